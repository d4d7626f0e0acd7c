//! Figures of the build.

use super::discharge::Draw;
use super::margin::OpenReason;
use super::needs::Need;
use super::operating::OperatingPoint;
use super::reader::Notes;
use super::shared_work::{From, SharedWork, Until};
use super::stop::StopPlan;
use super::{
    battery, cell_facts, charging, class_voltages, counted, joined, light, operating, stop,
};
use crate::class::Classes;
use crate::facts::CELL;
use crate::span::not_known;
use rules_core::facts::{Reach, Worked};
use rules_core::quantity::Interval;

/// The one build.
const BUILD: usize = 0;

/// `build.current`. A driver that holds its power draws more as the voltage falls, so the lowest
/// voltage gives the highest current.
pub(super) fn current(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    let current = light::highest_current(shared, &mut notes);
    notes.worked(current)
}

/// The classes that any cell of the build may be of; none if one is of a class without a curve.
fn classes(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Classes> {
    notes.reach = Reach::All;
    let all: Vec<Option<Classes>> = (0..shared.reader.count(CELL))
        .map(|cell| cell_facts::classes(shared.reader, cell, notes))
        .collect();
    all.into_iter()
        .try_fold(None, |so_far: Option<Classes>, one| {
            let one = one?;
            Some(Some(so_far.map_or(one, |so_far| so_far.or(one))))
        })?
}

/// `build.nominal_voltage`
pub(super) fn nominal_voltage(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    let series = light::series(shared, &mut notes);
    let classes = classes(shared, &mut notes);
    let voltage = series
        .zip(classes)
        .map(|(series, classes)| series * class_voltages::nominal(classes));
    notes.worked(voltage.unwrap_or(not_known()))
}

/// `build.energy`
pub(super) fn energy(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    notes.reach = Reach::All;
    let all: Vec<Option<Interval>> = (0..shared.reader.count(CELL))
        .map(|cell| cell_facts::rated_energy(shared.reader, cell, &mut notes))
        .collect();
    let sum = all
        .into_iter()
        .try_fold(Interval::point(0.0), |sum, one| Some(sum + one?));
    notes.worked(sum.unwrap_or(not_known()))
}

/// `build.run_time`
pub(super) fn run_time(shared: &SharedWork<'_>, _: usize, notes: Notes) -> Worked {
    time(shared, From::Full, notes)
}

/// `build.time_left`
pub(super) fn time_left(shared: &SharedWork<'_>, _: usize, notes: Notes) -> Worked {
    time(shared, From::Rest, notes)
}

/// `build.time_left_counted`
pub(super) fn time_left_counted(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    match counted::time_left(shared, &mut notes) {
        Some((left, open)) => Worked {
            open: open.filter(|_| left.lo() <= 0.0).map(OpenReason::sentence),
            ..notes.worked(left)
        },
        None => notes.worked(not_known()),
    }
}

fn time(shared: &SharedWork<'_>, from: From, mut notes: Notes) -> Worked {
    match battery::battery(shared, from, Until::Empty, &mut notes) {
        Some(battery) => Worked {
            open: battery.open.map(OpenReason::sentence),
            ..notes.worked(battery.run_time)
        },
        None => notes.worked(not_known()),
    }
}

/// `build.weakest_voltage`
pub(super) fn weakest_voltage(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    match battery::battery(shared, From::Full, Until::LightStops, &mut notes) {
        Some(battery) => Worked {
            open: battery.cells_open.map(OpenReason::sentence),
            ..notes.worked(battery.weakest)
        },
        None => notes.worked(Interval::WHOLE),
    }
}

/// The least rest voltage of the battery while the light runs: where the light stops, or empty
/// cells.
fn lowest_source(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Interval> {
    let series = light::series(shared, notes);
    let classes = classes(shared, notes);
    let stops = light::light_stops(shared, notes);
    Some(stops.max(series? * light::empty(classes?)))
}

/// What the battery can give near its end: where the light's power, if it is one, meets it.
fn near_the_end(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<OperatingPoint> {
    notes.reach = Reach::All;
    let source = lowest_source(shared, notes);
    let resistance = joined::resistance(shared, notes);
    let power = match light::battery_draw(shared, notes) {
        Some(Draw::Power(power)) => power,
        Some(Draw::Current(_)) => Interval::point(0.0),
        None => not_known(),
    };
    Some(operating::operating_point(source?, resistance?, power))
}

/// `build.most_power`
pub(super) fn most_power(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    let point = near_the_end(shared, &mut notes);
    notes.worked(point.map_or(not_known(), |point| point.most_power))
}

/// `build.collapse_voltage`
pub(super) fn collapse_voltage(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    let point = near_the_end(shared, &mut notes);
    notes.worked(point.map_or(not_known(), |point| point.collapse))
}

/// `build.charge_time`: until the slowest group is full, from empty.
pub(super) fn charge_time(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    notes.reach = Reach::All;
    let time = charge_time_of(shared, &mut notes);
    notes.worked(time.unwrap_or(not_known()))
}

fn charge_time_of(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Interval> {
    let current = shared.reader.must(Need::ChargeCurrent, BUILD, notes);
    let count = shared.group_count(notes)?;
    let capacities: Vec<Option<Interval>> = (0..count)
        .map(|group| capacity(shared, group, notes))
        .collect();
    let capacities: Vec<Interval> = capacities.into_iter().collect::<Option<_>>()?;
    let times = capacities.into_iter().map(|capacity| {
        Some(charging::charge_time(
            Interval::point(0.0),
            capacity,
            current?,
        ))
    });
    times
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .reduce(Interval::max)
}

fn capacity(shared: &SharedWork<'_>, group: usize, notes: &mut Notes) -> Option<Interval> {
    let cells: Vec<Option<Interval>> = shared
        .members(group, notes)?
        .iter()
        .map(|cell| shared.reader.must(Need::Capacity, *cell, notes))
        .collect();
    cells
        .into_iter()
        .try_fold(Interval::point(0.0), |sum, cell| Some(sum + cell?))
}

/// The stop plan for each cell, by the current of the build and the resistance of a cell's share of
/// it.
fn stop_plan(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<StopPlan> {
    notes.reach = Reach::All;
    let classes = classes(shared, notes);
    let current = light::highest_current(shared, notes);
    let series = light::series(shared, notes);
    let resistance = joined::resistance(shared, notes);
    // The whole battery's sag is shared by its groups.
    let each = resistance
        .zip(series)
        .map_or(not_known(), |(resistance, series)| resistance / series);
    let time = battery::battery(shared, From::Full, Until::Empty, notes)
        .map_or(not_known(), |battery| battery.run_time);
    Some(stop::stop_plan(classes?, current, each, time))
}

/// `build.stop_at_rest`
pub(super) fn stop_at_rest(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    notes.reach = Reach::All;
    let series = light::series(shared, &mut notes);
    let classes = classes(shared, &mut notes);
    let stop = series.zip(classes).map(|(series, classes)| {
        series * stop::stop_plan(classes, not_known(), not_known(), not_known()).rest
    });
    notes.worked(stop.unwrap_or(not_known()))
}

/// `build.stop_loaded`
pub(super) fn stop_loaded(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    let series = light::series(shared, &mut notes);
    let plan = stop_plan(shared, &mut notes);
    notes.worked(
        series
            .zip(plan)
            .map_or(not_known(), |(series, plan)| series * plan.loaded),
    )
}

/// `build.check_after`
pub(super) fn check_after(shared: &SharedWork<'_>, _: usize, mut notes: Notes) -> Worked {
    let open = battery::battery(shared, From::Full, Until::Empty, &mut notes)
        .and_then(|battery| battery.open);
    let plan = stop_plan(shared, &mut notes);
    Worked {
        open: open.map(OpenReason::sentence),
        ..notes.worked(plan.map_or(not_known(), |plan| plan.first_check))
    }
}
