//! The resistance that the step from rest to load shows.

use rules_core::quantity::Interval;

use super::log::Row;
use super::run::{Point, Run};
use super::shown::{fact, milli, written};
use super::told::Fact;
use crate::span::span;

/// The hours of load after which the resistance is read, and until when a row still tells it.
const TEN_SECONDS: f64 = 10.0 / 3600.0;
const THIRTY_SECONDS: f64 = 30.0 / 3600.0;

/// The resistance after ten seconds, as facts; none where the rows are too far apart to tell. It is
/// between that of a row surely no later and that of one surely no earlier.
pub(super) fn resistance(run: &Run) -> Option<Vec<Fact>> {
    let rest = run.rest.filter(|rest| is_at_rest(rest, run))?;
    let (off, on) = (rest.time?.core, run.points.first()?.row.time?.core);
    let is_early = |point: &&Point| {
        let time = point.row.time;
        time.is_some_and(|time| time.core.hi() - off.lo() <= TEN_SECONDS)
    };
    let early = run.points.iter().take_while(is_early).last()?;
    let is_late = |point: &&Point| {
        let time = point.row.time;
        time.is_some_and(|time| time.core.lo() - on.hi() >= TEN_SECONDS)
    };
    let late = run.points.iter().find(is_late)?;
    if late.row.time?.core.hi() - off.lo() > THIRTY_SECONDS {
        return None;
    }
    let fall = |point: &Point| rest.voltage.core - point.row.voltage.core;
    let fall = span(fall(early).lo().max(0.0), fall(late).hi()) * run.factors.voltage;
    let current = early.row.current?.core.hull(late.row.current?.core) * run.factors.current;
    let value = fall / current;
    if value.lo() <= 0.0 || !value.is_bounded() {
        return None;
    }
    let mut all = vec![
        fact("value", &milli(value, "mohm"), late.row.voltage.span),
        fact("method", "dc-10s", late.row.voltage.span),
    ];
    let warmth = run.points.first()?.row.temperature;
    all.extend(warmth.map(|warmth| fact("temperature", &degrees(warmth.core), warmth.span)));
    Some(all)
}

/// A current below this part of that under load is none.
const NO_CURRENT: f64 = 0.02;

fn is_at_rest(rest: &Row, run: &Run) -> bool {
    let load = run.points.first().and_then(|point| point.row.current);
    let both = rest.current.zip(load);
    both.is_some_and(|(rest, load)| rest.nominal.abs() <= NO_CURRENT * load.nominal)
}

fn degrees(value: Interval) -> String {
    written(value, 10.0, 1, "degC")
}
