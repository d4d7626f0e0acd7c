//! Comparisons of numbers, of words and of conditions.

use std::collections::BTreeSet;

use super::fold::word_of;
use super::{Seat, Sort, Walk};
use crate::facts::Values;
use crate::grammar::{Sign, Tree};
use crate::number::Number;
use crate::truth::Truth;

/// The options that are possible.
struct Options<'w> {
    possible: BTreeSet<&'w str>,
    missing: bool,
}

impl<'w> Walk<'w> {
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

    pub(super) fn compared(&self, sign: Sign, a: &'w Tree, b: &'w Tree, seat: Seat<'w>) -> Truth {
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

    pub(super) fn in_list(&self, choice: &'w Tree, words: &[String], seat: Seat<'w>) -> Truth {
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
