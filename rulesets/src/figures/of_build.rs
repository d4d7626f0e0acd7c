//! Figures of the build.

use super::battery::Until;
use super::desk::{Desk, From};
use super::discharge::Draw;
use super::needs::{Need, Notes};
use super::operating::OperatingPoint;
use super::stop::StopPlan;
use super::{battery, cells, keeping, of_cell, open, operating, stop};
use crate::class::Classes;
use crate::facts::CELL;
use crate::span::{not_known, not_negative, span};
use rules_core::facts::{Reach, Worked};
use rules_core::quantity::Interval;

/// The one build.
const BUILD: usize = 0;

/// `build.current`. A driver that holds its power draws more as the voltage falls, so the lowest
/// voltage gives the highest current.
pub(super) fn current(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    let current = highest_current(desk, &mut notes);
    notes.worked(current)
}

/// The highest current that the light takes from the battery.
pub(super) fn highest_current(desk: &Desk<'_>, notes: &mut Notes) -> Interval {
    let reader = desk.reader;
    let power = match battery::battery_draw(desk, notes) {
        Some(Draw::Current(current)) => return current,
        Some(Draw::Power(power)) => power,
        None => return not_known(),
    };
    let cut_off = reader.must(Need::CutOff, BUILD, notes);
    let input_min = reader.must(Need::InputMin, BUILD, notes);
    match (cut_off, input_min) {
        (Some(cut_off), Some(input_min)) => not_negative(power / cut_off.max(input_min)),
        // One of the two is enough for an upper bound: the other can only raise the lowest voltage.
        (Some(lowest), None) | (None, Some(lowest)) => span(0.0, (power / lowest).hi()),
        (None, None) => not_known(),
    }
}

/// The classes that any cell of the build may be of; none if one is of a class without a curve.
fn classes(desk: &Desk<'_>, notes: &mut Notes) -> Option<Classes> {
    notes.reach = Reach::All;
    let all: Vec<Option<Classes>> = (0..desk.reader.facts().sheet().count(CELL))
        .map(|cell| cells::classes(desk.reader, cell, notes))
        .collect();
    all.into_iter()
        .try_fold(None, |so_far: Option<Classes>, one| {
            let one = one?;
            Some(Some(so_far.map_or(one, |so_far| so_far.or(one))))
        })?
}

/// `build.nominal_voltage`
pub(super) fn nominal_voltage(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    let series = battery::series(desk, &mut notes);
    let classes = classes(desk, &mut notes);
    let voltage = series
        .zip(classes)
        .map(|(series, classes)| series * keeping::voltages(classes, None).nominal);
    notes.worked(voltage.unwrap_or(not_known()))
}

/// `build.energy`
pub(super) fn energy(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes {
        reach: Reach::All,
        ..Notes::default()
    };
    let all: Vec<Option<Interval>> = (0..desk.reader.facts().sheet().count(CELL))
        .map(|cell| of_cell::rated_energy(desk, cell, &mut notes))
        .collect();
    let sum = all
        .into_iter()
        .try_fold(Interval::point(0.0), |sum, one| Some(sum + one?));
    notes.worked(sum.unwrap_or(not_known()))
}

/// `build.run_time`
pub(super) fn run_time(desk: &Desk<'_>, _: usize) -> Worked {
    time(desk, From::Full)
}

/// `build.time_left`
pub(super) fn time_left(desk: &Desk<'_>, _: usize) -> Worked {
    time(desk, From::Rest)
}

fn time(desk: &Desk<'_>, from: From) -> Worked {
    let mut notes = Notes::default();
    match desk.battery(from, Until::Empty, &mut notes) {
        Some(battery) => Worked {
            open: battery.open.map(open::why),
            ..notes.worked(battery.run_time)
        },
        None => notes.worked(not_known()),
    }
}

/// `build.weakest_voltage`
pub(super) fn weakest_voltage(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    match desk.battery(From::Full, Until::LightStops, &mut notes) {
        Some(battery) => Worked {
            open: battery.cells_open.map(open::why),
            ..notes.worked(battery.weakest)
        },
        None => notes.worked(Interval::WHOLE),
    }
}

/// The least rest voltage of the battery while the light runs: where the light stops, or empty
/// cells.
fn lowest_source(desk: &Desk<'_>, notes: &mut Notes) -> Option<Interval> {
    let series = battery::series(desk, notes);
    let classes = classes(desk, notes);
    let stops = battery::light_stops(desk, notes);
    Some(stops.max(series? * battery::empty(classes?)))
}

/// What the battery can give near its end: where the light's power, if it is one, meets it.
fn near_the_end(desk: &Desk<'_>, notes: &mut Notes) -> Option<OperatingPoint> {
    notes.reach = Reach::All;
    let source = lowest_source(desk, notes);
    let resistance = battery::resistance(desk, notes);
    let power = match battery::battery_draw(desk, notes) {
        Some(Draw::Power(power)) => power,
        Some(Draw::Current(_)) => Interval::point(0.0),
        None => not_known(),
    };
    Some(operating::operating_point(source?, resistance?, power))
}

/// `build.most_power`
pub(super) fn most_power(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    let point = near_the_end(desk, &mut notes);
    notes.worked(point.map_or(not_known(), |point| point.most_power))
}

/// `build.collapse_voltage`
pub(super) fn collapse_voltage(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    let point = near_the_end(desk, &mut notes);
    notes.worked(point.map_or(not_known(), |point| point.collapse))
}

/// `build.charge_time`: until the slowest group is full, from empty.
pub(super) fn charge_time(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes {
        reach: Reach::All,
        ..Notes::default()
    };
    let time = charge_time_of(desk, &mut notes);
    notes.worked(time.unwrap_or(not_known()))
}

fn charge_time_of(desk: &Desk<'_>, notes: &mut Notes) -> Option<Interval> {
    let current = desk.reader.must(Need::ChargeCurrent, BUILD, notes);
    let count = desk.group_count(notes)?;
    let capacities: Vec<Option<Interval>> = (0..count)
        .map(|group| capacity(desk, group, notes))
        .collect();
    let capacities: Vec<Interval> = capacities.into_iter().collect::<Option<_>>()?;
    let times = capacities.into_iter().map(|capacity| {
        Some(keeping::charge_time(
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

fn capacity(desk: &Desk<'_>, group: usize, notes: &mut Notes) -> Option<Interval> {
    let cells: Vec<Option<Interval>> = desk
        .members(group)?
        .iter()
        .map(|cell| desk.reader.must(Need::Capacity, *cell, notes))
        .collect();
    cells
        .into_iter()
        .try_fold(Interval::point(0.0), |sum, cell| Some(sum + cell?))
}

/// The stop plan for each cell, by the current of the build and the resistance of a cell's share of
/// it.
fn stop_plan(desk: &Desk<'_>, notes: &mut Notes) -> Option<StopPlan> {
    notes.reach = Reach::All;
    let classes = classes(desk, notes);
    let current = highest_current(desk, notes);
    let series = battery::series(desk, notes);
    let resistance = battery::resistance(desk, notes);
    // The whole battery's sag is shared by its groups.
    let each = resistance
        .zip(series)
        .map_or(not_known(), |(resistance, series)| resistance / series);
    let time = desk
        .battery(From::Full, Until::Empty, notes)
        .map_or(not_known(), |battery| battery.run_time);
    Some(stop::stop_plan(classes?, current, each, time))
}

/// `build.stop_at_rest`
pub(super) fn stop_at_rest(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes {
        reach: Reach::All,
        ..Notes::default()
    };
    let series = battery::series(desk, &mut notes);
    let classes = classes(desk, &mut notes);
    let stop = series.zip(classes).map(|(series, classes)| {
        series * stop::stop_plan(classes, not_known(), not_known(), not_known()).rest
    });
    notes.worked(stop.unwrap_or(not_known()))
}

/// `build.stop_loaded`
pub(super) fn stop_loaded(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    let series = battery::series(desk, &mut notes);
    let plan = stop_plan(desk, &mut notes);
    notes.worked(
        series
            .zip(plan)
            .map_or(not_known(), |(series, plan)| series * plan.loaded),
    )
}

/// `build.check_after`
pub(super) fn check_after(desk: &Desk<'_>, _: usize) -> Worked {
    let mut notes = Notes::default();
    let open = desk
        .battery(From::Full, Until::Empty, &mut notes)
        .and_then(|battery| battery.open);
    let plan = stop_plan(desk, &mut notes);
    Worked {
        open: open.map(open::why),
        ..notes.worked(plan.map_or(not_known(), |plan| plan.first_check))
    }
}
