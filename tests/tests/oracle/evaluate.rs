//! The naive walk over a formula's tree, by "What a formula means" of LANGUAGE.md section 5.

mod compare;
mod fold;

use super::end::{Close, End};
use super::facts::Given;
use super::grammar::Tree;
use super::number::{Joining, Number, Span};
use super::proposal::Proposal;
use super::rules::Rules;
use super::truth::Truth;

pub(crate) use fold::fold_subject;

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
}
