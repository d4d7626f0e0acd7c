//! The facts of a capacity test that a discharge shows.

use rules_core::document::Span;
use rules_core::quantity::Interval;

use super::log::Reading;
use super::run::{Point, Run};
use super::told::Fact;
use crate::facts::{CELL, catalogue};
use crate::span::span;

/// A current that stays within this part of its least is one current.
const CONSTANT: f64 = 1.05;

/// The parts of the charge at which a test may tell its voltage, by their keys.
const PARTS: [(&str, f64); 2] = [("half", 0.5), ("late", 0.9)];

/// How the keys begin of charge that was given by a voltage.
pub(crate) const BY: &str = "by_";

/// All facts of the test.
pub(super) fn facts(run: &Run) -> Vec<Fact> {
    let Some((first, last)) = run.points.first().zip(run.points.last()) else {
        return Vec::new();
    };
    let mut all = vec![fact(
        "value",
        &milli(run.charge(run.given), "mAh"),
        last.row.voltage.span,
    )];
    if !run.is_whole {
        let end = run.voltage(&last.row.voltage);
        all.push(fact("to", &whole(end, "V"), last.row.voltage.span));
    }
    let current = current(run);
    if let Some((current, _)) = current {
        let at = first
            .row
            .current
            .map_or(first.row.voltage.span, |one| one.span);
        all.push(fact("at", &whole(current, "A"), at));
    }
    if let Some(warmth) = first.row.temperature {
        let value = written(warmth.core, 10.0, 1, "degC");
        all.push(fact("temperature", &value, warmth.span));
    }
    if current.is_none_or(|(_, is_constant)| is_constant) {
        all.extend(
            PARTS
                .iter()
                .filter_map(|(key, part)| at_part(run, key, *part)),
        );
        all.extend(levels().filter_map(|(key, volts)| by_level(run, &key, volts)));
    }
    all
}

pub(super) fn fact(key: &str, value: &str, span: Span) -> Fact {
    Fact {
        key: key.to_owned(),
        value: value.to_owned(),
        span,
    }
}

/// The current of the log, the first and the last row apart, of which the load may have had a part
/// only, and whether it was one current.
fn current(run: &Run) -> Option<(Interval, bool)> {
    let inner = run.points.len().saturating_sub(2).max(1);
    let inner = run.points.iter().skip(1).take(inner);
    let read: Option<Vec<Reading>> = inner.map(|point| point.row.current).collect();
    let read = read?;
    let nominals = read.iter().map(|one| one.nominal);
    let (least, most) = (
        nominals.clone().fold(f64::INFINITY, f64::min),
        nominals.fold(0.0, f64::max),
    );
    let hull = read.iter().map(|one| one.core).reduce(Interval::hull)?;
    Some((hull * run.factors.current, most <= CONSTANT * least))
}

/// The voltage when a part of the charge had been given: between those of the last row that was surely
/// before and the first that was surely after.
fn at_part(run: &Run, key: &str, part: f64) -> Option<Fact> {
    let is_before = |point: &&Point| point.given.hi() < part * run.given.lo();
    let is_after = |point: &&Point| point.given.lo() > part * run.given.hi();
    let before = run.points.iter().take_while(is_before).last()?;
    let after = run.points.iter().find(is_after)?;
    let (high, low) = (
        run.voltage(&before.row.voltage),
        run.voltage(&after.row.voltage),
    );
    let value = whole(span(low.lo().min(high.hi()), high.hi()), "V");
    Some(fact(key, &value, after.row.voltage.span))
}

/// The charge given when the voltage came down to a level: between the last row that was surely above
/// and the first that was surely below.
fn by_level(run: &Run, key: &str, volts: f64) -> Option<Fact> {
    let is_above = |point: &&Point| run.voltage(&point.row.voltage).lo() > volts;
    let is_below = |point: &&Point| run.voltage(&point.row.voltage).hi() < volts;
    let above = run.points.iter().take_while(is_above).last()?;
    let below = run.points.iter().find(is_below)?;
    let given = above.given.hull(below.given);
    Some(fact(
        key,
        &milli(run.charge(given), "mAh"),
        below.row.voltage.span,
    ))
}

/// The voltages by which the first test may tell its charge, by their keys.
fn levels() -> impl Iterator<Item = (String, f64)> {
    let facts = catalogue().facts().filter(|(_, def)| def.subject == CELL);
    facts.filter_map(|(_, def)| {
        let key = def.key.as_deref()?.strip_prefix("capacity.")?;
        let level = key.strip_prefix(BY)?.strip_suffix("mv")?;
        let volts = level.parse::<u16>().ok().map(f64::from)? / 1000.0;
        Some((key.to_owned(), volts))
    })
}

/// In volts or amperes, to a tenth of a thousandth.
fn whole(value: Interval, unit: &str) -> String {
    written(value, 10_000.0, 4, unit)
}

/// In thousandths, to a tenth of one.
pub(super) fn milli(value: Interval, unit: &str) -> String {
    written(value * Interval::point(1000.0), 10.0, 1, unit)
}

/// An end that is nearer than this part of a step to a step is on it: sums of doubles are not exact.
const HAIR: f64 = 1e-6;

/// A range, its ends rounded outward to so many steps of a unit.
pub(super) fn written(value: Interval, steps: f64, places: usize, unit: &str) -> String {
    let low = (value.lo() * steps + HAIR).floor() / steps;
    let high = (value.hi() * steps - HAIR).ceil() / steps;
    format!("{low:.places$}..{:.places$} {unit}", high.max(low))
}
