//! Cells side by side in a group: their resistance together, how they share a current, and what flows
//! when they are joined.

use super::cell_facts::{self, Compared};
use super::light::temperature;
use super::needs::{Need, SHARES};
use super::parallel::{self, Joined};
use super::reader::Notes;
use super::resistance as resistance_of;
use super::shared_work::SharedWork;
use crate::facts::{CELL, GROUP};
use crate::span::{both, span};
use rules_core::quantity::{Interval, Measure, OneMeter};

/// The resistance grows by up to this factor in minutes of load, in the model of `discharge`.
const MOST_GROWTH: f64 = 1.5;

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
    Some(parallel::shares(&resistance_of::beside_others(
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
