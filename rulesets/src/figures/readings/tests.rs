//! Capacity tests of one cell that cannot both be true.

use super::super::cell_facts;
use super::super::discharge::CapacityTest;
use super::super::margin::{Of, Run, by_test};
use super::super::needs::{ALL, FIRST_TEST, FURTHER_TESTS, TestNeeds};
use super::super::reader::{Notes, Reader};
use crate::class::Classes;
use crate::facts::CELL;
use crate::span::{both, not_known, span};
use rules_core::facts::{Clash, Reading, Unused};
use rules_core::quantity::{Holds, Interval, Kind};

/// The least part of what a test gave that a gentler one gives, no faster, no colder and to no
/// higher an end: what repeating a discharge scatters by, as `margin` has it.
const LEAST_OF_GENTLER: f64 = 0.97;

/// The same where a temperature is not stated: a tenth is left for another room and for testers
/// that do not repeat (common practice, to be verified).
const LEAST_IN_A_ROOM: f64 = 0.9;

/// A test as far as it is told.
struct Told {
    needs: TestNeeds,
    charge: Interval,
    current: Interval,
    cut_off: Interval,
    temperature: Option<Interval>,
}

/// Every two tests of a cell of which the gentler gave surely less than the other.
pub(super) fn clashes(reader: Reader<'_>, cell: usize) -> Vec<Clash> {
    let mut notes = Notes::of(ALL);
    let mut tell = |needs: TestNeeds| {
        Some(Told {
            needs,
            charge: reader.may(needs.charge, cell, &mut notes)?,
            current: reader.may(needs.current, cell, &mut notes)?,
            cut_off: reader.may(needs.cut_off, cell, &mut notes)?,
            temperature: reader.may(needs.temperature, cell, &mut notes),
        })
    };
    let told: Vec<Told> = std::iter::once(FIRST_TEST)
        .chain(FURTHER_TESTS)
        .filter_map(&mut tell)
        .collect();
    let pairs = told
        .iter()
        .enumerate()
        .flat_map(|(at, one)| told.iter().skip(at + 1).map(move |other| (one, other)));
    pairs
        .filter_map(|(one, other)| {
            clash(reader, cell, one, other).or_else(|| clash(reader, cell, other, one))
        })
        .collect()
}

/// Further tests that do not fit the first, of whichever class the cell is: of those no figure takes
/// a bound.
pub(super) fn unfit(reader: Reader<'_>, cell: usize) -> Vec<Unused> {
    let mut notes = Notes::of(ALL);
    let Some(first) = cell_facts::all_of_test(&FIRST_TEST, reader, cell, &mut notes) else {
        return Vec::new();
    };
    let r10 = cell_facts::r10(reader, cell, &mut notes).unwrap_or(not_known());
    let classes = cell_facts::classes(reader, cell, &mut notes).unwrap_or(Classes::ALL);
    let fits = |test: &CapacityTest| {
        classes.iter().any(|class| {
            let of = Of {
                class,
                r10,
                joined: false,
            };
            let run = Run::of(test);
            both(by_test(&of, &first, &run), by_test(&of, test, &run)).is_some()
        })
    };
    let unfit = FURTHER_TESTS.into_iter().filter(|needs| {
        let test = cell_facts::all_of_test(needs, reader, cell, &mut notes);
        test.is_some_and(|test| !fits(&test))
    });
    unfit
        .map(|needs| Unused {
            subject: CELL,
            position: cell,
            facts: reader.id(needs.charge).into_iter().collect(),
            why: "this capacity test gave more than the first one leaves possible, or less; repeat them, and set aside the one that is wrong",
        })
        .collect()
}

fn clash(reader: Reader<'_>, cell: usize, harsher: &Told, gentler: &Told) -> Option<Clash> {
    let implied = span(
        least(harsher, gentler)? * harsher.charge.lo(),
        f64::INFINITY,
    );
    if both(implied, gentler.charge).is_some() {
        return None;
    }
    let reading = |told: &Told, value: Interval| {
        let fact = reader.id(told.needs.charge)?;
        Some(Reading { fact, value })
    };
    Some(Clash {
        subject: CELL,
        position: cell,
        of: "the charge that a gentler test gives",
        kind: Kind::Charge,
        readings: [
            reading(harsher, implied)?,
            reading(gentler, gentler.charge)?,
        ],
    })
}

/// The least part of the one that the other gives, if that is surely the gentler one.
fn least(harsher: &Told, gentler: &Told) -> Option<f64> {
    let no_higher = |one: Interval, other: Interval| one.at_most(other) == Holds::Yes;
    let slower =
        no_higher(gentler.current, harsher.current) && no_higher(gentler.cut_off, harsher.cut_off);
    let part = match (harsher.temperature, gentler.temperature) {
        (Some(colder), Some(warmer)) if no_higher(colder, warmer) => Some(LEAST_OF_GENTLER),
        (Some(_), Some(_)) => None,
        _ => Some(LEAST_IN_A_ROOM),
    };
    part.filter(|_| slower)
}
