//! Groups and the build as the model takes them: what the light draws of each, and until when.

use super::cell_facts::Compared;
use super::discharge::{CellModel, Discharge, Draw, Duty, discharge as discharge_of};
use super::needs::{GROUP_MODEL, MODEL, Need, SHARES};
use super::parallel::Joined;
use super::reader::Notes;
use super::shared_work::{From, SharedWork, Until};
use super::string::{self, Member, StringDischarge, StringDuty};
use super::{cell_facts, class_voltages, parallel, resistance};
use crate::class::Classes;
use crate::facts::{CELL, GROUP};
use crate::span::{both, not_known, not_negative, span};
use rules_core::facts::Reach;
use rules_core::quantity::{Interval, Measure, OneMeter};

/// The one light, build and place of use.
const ONE: usize = 0;
/// Temperatures in degC that may be written for that of use, where none is.
const ANY_TEMPERATURE: (f64, f64) = (-60.0, 90.0);
/// No cell of any class that has a curve rests higher after a charge, in V.
const HIGHEST_CELL: f64 = 4.4;

/// The resistance grows by up to this factor in minutes of load, in the model of `discharge`.
const MOST_GROWTH: f64 = 1.5;

/// The voltage in V at which a cell is empty: where the curve of its class starts.
pub(super) fn empty(classes: Classes) -> Interval {
    class_voltages::voltages(classes, None).empty
}

/// The temperature of use.
pub(super) fn temperature(shared: &SharedWork<'_>, notes: &mut Notes) -> Interval {
    shared
        .reader
        .must(Need::Ambient, ONE, notes)
        .unwrap_or(span(ANY_TEMPERATURE.0, ANY_TEMPERATURE.1))
}

/// The voltage of the battery at which the light stops: the higher of its own cut-off and the
/// lowest that it runs at. 0 where neither is.
pub(super) fn light_stops(shared: &SharedWork<'_>, notes: &mut Notes) -> Interval {
    let open = span(0.0, f64::INFINITY);
    let cut_off = shared.reader.must(Need::CutOff, ONE, notes).unwrap_or(open);
    let lowest = shared
        .reader
        .must(Need::InputMin, ONE, notes)
        .unwrap_or(open);
    cut_off.max(lowest)
}

/// Groups in series.
pub(super) fn series(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Interval> {
    shared.reader.must(Need::Series, ONE, notes)
}

/// The members of a group as models; none if something of one is missing.
fn members(shared: &SharedWork<'_>, position: usize, notes: &mut Notes) -> Option<Vec<CellModel>> {
    let Some(members) = shared.members(position, notes) else {
        notes.lacks(Need::CellGroup);
        return None;
    };
    // Each is looked at, also after one has something missing: all that is missing is to be named.
    let models: Vec<Option<CellModel>> = members
        .iter()
        .map(|member| cell(shared, *member, notes))
        .collect();
    models.into_iter().collect()
}

/// A cell as the model takes it.
pub(super) fn cell(shared: &SharedWork<'_>, at: usize, notes: &mut Notes) -> Option<CellModel> {
    let kept = shared.cells.get(at)?;
    *kept.get(MODEL, notes, |notes| {
        cell_facts::model(shared.reader, at, notes)
    })?
}

/// A group as one cell.
pub(super) fn group(shared: &SharedWork<'_>, at: usize, notes: &mut Notes) -> Option<CellModel> {
    let kept = &shared.groups.get(at)?.model;
    *kept.get(GROUP_MODEL, notes, |notes| work_group(shared, at, notes))?
}

fn work_group(shared: &SharedWork<'_>, position: usize, notes: &mut Notes) -> Option<CellModel> {
    parallel::as_one(&members(shared, position, notes)?)
}

/// The charge state that the rest voltages of a group show, taken together.
pub(super) fn charge_at_rest(
    shared: &SharedWork<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    let members = shared.members(position, notes)?;
    let states: Vec<_> = members
        .iter()
        .map(|cell| cell_facts::charge_state(shared.reader, *cell, notes))
        .collect();
    states
        .into_iter()
        .try_fold(None, |hull: Option<Interval>, state| {
            let charge = state?.charge();
            Some(Some(hull.map_or(charge, |hull| hull.hull(charge))))
        })?
}

fn start(
    shared: &SharedWork<'_>,
    from: From,
    position: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    match from {
        From::Full => Some(Interval::point(1.0)),
        From::Rest => charge_at_rest(shared, position, notes),
    }
}

/// What the light takes through each group. In series all carry one current: for a power that is
/// the power over the voltage of the whole, which lies between that of full cells and that at which
/// it ends.
fn draw(shared: &SharedWork<'_>, classes: Classes, notes: &mut Notes) -> Option<Draw> {
    let power = match battery_draw(shared, notes)? {
        Draw::Power(power) => power,
        current @ Draw::Current(_) => return Some(current),
    };
    let series = series(shared, notes)?;
    if series.hi() <= 1.0 {
        return Some(Draw::Power(power));
    }
    let lowest = light_stops(shared, notes).max(series * empty(classes));
    let highest = series * Interval::point(HIGHEST_CELL);
    Some(Draw::Current(power / lowest.hull(highest)))
}

/// The voltage of a group at which it has fallen to its share of what the light stops at, or is
/// empty.
fn share_of_end(shared: &SharedWork<'_>, classes: Classes, notes: &mut Notes) -> Option<Interval> {
    let series = series(shared, notes)?;
    Some((light_stops(shared, notes) / series).max(empty(classes)))
}

/// The discharge of a group, until it falls to its share of the voltage at which the light stops or
/// cells are empty.
pub(super) fn discharge(
    shared: &SharedWork<'_>,
    from: From,
    at: usize,
    notes: &mut Notes,
) -> Option<Discharge> {
    let kept = shared.groups.get(at)?.discharge(from)?;
    *kept.get(from.needs(), notes, |notes| {
        work_discharge(shared, from, at, notes)
    })?
}

fn work_discharge(
    shared: &SharedWork<'_>,
    from: From,
    position: usize,
    notes: &mut Notes,
) -> Option<Discharge> {
    let cell = group(shared, position, notes);
    let start = start(shared, from, position, notes);
    let temperature = temperature(shared, notes);
    let classes = cell.map_or(Classes::ALL, |cell| cell.classes);
    let draw = draw(shared, classes, notes);
    let cut_off = share_of_end(shared, classes, notes);
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

/// The discharge of the whole battery.
pub(super) fn battery<'k>(
    shared: &'k SharedWork<'_>,
    from: From,
    until: Until,
    notes: &mut Notes,
) -> Option<&'k StringDischarge> {
    let kept = shared.battery(from, until)?;
    kept.get(from.needs(), notes, |notes| {
        work_battery(shared, from, until, notes)
    })?
    .as_ref()
}

/// Group by group in series.
fn work_battery(
    shared: &SharedWork<'_>,
    from: From,
    until: Until,
    notes: &mut Notes,
) -> Option<StringDischarge> {
    notes.reach = notes.reach.max(Reach::All);
    let count = shared.group_count(notes)?;
    if shared.reader.is_one(GROUP) && until == Until::Empty {
        return discharge(shared, from, 0, notes).map(StringDischarge::from);
    }
    let groups: Vec<Option<Member>> = (0..count)
        .map(|at| member(shared, from, at, notes))
        .collect();
    let temperature = temperature(shared, notes);
    let stops = light_stops(shared, notes);
    let series = series(shared, notes);
    let draw = battery_draw(shared, notes);
    let groups: Vec<Member> = groups.into_iter().collect::<Option<_>>()?;
    let classes = groups
        .iter()
        .map(|group| group.cell.classes)
        .reduce(Classes::or)?;
    let until_empty = stops.max(series? * empty(classes));
    if until == Until::LightStops && until_empty == stops {
        return battery(shared, from, Until::Empty, notes).cloned();
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

fn member(
    shared: &SharedWork<'_>,
    from: From,
    position: usize,
    notes: &mut Notes,
) -> Option<Member> {
    let cell = group(shared, position, notes);
    let start = start(shared, from, position, notes);
    Some(Member {
        cell: cell?,
        start: start?,
    })
}

/// What the light takes from the battery as a whole.
pub(super) fn battery_draw(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Draw> {
    if let Some(current) = shared.reader.may(Need::DrawCurrent, ONE, notes) {
        return Some(Draw::Current(current));
    }
    if let Some(power) = shared.reader.may(Need::DrawPower, ONE, notes) {
        return Some(Draw::Power(power));
    }
    notes.lacks(Need::DrawCurrent);
    notes.lacks(Need::DrawPower);
    None
}

/// The highest current that the light takes from the battery.
pub(super) fn highest_current(shared: &SharedWork<'_>, notes: &mut Notes) -> Interval {
    let reader = shared.reader;
    let power = match battery_draw(shared, notes) {
        Some(Draw::Current(current)) => return current,
        Some(Draw::Power(power)) => power,
        None => return not_known(),
    };
    let cut_off = reader.must(Need::CutOff, ONE, notes);
    let input_min = reader.must(Need::InputMin, ONE, notes);
    match (cut_off, input_min) {
        (Some(cut_off), Some(input_min)) => not_negative(power / cut_off.max(input_min)),
        // One of the two is enough for an upper bound: the other can only raise the lowest voltage.
        (Some(lowest), None) | (None, Some(lowest)) => span(0.0, (power / lowest).hi()),
        (None, None) => not_known(),
    }
}

/// The resistance of the battery at the temperature of use, after minutes of load.
pub(super) fn resistance(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Interval> {
    let count = shared.group_count(notes)?;
    let temperature = temperature(shared, notes);
    let groups: Vec<Option<Interval>> = (0..count)
        .map(|group| group_resistance(shared, group, temperature, notes))
        .collect();
    groups
        .into_iter()
        .try_fold(Interval::point(0.0), |sum, group| Some(sum + group?))
}

fn group_resistance(
    shared: &SharedWork<'_>,
    group: usize,
    temperature: Interval,
    notes: &mut Notes,
) -> Option<Interval> {
    let cells = shared.members(group, notes)?.iter().map(|cell| {
        let used = cell_facts::r10_at(shared.reader, *cell, temperature, notes)?;
        Some(used * span(1.0, MOST_GROWTH))
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

/// The share of its group's current that a cell carries.
pub(super) fn share(
    shared: &SharedWork<'_>,
    group: usize,
    cell: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    let kept = &shared.groups.get(group)?.shares;
    let shares = kept.get(SHARES, notes, |notes| work_shares(shared, group, notes))?;
    let mut members = shared.members(group, notes)?.iter();
    let place = members.position(|member| *member == cell)?;
    shares.as_ref()?.get(place).copied()
}

fn work_shares(shared: &SharedWork<'_>, group: usize, notes: &mut Notes) -> Option<Vec<Interval>> {
    let members = shared.members(group, notes)?;
    let resistances: Vec<Option<Interval>> = members
        .iter()
        .map(|cell| cell_facts::r10(shared.reader, *cell, notes))
        .collect();
    let each = parallel::shares(&resistances.into_iter().collect::<Option<Vec<_>>>()?);
    Some(match shares_beside(shared, members, notes) {
        Some(beside) => each
            .iter()
            .zip(beside)
            .map(|(one, other)| both(*one, other).unwrap_or(*one))
            .collect(),
        None => each,
    })
}

/// The shares by what readings of like cells say of each beside the others.
fn shares_beside(
    shared: &SharedWork<'_>,
    members: &[usize],
    notes: &mut Notes,
) -> Option<Vec<Interval>> {
    let mut tried = notes.apart();
    let all: Vec<Option<Compared>> = members
        .iter()
        .map(|cell| cell_facts::compared(shared.reader, *cell, &mut tried))
        .collect();
    let all: Option<Vec<Compared>> = all.into_iter().collect();
    let Some((all, factor)) = all.and_then(|all| Compared::between(&all).map(|by| (all, by)))
    else {
        notes.leave(tried);
        return None;
    };
    notes.join(tried);
    let values: Vec<Interval> = all.iter().map(|one| one.value).collect();
    Some(parallel::shares(&resistance::beside_others(
        &values, factor,
    )))
}

/// The highest current through any cell of a group in the moment it is joined.
pub(super) fn inrush(shared: &SharedWork<'_>, group: usize, notes: &mut Notes) -> Option<Interval> {
    let Some(members) = shared.members(group, notes) else {
        notes.lacks(Need::CellGroup);
        return None;
    };
    if shared.reader.size(members, CELL, GROUP) < 2 {
        return Some(Interval::point(0.0));
    }
    let all = members.iter().map(|cell| {
        let rest = shared.reader.must_measure(Need::RestVoltage, *cell, notes);
        let r10 = cell_facts::r10(shared.reader, *cell, notes);
        Some((rest?, r10?))
    });
    let all: Vec<Option<(Measure, Interval)>> = all.collect();
    let (rests, r10s): (Vec<_>, Vec<_>) = all
        .into_iter()
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .unzip();
    Some(inrush_of(&rests, &r10s))
}

/// The rush of cells with these readings at rest. Currents follow differences of voltages, so that
/// what all readings share of one meter's error hardly counts.
fn inrush_of(rests: &[Measure], r10s: &[Interval]) -> Interval {
    let at = |rests: Vec<Interval>| {
        let joined = rests
            .into_iter()
            .zip(r10s)
            .map(|(rest, r10)| Joined { rest, r10: *r10 });
        parallel::inrush(&joined.collect::<Vec<_>>())
    };
    let ordinary = at(rests.iter().map(Measure::range).collect());
    let apart = OneMeter::of(rests.iter().copied()).map(|one| one.factor * at(one.cores));
    apart
        .and_then(|apart| both(ordinary, apart))
        .unwrap_or(ordinary)
}
