//! A cell that lies unused: how far its voltage falls, and over what part of its charge.

use super::needs::Need;
use super::reader::{Notes, Reader};
use super::rest;
use crate::class::Classes;
use crate::span::{both, span};
use rules_core::quantity::Interval;

/// Hours of rest before the first reading of a watch, by the meaning of `cell.drift_from`.
const RESTED: f64 = 24.0;

/// The fall of the rest voltage: as noted, and the first reading less the second. Of readings with
/// one meter its share of the value is the same in both, and cancels. Where both ways are given,
/// what both allow; what cannot both be true is an error of the proposal.
pub(super) fn fall(reader: Reader<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let noted = reader.may(Need::DriftFall, cell, notes);
    match (noted, between(reader, cell, notes)) {
        (Some(noted), Some(between)) => both(noted, between),
        (None, None) => {
            notes.lacks(Need::DriftTo);
            None
        }
        (one, other) => one.or(other),
    }
}

/// The first reading less the second.
pub(super) fn between(reader: Reader<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let from = reader.may_measure(Need::DriftFrom, cell, notes);
    let to = reader.may_measure(Need::DriftTo, cell, notes);
    Some((from? - to?).range())
}

/// The charge states that a watch passes, which starts at a voltage and falls so far.
pub(super) fn charges(classes: Classes, from: Interval, fall: Interval) -> Interval {
    let end = span(
        (from.lo() - fall.hi()).min(from.lo()),
        (from.hi() - fall.lo()).max(from.hi()),
    );
    rest::charge_state(classes, end, Some(Interval::point(RESTED))).charge()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::Class;

    /// A nickel cell at 3.80 V holds 55 %, at 3.70 V 44 % (two published cells: 55 and 55 %, 44 and
    /// 44 %, measured open-circuit data set of 2022 and J. Electrochem. Soc. 167 (2020) 080534).
    #[test]
    fn a_watch_passes_the_charges_between_its_ends() {
        let passed = charges(
            Classes::of(Class::Inr),
            Interval::point(3.80),
            Interval::point(0.10),
        );
        assert!(passed.contains(0.55) && passed.contains(0.44), "{passed:?}");
        assert!(
            !passed.contains(0.80) && !passed.contains(0.10),
            "{passed:?}"
        );
    }
}
