//! Groups and the build as the model takes them: what the light draws of each, and until when.

use super::desk::{Desk, From};
use super::discharge::{CellModel, Discharge, Draw, Duty, discharge as discharge_of};
use super::needs::{Need, Notes};
use super::string::{self, Member, StringDischarge, StringDuty};
use super::{cells, keeping, parallel, resistance};
use crate::class::Classes;
use crate::span::span;
use rules_core::facts::Reach;
use rules_core::quantity::Interval;

/// The one light, build and place of use.
const ONE: usize = 0;
/// Temperatures that can be at all, in degC, where none is stated.
const ANY_TEMPERATURE: (f64, f64) = (-60.0, 120.0);
/// No cell of any class that has a curve rests higher after a charge, in V.
const HIGHEST_CELL: f64 = 4.4;

/// The resistance grows by up to this factor in minutes of load, in the model of `discharge`.
const MOST_GROWTH: f64 = 1.5;

/// The voltage in V at which a cell is empty: where the curve of its class starts.
pub(super) fn empty(classes: Classes) -> Interval {
    keeping::voltages(classes, None).empty
}

/// The temperature of use.
pub(super) fn temperature(desk: &Desk<'_>, notes: &mut Notes) -> Interval {
    desk.reader
        .must(Need::Ambient, ONE, notes)
        .unwrap_or(span(ANY_TEMPERATURE.0, ANY_TEMPERATURE.1))
}

/// The voltage of the battery at which the light stops: the higher of its own cut-off and the
/// lowest that it runs at. 0 where neither is.
pub(super) fn light_stops(desk: &Desk<'_>, notes: &mut Notes) -> Interval {
    let open = span(0.0, f64::INFINITY);
    let cut_off = desk.reader.must(Need::CutOff, ONE, notes).unwrap_or(open);
    let lowest = desk.reader.must(Need::InputMin, ONE, notes).unwrap_or(open);
    cut_off.max(lowest)
}

/// Groups in series.
pub(super) fn series(desk: &Desk<'_>, notes: &mut Notes) -> Option<Interval> {
    desk.reader.must(Need::Series, ONE, notes)
}

/// The members of a group as models; none if something of one is missing.
fn members(desk: &Desk<'_>, position: usize, notes: &mut Notes) -> Option<Vec<CellModel>> {
    let Some(members) = desk.members(position) else {
        notes.lacks(Need::CellGroup);
        return None;
    };
    // Each is looked at, also after one has something missing: all that is missing is to be named.
    let models: Vec<Option<CellModel>> =
        members.iter().map(|cell| desk.cell(*cell, notes)).collect();
    models.into_iter().collect()
}

/// A group as one cell.
pub(super) fn group(desk: &Desk<'_>, position: usize, notes: &mut Notes) -> Option<CellModel> {
    parallel::as_one(&members(desk, position, notes)?)
}

/// The charge state that the rest voltages of a group show, taken together.
pub(super) fn charge_at_rest(
    desk: &Desk<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    let members = desk.members(position)?;
    let states: Vec<_> = members
        .iter()
        .map(|cell| cells::charge_state(desk.reader, *cell, notes))
        .collect();
    states
        .into_iter()
        .try_fold(None, |hull: Option<Interval>, state| {
            let charge = state?.charge();
            Some(Some(hull.map_or(charge, |hull| hull.hull(charge))))
        })?
}

fn start(desk: &Desk<'_>, from: From, position: usize, notes: &mut Notes) -> Option<Interval> {
    match from {
        From::Full => Some(Interval::point(1.0)),
        From::Rest => charge_at_rest(desk, position, notes),
    }
}

/// What the light takes through each group. In series all carry one current: for a power that is
/// the power over the voltage of the whole, which lies between that of full cells and that at which
/// it ends.
fn draw(desk: &Desk<'_>, classes: Classes, notes: &mut Notes) -> Option<Draw> {
    let power = match battery_draw(desk, notes)? {
        Draw::Power(power) => power,
        current @ Draw::Current(_) => return Some(current),
    };
    let series = series(desk, notes)?;
    if series.hi() <= 1.0 {
        return Some(Draw::Power(power));
    }
    let lowest = light_stops(desk, notes).max(series * empty(classes));
    let highest = series * Interval::point(HIGHEST_CELL);
    Some(Draw::Current(power / lowest.hull(highest)))
}

/// The voltage of a group at which it has fallen to its share of what the light stops at, or is
/// empty.
fn share_of_end(desk: &Desk<'_>, classes: Classes, notes: &mut Notes) -> Option<Interval> {
    let series = series(desk, notes)?;
    Some((light_stops(desk, notes) / series).max(empty(classes)))
}

/// The discharge of a group.
pub(super) fn discharge(
    desk: &Desk<'_>,
    from: From,
    position: usize,
    notes: &mut Notes,
) -> Option<Discharge> {
    let cell = desk.group(position, notes);
    let start = start(desk, from, position, notes);
    let temperature = temperature(desk, notes);
    let classes = cell.map_or(Classes::ALL, |cell| cell.classes);
    let draw = draw(desk, classes, notes);
    let cut_off = share_of_end(desk, classes, notes);
    Some(discharge_of(
        &cell?,
        &Duty {
            draw: draw?,
            start: start?,
            temperature,
            cut_off: cut_off?,
        },
    ))
}

/// Until when a discharge of the whole battery is followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Until {
    /// The light stops by itself; nothing may stop it before cells reverse.
    LightStops,
    /// The light stops, or cells are empty on the whole.
    Empty,
}

/// The discharge of the battery, group by group in series.
pub(super) fn battery(
    desk: &Desk<'_>,
    from: From,
    until: Until,
    notes: &mut Notes,
) -> Option<StringDischarge> {
    notes.reach = notes.reach.max(Reach::All);
    let count = desk.group_count(notes)?;
    if desk.is_one_group() && until == Until::Empty {
        return desk.discharge(from, 0, notes).map(StringDischarge::from);
    }
    let groups: Vec<Option<Member>> = (0..count).map(|at| member(desk, from, at, notes)).collect();
    let temperature = temperature(desk, notes);
    let stops = light_stops(desk, notes);
    let series = series(desk, notes);
    let draw = battery_draw(desk, notes);
    let groups: Vec<Member> = groups.into_iter().collect::<Option<_>>()?;
    let classes = groups
        .iter()
        .map(|group| group.cell.classes)
        .reduce(Classes::or)?;
    let until_empty = stops.max(series? * empty(classes));
    if until == Until::LightStops && until_empty == stops {
        return desk.battery(from, Until::Empty, notes).cloned();
    }
    let cut_off = if until == Until::Empty {
        until_empty
    } else {
        stops
    };
    match groups.as_slice() {
        [Member { cell, start }] => Some(
            discharge_of(
                cell,
                &Duty {
                    draw: draw?,
                    start: *start,
                    temperature,
                    cut_off,
                },
            )
            .into(),
        ),
        _ => string::discharge(
            &groups,
            &StringDuty {
                draw: draw?,
                temperature,
                cut_off,
            },
        ),
    }
}

fn member(desk: &Desk<'_>, from: From, position: usize, notes: &mut Notes) -> Option<Member> {
    let cell = desk.group(position, notes);
    let start = start(desk, from, position, notes);
    Some(Member {
        cell: cell?,
        start: start?,
    })
}

/// What the light takes from the battery as a whole.
pub(super) fn battery_draw(desk: &Desk<'_>, notes: &mut Notes) -> Option<Draw> {
    if let Some(current) = desk.reader.may(Need::DrawCurrent, ONE, notes) {
        return Some(Draw::Current(current));
    }
    if let Some(power) = desk.reader.may(Need::DrawPower, ONE, notes) {
        return Some(Draw::Power(power));
    }
    notes.lacks(Need::DrawCurrent);
    notes.lacks(Need::DrawPower);
    None
}

/// The resistance of the battery at the temperature of use, after minutes of load.
pub(super) fn resistance(desk: &Desk<'_>, notes: &mut Notes) -> Option<Interval> {
    let count = desk.group_count(notes)?;
    let temperature = temperature(desk, notes);
    let groups: Vec<Option<Interval>> = (0..count)
        .map(|group| group_resistance(desk, group, temperature, notes))
        .collect();
    groups
        .into_iter()
        .try_fold(Interval::point(0.0), |sum, group| Some(sum + group?))
}

fn group_resistance(
    desk: &Desk<'_>,
    group: usize,
    temperature: Interval,
    notes: &mut Notes,
) -> Option<Interval> {
    let cells = desk.members(group)?.iter().map(|cell| {
        let r10 = cells::r10(desk.reader, *cell, notes);
        let classes = cells::classes(desk.reader, *cell, notes);
        Some(resistance::at_any(r10?, classes?, temperature) * span(1.0, MOST_GROWTH))
    });
    let cells: Vec<Option<Interval>> = cells.collect();
    Some(joint(&cells.into_iter().collect::<Option<Vec<_>>>()?))
}

/// Resistances joined in parallel: each end by the same ends of all.
fn joint(resistances: &[Interval]) -> Interval {
    let end =
        |of: fn(Interval) -> f64| 1.0 / resistances.iter().map(|one| 1.0 / of(*one)).sum::<f64>();
    span(end(Interval::lo), end(Interval::hi))
}

/// The share of the group's current that each of its cells carries.
pub(super) fn shares(desk: &Desk<'_>, group: usize, notes: &mut Notes) -> Option<Vec<Interval>> {
    let members = desk.members(group)?;
    let resistances: Vec<Option<Interval>> = members
        .iter()
        .map(|cell| cells::r10(desk.reader, *cell, notes))
        .collect();
    Some(parallel::shares(
        &resistances.into_iter().collect::<Option<Vec<_>>>()?,
    ))
}

/// The highest current through any cell of a group in the moment it is joined.
pub(super) fn inrush(desk: &Desk<'_>, group: usize, notes: &mut Notes) -> Option<Interval> {
    let Some(members) = desk.members(group) else {
        notes.lacks(Need::CellGroup);
        return None;
    };
    if desk.cells_in(group) < 2 {
        return Some(Interval::point(0.0));
    }
    let all = members.iter().map(|cell| {
        let rest = desk.reader.must(Need::RestVoltage, *cell, notes);
        let r10 = cells::r10(desk.reader, *cell, notes);
        Some(parallel::Joined {
            rest: rest?,
            r10: r10?,
        })
    });
    let all: Vec<Option<parallel::Joined>> = all.collect();
    Some(parallel::inrush(
        &all.into_iter().collect::<Option<Vec<_>>>()?,
    ))
}
