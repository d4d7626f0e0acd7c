//! Folds: over what they go, and what comes of it.

use std::collections::BTreeSet;

use super::{Seat, Walk};
use crate::end::End;
use crate::facts::{Given, Values};
use crate::grammar::Tree;
use crate::number::{Joining, Number, Span};
use crate::truth::Truth;

impl<'w> Walk<'w> {
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

    pub(super) fn fold(&self, joining: Joining, body: &'w Tree, seat: Seat<'w>) -> Number {
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

    pub(super) fn distinct(&self, body: &'w Tree, seat: Seat<'w>) -> Number {
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

    pub(super) fn count(&self, subject: &str, body: &'w Tree, seat: Seat<'w>) -> Number {
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

    pub(super) fn each(
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
}

/// What is missing, but by what it is cannot be less: a spread or count is not below 0, a number of
/// different values not below 1.
fn from(least: f64) -> Number {
    Number::missing(Span {
        low: End::exact(least),
        ..Span::WHOLE
    })
}

pub(super) fn word_of(given: &Given) -> &str {
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
