//! Groups and the build as the model takes them, and their discharges.

use super::discharge::{CellModel, Discharge, Draw, Duty, discharge as discharge_of};
use super::light::{battery_draw, empty, light_stops, series, temperature};
use super::needs::{GROUP_MODEL, MODEL, Need};
use super::reader::Notes;
use super::shared_work::{From, SharedWork, Until};
use super::string::{self, Member, StringDischarge, StringDuty};
use super::{cell_facts, parallel};
use crate::class::Classes;
use crate::facts::GROUP;
use rules_core::facts::Reach;
use rules_core::quantity::Interval;

/// No cell of any class that has a curve rests higher after a charge, in V.
const HIGHEST_CELL: f64 = 4.4;

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
