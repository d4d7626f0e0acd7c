//! The naive walk over a formula's tree, by "What a formula means" of LANGUAGE.md section 5.

use std::collections::BTreeSet;

use super::end::{Close, End};
use super::facts::{Given, Values};
use super::grammar::{Sign, Tree};
use super::number::{Joining, Number, Span};
use super::proposal::Proposal;
use super::rules::Rules;
use super::truth::Truth;

/// A check under way.
pub(crate) struct Walk<'w> {
    pub(crate) rules: &'w Rules,
    pub(crate) proposal: &'w Proposal,
    pub(crate) simple: bool,
    pub(crate) close: Close,
}

/// From where a formula is seen.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Seat<'w> {
    pub(crate) about: &'w str,
    pub(crate) cell: Option<usize>,
    pub(crate) group: Option<usize>,
    pub(crate) pack: Option<usize>,
}

/// What a part of a formula is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    Number,
    Choice,
    Text,
    Condition,
}

/// The options that are possible.
struct Options<'w> {
    possible: BTreeSet<&'w str>,
    missing: bool,
}

impl<'w> Walk<'w> {
    /// The seat of one of a subject.
    pub(crate) fn seat(&self, about: &'w str, at: usize) -> Seat<'w> {
        match about {
            "cell" => {
                let groups = self.proposal.groups.as_deref().unwrap_or_default();
                Seat {
                    about,
                    cell: Some(at),
                    group: groups.iter().position(|group| group.cells.contains(&at)),
                    pack: None,
                }
            }
            "group" => Seat {
                about,
                cell: None,
                group: self.proposal.groups.as_ref().map(|_| at),
                pack: None,
            },
            _ => Seat {
                about,
                cell: None,
                group: None,
                pack: (about == "pack").then_some(at),
            },
        }
    }

    /// All that a fold goes over, seen from a seat; none where that is not known.
    pub(crate) fn over(&self, subject: &str, seat: Seat<'w>) -> Option<Vec<Seat<'w>>> {
        let groups = self.proposal.groups.as_ref();
        let inside = |about: &'w str, at: usize| Seat {
            about: seat.about,
            ..self.seat(about, at)
        };
        match (subject, seat.about) {
            ("cell", "group") => Some(
                groups?[seat.group?]
                    .cells
                    .iter()
                    .map(|at| inside("cell", *at))
                    .collect(),
            ),
            ("cell", _) => Some(
                (0..self.proposal.cells.len())
                    .map(|at| inside("cell", at))
                    .collect(),
            ),
            ("pack", _) if self.proposal.packs_open => None,
            ("pack", _) => Some(
                (0..self.proposal.packs.len())
                    .map(|at| inside("pack", at))
                    .collect(),
            ),
            _ => Some((0..groups?.len()).map(|at| inside("group", at)).collect()),
        }
    }

    /// Whether a seat is that of the pack that nobody names.
    pub(crate) fn is_nameless_pack(&self, seat: Seat<'w>) -> bool {
        self.proposal.packs_open
            && seat
                .pack
                .is_some_and(|at| at + 1 == self.proposal.packs.len())
    }

    /// What a name gives, if it is a fact that is given.
    pub(crate) fn given(&self, subject: &str, name: &str, seat: Seat<'w>) -> Option<&'w Given> {
        let proposal = self.proposal;
        let facts = match subject {
            "cell" => &proposal.cells[seat.cell.unwrap()].facts,
            "group" => &proposal.groups.as_ref()?[seat.group?].facts,
            "pack" => &proposal.packs[seat.pack.unwrap()].facts,
            _ => &proposal.singles,
        };
        facts.get(name)
    }

    pub(crate) fn sort(&self, tree: &Tree) -> Sort {
        match tree {
            Tree::Name(subject, word) if subject != "limit" => {
                let name = format!("{subject}.{word}");
                match (
                    self.rules.figures.get(&name),
                    self.rules.defs.get(&name).map(|def| &def.values),
                ) {
                    (Some(figure), _) => self.sort(&figure.is),
                    (None, Some(Values::Choice(_))) => Sort::Choice,
                    (None, Some(Values::Text)) => Sort::Text,
                    (None, Some(Values::YesNo)) => Sort::Condition,
                    _ => Sort::Number,
                }
            }
            Tree::Word(_) => Sort::Choice,
            Tree::YesNo(_)
            | Tree::Not(_)
            | Tree::And(_)
            | Tree::Or(_)
            | Tree::Compare(..)
            | Tree::In(..)
            | Tree::Known(_) => Sort::Condition,
            Tree::Every(..) | Tree::Any(..) => Sort::Condition,
            _ => Sort::Number,
        }
    }

    pub(crate) fn number(&self, tree: &'w Tree, seat: Seat<'w>) -> Number {
        match tree {
            Tree::Number(value) => Number::plain(Span::point(End::near(*value))),
            Tree::Name(subject, word) => self.named(subject, word, seat),
            Tree::Plus(a, b) => self.number(a, seat).plus(self.number(b, seat)),
            Tree::Minus(a, b) => self.number(a, seat).minus(self.number(b, seat)),
            Tree::Times(a, b) => self.number(a, seat).times(self.number(b, seat)),
            Tree::Over(a, b) => self.number(a, seat).over(self.number(b, seat), &self.close),
            Tree::Negative(inner) => self.number(inner, seat).negative(),
            Tree::Abs(inner) => self.number(inner, seat).abs(),
            Tree::Joined(joining, parts) => Number::joined(
                *joining,
                &parts
                    .iter()
                    .map(|part| self.number(part, seat))
                    .collect::<Vec<_>>(),
            ),
            Tree::Fold(joining, body) => self.fold(*joining, body, seat),
            Tree::Distinct(body) => self.distinct(body, seat),
            Tree::Count(subject, body) => self.count(subject, body, seat),
            other => panic!("{other:?} is no number"),
        }
    }

    fn picked(&self, guarded: Number, nominal: Number) -> Number {
        if self.simple { nominal } else { guarded }
    }

    fn named(&self, subject: &'w str, word: &str, seat: Seat<'w>) -> Number {
        if subject == "limit" {
            let limit = &self.rules.limits[word];
            return self.picked(limit.number, limit.nominal);
        }
        let name = format!("{subject}.{word}");
        if name == "build.current" {
            return self.current();
        }
        match self.rules.figures.get(&name) {
            Some(_) if subject == "group" && seat.group.is_none() => Number::missing(Span::WHOLE),
            Some(figure) => self.number(
                &figure.is,
                Seat {
                    about: &figure.about,
                    ..seat
                },
            ),
            None => match self.given(subject, &name, seat) {
                Some(Given::Number(guarded, nominal)) => self.picked(*guarded, *nominal),
                _ => Number::missing(self.rules.defs[&name].domain),
            },
        }
    }

    /// The current from the battery: as given, or the power over the lowest voltage the light still
    /// runs at. Of whole intervals under either acceptance.
    fn current(&self) -> Number {
        let light = |name: &str| match self.proposal.singles.get(name) {
            Some(Given::Number(whole, _)) => Some(*whole),
            _ => None,
        };
        let none = Span {
            low: End::ZERO,
            ..Span::WHOLE
        };
        let (draw, power) = (light("light.draw_current"), light("light.draw_power"));
        match (
            draw,
            power,
            light("light.cut_off"),
            light("light.input_min"),
        ) {
            (Some(draw), ..) => draw,
            (None, Some(power), Some(one), Some(other)) => {
                let made = power.over(
                    Number::joined(Joining::Greatest, &[one, other]),
                    &self.close,
                );
                Number {
                    span: made.span.cut(none),
                    ..made
                }
            }
            (None, Some(power), Some(one), None) | (None, Some(power), None, Some(one)) => {
                Number::missing(Span {
                    high: power.over(one, &self.close).span.high,
                    ..none
                })
            }
            _ => Number::missing(none),
        }
    }

    fn fold(&self, joining: Joining, body: &'w Tree, seat: Seat<'w>) -> Number {
        match self.over(fold_subject(body), seat) {
            // Of nothing only the sum is known.
            Some(seats) if seats.is_empty() && joining == Joining::Sum => {
                Number::plain(Span::exact(0.0))
            }
            Some(seats) if seats.is_empty() => Number::missing(Span::WHOLE),
            Some(seats) => Number::joined(
                joining,
                &seats
                    .iter()
                    .map(|seat| self.number(body, *seat))
                    .collect::<Vec<_>>(),
            ),
            None if joining == Joining::Spread => from(0.0),
            None => Number::missing(Span::WHOLE),
        }
    }

    fn distinct(&self, body: &'w Tree, seat: Seat<'w>) -> Number {
        let Tree::Name(subject, word) = body else {
            panic!("{body:?} is no name")
        };
        let name = format!("{subject}.{word}");
        let Some(seats) = self.over(subject, seat) else {
            return from(1.0);
        };
        let all: Vec<Option<&str>> = seats
            .iter()
            .map(|seat| self.given(subject, &name, *seat).map(word_of))
            .collect();
        let known = all.iter().flatten().collect::<BTreeSet<_>>().len();
        let unknown = all.iter().filter(|value| value.is_none()).count();
        let most = match &self.rules.defs[&name].values {
            Values::Choice(options) => (known + unknown).min(options.len()),
            _ => known + unknown,
        };
        let span = Span {
            low: End::exact(known.max(usize::from(!all.is_empty())) as f64),
            high: End::exact(most as f64),
        };
        Number {
            missing: unknown > 0,
            ..Number::plain(span)
        }
    }

    fn count(&self, subject: &str, body: &'w Tree, seat: Seat<'w>) -> Number {
        let Some(seats) = self.over(subject, seat) else {
            return from(0.0);
        };
        let truths: Vec<Truth> = seats.iter().map(|seat| self.truth(body, *seat)).collect();
        let (yes, no) = (
            truths.iter().filter(|truth| **truth == Truth::Yes).count(),
            truths.iter().filter(|truth| **truth == Truth::No).count(),
        );
        let span = Span {
            low: End::exact(yes as f64),
            high: End::exact((truths.len() - no) as f64),
        };
        let missing = truths
            .iter()
            .filter_map(|truth| truth.doubts())
            .any(|(doubt_yes, doubt_no)| !doubt_yes || !doubt_no);
        Number {
            missing,
            ..Number::plain(span)
        }
    }

    pub(crate) fn truth(&self, tree: &'w Tree, seat: Seat<'w>) -> Truth {
        match tree {
            Tree::YesNo(yes) => Truth::sure(*yes),
            Tree::Not(inner) => self.truth(inner, seat).not(),
            Tree::And(parts) => Truth::and(parts.iter().map(|part| self.truth(part, seat))),
            Tree::Or(parts) => Truth::or(parts.iter().map(|part| self.truth(part, seat))),
            Tree::Compare(sign, a, b) => self.compared(*sign, a, b, seat),
            Tree::In(choice, words) => self.in_list(choice, words, seat),
            Tree::Known(name) => self.known(name, seat),
            Tree::Every(subject, body) => self.each(subject, body, seat, Truth::and),
            Tree::Any(subject, body) => self.each(subject, body, seat, Truth::or),
            Tree::Name(subject, word) => self.named_truth(subject, word, seat),
            other => panic!("{other:?} is no condition"),
        }
    }

    fn each(
        &self,
        subject: &str,
        body: &'w Tree,
        seat: Seat<'w>,
        join: fn(Vec<Truth>) -> Truth,
    ) -> Truth {
        let seats = self.over(subject, seat);
        seats.map_or(Truth::UNMEASURED, |seats| {
            join(seats.iter().map(|seat| self.truth(body, *seat)).collect())
        })
    }

    fn named_truth(&self, subject: &'w str, word: &str, seat: Seat<'w>) -> Truth {
        let name = format!("{subject}.{word}");
        match self.rules.figures.get(&name) {
            Some(_) if subject == "group" && seat.group.is_none() => Truth::UNMEASURED,
            Some(figure) => self.truth(
                &figure.is,
                Seat {
                    about: &figure.about,
                    ..seat
                },
            ),
            None => match self.given(subject, &name, seat) {
                Some(Given::YesNo(yes)) => Truth::sure(*yes),
                _ => Truth::UNMEASURED,
            },
        }
    }

    fn known(&self, name: &Tree, seat: Seat<'w>) -> Truth {
        let Tree::Name(subject, word) = name else {
            panic!("{name:?} is no name")
        };
        if self
            .given(subject, &format!("{subject}.{word}"), seat)
            .is_some()
        {
            Truth::Yes
        } else {
            Truth::UNMEASURED
        }
    }

    fn compared(&self, sign: Sign, a: &'w Tree, b: &'w Tree, seat: Seat<'w>) -> Truth {
        match (self.sort(a), sign) {
            (Sort::Number, _) => self.numbers(sign, self.number(a, seat), self.number(b, seat)),
            (sort, Sign::NotEqual) => self.same(sort, a, b, seat).not(),
            (sort, _) => self.same(sort, a, b, seat),
        }
    }

    fn numbers(&self, sign: Sign, a: Number, b: Number) -> Truth {
        let turned = |answer: Option<bool>| answer.map(|yes| !yes);
        let answer = match sign {
            Sign::AtMost => a.at_most(b, &self.close),
            Sign::AtLeast => b.at_most(a, &self.close),
            Sign::Below => turned(b.at_most(a, &self.close)),
            Sign::Above => turned(a.at_most(b, &self.close)),
            Sign::Equal => a.equals(b, &self.close),
            Sign::NotEqual => turned(a.equals(b, &self.close)),
        };
        Truth::compared(answer, a.missing || b.missing)
    }

    fn same(&self, sort: Sort, a: &'w Tree, b: &'w Tree, seat: Seat<'w>) -> Truth {
        match (sort, a, b) {
            (Sort::Condition, a, Tree::YesNo(yes)) | (Sort::Condition, Tree::YesNo(yes), a) => {
                let truth = self.truth(a, seat);
                if *yes { truth } else { truth.not() }
            }
            (Sort::Choice, ..) => {
                let (a, b) = (self.options(a, seat), self.options(b, seat));
                let answer = if a.possible.is_disjoint(&b.possible) {
                    Some(false)
                } else {
                    (a.possible.len() == 1 && b.possible.len() == 1).then_some(true)
                };
                Truth::compared(answer, a.missing || b.missing)
            }
            _ => match (self.text(a, seat), self.text(b, seat)) {
                (Some(a), Some(b)) => Truth::sure(a == b),
                _ => Truth::UNMEASURED,
            },
        }
    }

    fn in_list(&self, choice: &'w Tree, words: &[String], seat: Seat<'w>) -> Truth {
        let options = self.options(choice, seat);
        let listed = options
            .possible
            .iter()
            .filter(|option| words.iter().any(|word| word == *option))
            .count();
        let answer = if listed == options.possible.len() {
            Some(true)
        } else {
            (listed == 0).then_some(false)
        };
        Truth::compared(answer, options.missing)
    }

    fn options(&self, tree: &'w Tree, seat: Seat<'w>) -> Options<'w> {
        match tree {
            Tree::Word(word) => Options {
                possible: BTreeSet::from([word.as_str()]),
                missing: false,
            },
            Tree::Name(subject, word) => {
                let name = format!("{subject}.{word}");
                match (
                    self.given(subject, &name, seat),
                    &self.rules.defs[&name].values,
                ) {
                    (Some(given), _) => Options {
                        possible: BTreeSet::from([word_of(given)]),
                        missing: false,
                    },
                    (None, Values::Choice(all)) => Options {
                        possible: all.iter().map(String::as_str).collect(),
                        missing: true,
                    },
                    _ => panic!("{name} is no choice"),
                }
            }
            other => panic!("{other:?} is no choice"),
        }
    }

    fn text(&self, tree: &Tree, seat: Seat<'w>) -> Option<&'w str> {
        let Tree::Name(subject, word) = tree else {
            panic!("{tree:?} is no text")
        };
        let name = format!("{subject}.{word}");
        if name == "cell.id" {
            return self.proposal.cells[seat.cell.unwrap()]
                .facts
                .get("cell.id")
                .map(word_of);
        }
        self.given(subject, &name, seat).map(word_of)
    }
}

/// What is missing, but by what it is cannot be less: a spread or count is not below 0, a number of
/// different values not below 1.
fn from(least: f64) -> Number {
    Number::missing(Span {
        low: End::exact(least),
        ..Span::WHOLE
    })
}

fn word_of(given: &Given) -> &str {
    match given {
        Given::Choice(word) | Given::Text(word) => word,
        other => panic!("{other:?} is no word"),
    }
}

/// A fold goes over cells if its body names a fact or figure of a cell, over packs if it names one of
/// a pack, otherwise over groups.
pub(crate) fn fold_subject(body: &Tree) -> &'static str {
    ["cell", "pack"]
        .into_iter()
        .find(|subject| names_one_of(body, subject))
        .unwrap_or("group")
}

fn names_one_of(tree: &Tree, of: &str) -> bool {
    match tree {
        Tree::Name(subject, _) => subject == of,
        Tree::Plus(a, b)
        | Tree::Minus(a, b)
        | Tree::Times(a, b)
        | Tree::Over(a, b)
        | Tree::Compare(_, a, b) => names_one_of(a, of) || names_one_of(b, of),
        Tree::And(parts) | Tree::Or(parts) | Tree::Joined(_, parts) => {
            parts.iter().any(|part| names_one_of(part, of))
        }
        Tree::Not(inner)
        | Tree::Negative(inner)
        | Tree::Abs(inner)
        | Tree::In(inner, _)
        | Tree::Known(inner) => names_one_of(inner, of),
        _ => false,
    }
}
