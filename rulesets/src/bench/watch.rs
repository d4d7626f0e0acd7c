//! Watches over a cell that lies unused: two rest voltages with nothing between them that moves the
//! charge.

use std::cmp::Ordering;

use rules_core::document::Node;
use rules_core::quantity::{Holds, Interval, Kind, Nature, Quantity};

use super::counted::compared;
use super::date::Date;
use super::dated::REST;
use super::readings::Reading;

/// A watch: the rest voltages at its begin and at its end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Watch<'r> {
    pub first: &'r Reading,
    pub last: &'r Reading,
}

impl Watch<'_> {
    /// How fast the voltage fell, in volts a day.
    fn rate(self) -> Interval {
        let [first, last] = [self.first, self.last].map(|one| one.value);
        let Some((first, last)) = first.zip(last) else {
            return Interval::WHOLE;
        };
        (first.range() - last.range()) / days_between(self.first.date, self.last.date)
    }

    /// Whether it counts in place of one that ended before. A cell that leaks does not mend, so that it
    /// takes back none that surely fell faster; and one that leaves more open tells nothing new.
    fn outdoes(self, earlier: Self) -> bool {
        let (known, later) = (earlier.rate(), self.rate());
        let fell_faster = later.below(known) == Holds::Yes;
        !fell_faster && !leaves_more_open(later, known)
    }
}

/// Whether an interval encloses another one, and is not the same.
fn leaves_more_open(one: Interval, other: Interval) -> bool {
    let ends = (
        compared(one.lo(), other.lo()),
        compared(one.hi(), other.hi()),
    );
    ends.0.is_le() && ends.1.is_ge() && ends != (Ordering::Equal, Ordering::Equal)
}

/// As many days as lie between two dates, whose hours are not known.
fn days_between(first: Date, last: Date) -> Interval {
    let days = f64::from(i32::try_from(last.days_since(first)).unwrap_or(i32::MAX));
    Interval::new((days - 1.0).max(0.0), days + 1.0).unwrap_or(Interval::WHOLE)
}

/// The watch that counts of these readings, which are in order of their dates. Each begins with the
/// first rest voltage that was read a day or more after a charge or discharge, and ends with the last
/// before the next one. Of a cell that fell low on a day, one that had ended before shows nothing.
pub(super) fn watch<'r>(past: &[&'r Reading], fell: Option<Date>) -> Option<Watch<'r>> {
    let ended_low = |one: &Watch<'_>| Some(one.last.date) < fell;
    let all = watches(past).into_iter().filter(|one| !ended_low(one));
    all.reduce(|known, later| if later.outdoes(known) { later } else { known })
}

/// The longest watch of each time between charges and discharges, in order of their ends.
fn watches<'r>(past: &[&'r Reading]) -> Vec<Watch<'r>> {
    let moved = past.iter().filter(|one| one.what.moves_charge());
    let mut moved = moved.map(|one| one.date).peekable();
    let (mut all, mut since, mut first) = (Vec::new(), None, None);
    for &rest in past.iter().filter(|one| one.what.name() == REST) {
        while let Some(day) = moved.next_if(|day| *day <= rest.date) {
            (since, first) = (Some(day), None);
        }
        match first {
            None if has_rested(rest, since) => first = Some(rest),
            None => {}
            Some(first) => add(&mut all, Watch { first, last: rest }),
        }
    }
    all
}

/// Adds a watch in place of a shorter one with the same begin.
fn add<'r>(all: &mut Vec<Watch<'r>>, watch: Watch<'r>) {
    match all.last_mut() {
        Some(known) if known.first.date == watch.first.date => *known = watch,
        _ => all.push(watch),
    }
}

/// Whether a rest voltage was surely read a day or more after the last charge or discharge, which was
/// on this day, if one is told.
fn has_rested(reading: &Reading, moved: Option<Date>) -> bool {
    match moved {
        Some(moved) if reading.date <= moved => false,
        Some(moved) if reading.date.days_since(moved) > 1 => true,
        _ => rested_a_day(reading),
    }
}

/// Whether it says itself that it was read a day or more after them.
fn rested_a_day(reading: &Reading) -> bool {
    let after = reading.beside("after").and_then(Node::scalar);
    let after = after.and_then(|text| Quantity::parse(text).ok());
    let after = after.and_then(|time| time.measure(Kind::Time, Nature::Stated, None).ok());
    after.is_some_and(|hours| hours.range().lo() >= 24.0)
}
