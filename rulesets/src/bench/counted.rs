//! Which readings of a cell count: of each thing the newest, or the worst of those that show what does
//! not mend.
//!
//! Readings are compared by the end of their interval that is the worse one, because that is the end
//! that must hold, and at equal ends by their nominal values.

use std::cmp::Ordering;

use rules_core::document::Entry;
use rules_core::facts::OverTime;
use rules_core::quantity::{Holds, Interval, Measure};

use super::dated::{Dated, FOUND, REST, What};
use super::nodes::{entry, map};
use super::readings::Reading;

/// No light empties a cell so far that it rests lower, in volts: a cell that does has leaked, or was
/// forgotten in a drain, and is in the state of one that was found so.
const EMPTIED: f64 = 3.0;
/// A cell that rests lower is retired whatever else is known of it, in volts (the limit `rest_floor`,
/// which is fixed).
const RETIRED: f64 = 2.0;
/// A cell that was found higher may have been overcharged, in volts. No lower reading takes that back.
const FULL: f64 = 4.2;
/// A cell that surely rested higher was charged over the upper limit of IEC 62133, in volts, and is no
/// better once it is discharged.
const OVERCHARGED: f64 = 4.25;

/// A reading that counts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted<'r> {
    /// What it counts as.
    pub dated: &'static Dated,
    pub reading: &'r Reading,
}

impl Counted<'_> {
    /// Whether a rest voltage counts as the voltage at which the cell was found.
    pub(super) fn is_lent(&self) -> bool {
        self.reading.what.name() != self.dated.key
    }

    /// What it says of the cell.
    pub(super) fn entries(&self) -> Vec<Entry<'static>> {
        let (outer, inner) = self.dated.place();
        match (inner, self.reading.beside("voltage")) {
            (Some(inner), Some(voltage)) if self.is_lent() => {
                let span = self.reading.span;
                let inside = entry(inner, span, voltage.clone());
                vec![entry(outer, span, map(vec![inside], span))]
            }
            _ => self.reading.entries.clone(),
        }
    }
}

/// Of each thing the reading that counts, in order of their dates. `found` is the voltage at which the
/// cell was found where it is said without a date.
pub(super) fn counted<'r>(past: &[&'r Reading], found: Option<Measure>) -> Vec<Counted<'r>> {
    let mut all: Vec<Counted<'r>> = Vec::new();
    for &reading in past {
        let What::Read(dated) = reading.what else {
            continue;
        };
        match all.iter_mut().find(|known| known.dated == dated) {
            Some(known) if outdoes(dated.over_time, reading, known.reading) => {
                known.reading = reading;
            }
            Some(_) => {}
            None => all.push(Counted { dated, reading }),
        }
    }
    count_found(&mut all, past, found);
    all.sort_by_key(|one| (one.reading.date, &*one.dated.key));
    all
}

/// Whether the later of two readings counts in place of the other. Of equal ones it does.
fn outdoes(over_time: OverTime, later: &Reading, known: &Reading) -> bool {
    let (Some(later), Some(known)) = (later.value, known.value) else {
        return true;
    };
    match over_time {
        OverTime::Newest => true,
        OverTime::Least => by_low_end(&later, &known).is_le(),
        OverTime::Greatest => by_high_end(&later, &known).is_ge(),
    }
}

fn by_low_end(one: &Measure, other: &Measure) -> Ordering {
    let ends = compared(one.range().lo(), other.range().lo());
    ends.then_with(|| compared(one.nominal(), other.nominal()))
}

fn by_high_end(one: &Measure, other: &Measure) -> Ordering {
    let ends = compared(one.range().hi(), other.range().hi());
    ends.then_with(|| compared(one.nominal(), other.nominal()))
}

/// As formulas compare: numbers that differ by no more than rounding are equal.
pub(super) fn compared(one: f64, other: f64) -> Ordering {
    let [one, other] = [one, other].map(Interval::point);
    match (one.below(other), other.below(one)) {
        (Holds::Yes, _) => Ordering::Less,
        (_, Holds::Yes) => Ordering::Greater,
        _ => Ordering::Equal,
    }
}

/// A voltage at which the cell was found, or stood at rest; no reading tells what is said without a
/// date.
#[derive(Clone, Copy)]
struct Voltage<'r> {
    value: Measure,
    reading: Option<&'r Reading>,
}

/// Settles which voltage counts as the one at which the cell was found: the lowest that was read then,
/// or at rest since, but one over full before any that does not retire the cell, and one at rest that
/// overcharged it before any at which it was not empty.
fn count_found<'r>(all: &mut Vec<Counted<'r>>, past: &[&'r Reading], said: Option<Measure>) {
    let said = said.map(|value| Voltage {
        value,
        reading: None,
    });
    let found = || voltages(past, FOUND).chain(said);
    let Some((lowest, highest)) = found().reduce(lower).zip(found().reduce(higher)) else {
        return;
    };
    let rests = voltages(past, REST).filter(|rest| may_be_below(&rest.value, EMPTIED));
    let rest = rests.reduce(lower);
    let fell = rest.filter(|rest| by_low_end(&rest.value, &lowest.value).is_lt());
    let lowest = fell.unwrap_or(lowest);
    let highest = match may_be_below(&lowest.value, EMPTIED) {
        true => highest,
        false => overcharged(past).fold(highest, higher),
    };
    let is_over = may_be_above(&highest.value, FULL) && !is_below(&lowest.value, RETIRED);
    let counts = if is_over { highest } else { lowest };
    count_as_found(all, counts.reading);
}

/// The rest voltages of a cell that was surely overcharged.
fn overcharged<'r>(past: &[&'r Reading]) -> impl Iterator<Item = Voltage<'r>> {
    let over = Interval::point(OVERCHARGED);
    voltages(past, REST).filter(move |rest| over.below(rest.value.range()) == Holds::Yes)
}

/// Makes a reading count as the voltage at which the cell was found.
fn count_as_found<'r>(all: &mut Vec<Counted<'r>>, reading: Option<&'r Reading>) {
    let Some((reading, What::Read(dated))) = reading.zip(What::parse(FOUND)) else {
        return;
    };
    all.retain(|one| one.dated != dated);
    all.push(Counted { dated, reading });
}

/// The voltages that were read at a key, the oldest first.
fn voltages<'r>(past: &[&'r Reading], key: &str) -> impl Iterator<Item = Voltage<'r>> {
    let of_key = past.iter().filter(move |one| one.what.name() == key);
    of_key.filter_map(|reading| {
        Some(Voltage {
            value: reading.value?,
            reading: Some(reading),
        })
    })
}

/// The lower of two, of equal ones the later.
fn lower<'r>(known: Voltage<'r>, later: Voltage<'r>) -> Voltage<'r> {
    match by_low_end(&later.value, &known.value) {
        Ordering::Greater => known,
        _ => later,
    }
}

/// The higher of two, of equal ones the later.
fn higher<'r>(known: Voltage<'r>, later: Voltage<'r>) -> Voltage<'r> {
    match by_high_end(&later.value, &known.value) {
        Ordering::Less => known,
        _ => later,
    }
}

fn is_below(value: &Measure, bound: f64) -> bool {
    value.range().below(Interval::point(bound)) == Holds::Yes
}

fn may_be_below(value: &Measure, bound: f64) -> bool {
    value.range().below(Interval::point(bound)) != Holds::No
}

fn may_be_above(value: &Measure, bound: f64) -> bool {
    Interval::point(bound).below(value.range()) != Holds::No
}
