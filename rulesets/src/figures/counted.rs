//! What is left of a charge by counting what was used since the cells were full.

use super::battery;
use super::discharge::{Draw, Duty, bounded};
use super::light;
use super::margin::OpenReason;
use super::needs::Need;
use super::reader::Notes;
use super::shared_work::{From, SharedWork, Until};
use crate::span::{not_negative, ratio, span, times};
use rules_core::quantity::Interval;

/// The part of its charge that a sound cell may lose by itself in a day: common practice, ten times
/// what is usual. What loses more is no cell to count on, and a watch finds it.
const DAYS_LOSS: f64 = 0.02;

/// Hours since the cells were full, by the meaning of `conditions.run_since_full`.
const DAY: f64 = 24.0;

/// No cell shows more, in V.
const HIGHEST: f64 = 4.4;

/// The hours that are left of a full charge after a run at the same draw, and why they are open
/// downwards, if they are; none if something of it is missing.
///
/// A run with pauses in it lasts no less than one without, and may last as long as the cells have
/// charge that slower uses would find.
pub(super) fn time_left(
    shared: &SharedWork<'_>,
    notes: &mut Notes,
) -> Option<(Interval, Option<OpenReason>)> {
    let run = shared.reader.must(Need::RunSinceFull, 0, notes);
    let standby = shared.reader.must(Need::Standby, 0, notes);
    let whole = battery::battery(shared, From::Full, Until::Empty, notes);
    let (full, open) = whole.map(|whole| (whole.run_time, whole.open))?;
    let run = run?;
    let most = longest(shared, notes).unwrap_or(f64::INFINITY);
    let (least_current, _) = currents(shared, notes)?;
    let stands = standby.map_or(f64::INFINITY, |standby| {
        ratio(standby.hi() * DAY, least_current)
    });
    let lost = times(full.hi(), DAYS_LOSS) + stands;
    Some((
        not_negative(span(
            (full.lo() - run.hi() - lost).max(0.0),
            (most.max(full.hi()) - run.lo()).max(0.0),
        )),
        open,
    ))
}

/// The least and the greatest current in A that the light takes.
fn currents(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<(f64, f64)> {
    let series = light::series(shared, notes)?;
    Some(match light::battery_draw(shared, notes)? {
        Draw::Current(current) => (current.lo(), current.hi()),
        Draw::Power(power) => (
            ratio(power.lo(), series.hi() * HIGHEST),
            light::highest_current(shared, notes).hi(),
        ),
    })
}

/// The hours that the group with the most charge gives, however slowly it is taken.
fn longest(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<f64> {
    let series = light::series(shared, notes)?;
    let (least, greatest) = currents(shared, notes)?;
    let stops = light::light_stops(shared, notes);
    let temperature = light::temperature(shared, notes);
    let of_group = |group: usize, notes: &mut Notes| {
        let cell = battery::group(shared, group, notes)?;
        let duty = Duty {
            draw: Draw::Current(span(0.0, greatest)),
            start: Interval::point(1.0),
            temperature,
            cut_off: (stops / series).max(light::empty(cell.classes)),
        };
        Some(bounded(&cell, &duty).hi())
    };
    let count = shared.group_count(notes)?;
    let all: Option<Vec<f64>> = (0..count).map(|group| of_group(group, notes)).collect();
    Some(ratio(all?.into_iter().fold(0.0, f64::max), least))
}
