//! Tests that are better than an earlier one of the same cell by more than such tests scatter. A cell
//! does not get better: it may be another cell, or another meter.
//!
//! Every test is compared with all before it. Of those that were taken alike the worst speaks for
//! all, so that it takes time linear in the tests.

use std::collections::BTreeMap;

use rules_core::document::Node;
use rules_core::quantity::{Holds, Kind, Measure, Nature, Quantity};

use super::dated::{CAPACITY, RESISTANCE};
use super::in_force::InForce;
use super::readings::Reading;

/// A later test that gives less than this part of an earlier one contradicts it (LANGUAGE.md,
/// "Readings of one thing"); here the earlier gives less than that of the later.
const OF_CAPACITY: f64 = 0.9;
/// The same where both tell their temperature.
const OF_CAPACITY_AT_TEMPERATURE: f64 = 0.97;
/// Common practice: read again in the same way, with the probes set anew, a resistance of tens of
/// milliohms comes out within a fifth.
const OF_RESISTANCE: f64 = 0.8;
/// In so many ways the tests of a cell are taken that are compared; who changes them more often has
/// no row of like tests.
const MOST_WAYS: usize = 64;

/// What is to be told of the tests of a cell that are in force.
pub(super) fn better(readings: &InForce<'_>) -> Vec<String> {
    let capacity = Compared {
        is_better: gives_more,
        is_worse: |one, other| highest(one) < highest(other),
        more: "more",
    };
    let resistance = Compared {
        is_better: resists_less,
        is_worse: |one, other| lowest(one) > lowest(other),
        more: "less",
    };
    let capacity = capacity.told(&readings.past(CAPACITY));
    let resistance = resistance.told(&readings.past(RESISTANCE));
    capacity.into_iter().chain(resistance).collect()
}

/// How tests of one thing are compared.
struct Compared {
    is_better: fn(&Test<'_>, &Test<'_>) -> bool,
    is_worse: fn(&Test<'_>, &Test<'_>) -> bool,
    more: &'static str,
}

impl Compared {
    /// The last test that is better than an earlier one, and how many before it are too.
    fn told(&self, readings: &[&Reading]) -> Option<String> {
        let mut worst: BTreeMap<[Option<&str>; 4], Test<'_>> = BTreeMap::new();
        let (mut last, mut count) = (None, 0_usize);
        for later in readings.iter().filter_map(|reading| Test::of(reading)) {
            if let Some(beaten) = self.beaten(&later, worst.values()) {
                last = Some((later.reading, beaten.reading));
                count += 1;
            }
            let has_room = worst.len() < MOST_WAYS;
            match worst.get_mut(&later.way) {
                Some(known) if (self.is_worse)(&later, known) => *known = later,
                None if has_room => drop(worst.insert(later.way, later)),
                _ => {}
            }
        }
        let (later, earlier) = last?;
        Some(self.in_words(later, earlier, count - 1))
    }

    /// The worst of those before a test that it is better than.
    fn beaten<'t, 'r: 't>(
        &self,
        later: &Test<'_>,
        before: impl Iterator<Item = &'t Test<'r>>,
    ) -> Option<&'t Test<'r>> {
        let beaten = before.filter(|earlier| (self.is_better)(later, earlier));
        beaten.reduce(|one, other| match (self.is_worse)(other, one) {
            true => other,
            false => one,
        })
    }

    fn in_words(&self, later: &Reading, earlier: &Reading, before: usize) -> String {
        let before = match before {
            0 => String::new(),
            1 => " So is 1 test before it.".to_owned(),
            more => format!(" So are {more} tests before it."),
        };
        format!(
            "{} {} of {} is {} than the {} of {} by more than such tests scatter: is it another cell, \
             or another meter?{before}",
            later.what.name(),
            later.written,
            later.date,
            self.more,
            earlier.written,
            earlier.date
        )
    }
}

/// A test of which the value is known.
struct Test<'r> {
    reading: &'r Reading,
    value: Measure,
    /// How it was taken, as it is written.
    way: [Option<&'r str>; 4],
    current: Option<Measure>,
    end: Option<Measure>,
    temperature: Option<Measure>,
}

impl<'r> Test<'r> {
    fn of(reading: &'r Reading) -> Option<Self> {
        let text = |key: &str| reading.beside(key).and_then(Node::scalar);
        Some(Self {
            reading,
            value: reading.value?,
            way: ["at", "to", "temperature", "method"].map(text),
            current: number(text("at"), Kind::Current),
            end: number(text("to"), Kind::Voltage),
            temperature: number(text("temperature"), Kind::Temperature),
        })
    }

    const fn method(&self) -> Option<&str> {
        let [_, _, _, method] = self.way;
        method
    }
}

fn highest(test: &Test<'_>) -> f64 {
    test.value.range().hi()
}

fn lowest(test: &Test<'_>) -> f64 {
    test.value.range().lo()
}

fn gives_more(later: &Test<'_>, earlier: &Test<'_>) -> bool {
    let is_gentler = surely_below(later.current, earlier.current)
        || surely_below(later.end, earlier.end)
        || surely_below(earlier.temperature, later.temperature);
    let both_tell = later.temperature.and(earlier.temperature);
    let part = both_tell.map_or(OF_CAPACITY, |_| OF_CAPACITY_AT_TEMPERATURE);
    !is_gentler && highest(earlier) < lowest(later) * part
}

fn resists_less(later: &Test<'_>, earlier: &Test<'_>) -> bool {
    let methods = later.method().zip(earlier.method());
    let is_other = methods.is_some_and(|(one, other)| one != other);
    !is_other && highest(later) < lowest(earlier) * OF_RESISTANCE
}

/// Whether what one tells is below what the other does.
fn surely_below(one: Option<Measure>, other: Option<Measure>) -> bool {
    let both = one.zip(other);
    both.is_some_and(|(one, other)| one.range().below(other.range()) == Holds::Yes)
}

fn number(text: Option<&str>, kind: Kind) -> Option<Measure> {
    let quantity = Quantity::parse(text?).ok()?;
    quantity.measure(kind, Nature::Stated, None).ok()
}
