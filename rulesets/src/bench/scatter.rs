//! Tests that are better than an earlier one of the same cell by more than such tests scatter. A cell
//! does not get better: it may be another cell, or another meter.

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

/// What is to be told of the tests of a cell that are in force.
pub(super) fn better(readings: &InForce<'_>) -> Vec<String> {
    let capacity = told(&readings.past(CAPACITY), gives_more, "more");
    let resistance = told(&readings.past(RESISTANCE), resists_less, "less");
    capacity.into_iter().chain(resistance).collect()
}

fn told(
    readings: &[&Reading],
    is_better: fn(&Reading, &Reading) -> bool,
    more: &str,
) -> Option<String> {
    let (last, earlier) = readings.split_last()?;
    let beaten = earlier.iter().find(|earlier| is_better(last, earlier))?;
    Some(format!(
        "{} {} of {} is {more} than the {} of {} by more than such tests scatter: is it another cell, \
         or another meter?",
        last.what.name(),
        last.written,
        last.date,
        beaten.written,
        beaten.date
    ))
}

fn gives_more(later: &Reading, earlier: &Reading) -> bool {
    let Some((more, less)) = later.value.zip(earlier.value) else {
        return false;
    };
    let is_gentler = surely_below(later, earlier, ("at", Kind::Current))
        || surely_below(later, earlier, ("to", Kind::Voltage))
        || surely_below(earlier, later, TEMPERATURE);
    let both_tell = number(later, TEMPERATURE).and(number(earlier, TEMPERATURE));
    let part = both_tell.map_or(OF_CAPACITY, |_| OF_CAPACITY_AT_TEMPERATURE);
    !is_gentler && less.range().hi() < more.range().lo() * part
}

fn resists_less(later: &Reading, earlier: &Reading) -> bool {
    let Some((less, more)) = later.value.zip(earlier.value) else {
        return false;
    };
    let method = |reading: &Reading| {
        reading
            .beside("method")
            .and_then(Node::scalar)
            .map(str::to_owned)
    };
    let methods = method(later).zip(method(earlier));
    let is_other = methods.is_some_and(|(one, other)| one != other);
    !is_other && less.range().hi() < more.range().lo() * OF_RESISTANCE
}

const TEMPERATURE: (&str, Kind) = ("temperature", Kind::Temperature);

/// Whether what one tells is below what the other does.
fn surely_below(one: &Reading, other: &Reading, what: (&str, Kind)) -> bool {
    let both = number(one, what).zip(number(other, what));
    both.is_some_and(|(one, other)| one.range().below(other.range()) == Holds::Yes)
}

fn number(reading: &Reading, (key, kind): (&str, Kind)) -> Option<Measure> {
    let text = reading.beside(key)?.scalar()?;
    Quantity::parse(text)
        .ok()?
        .measure(kind, Nature::Stated, None)
        .ok()
}
