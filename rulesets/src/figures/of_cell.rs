//! Figures of a cell.

use super::cells;
use super::desk::Desk;
use super::discharge::Compared;
use super::margin::Open;
use super::needs::{Need, Notes};
use super::rest::ChargeState;
use super::{battery, discharge, keeping, of_build, open, resistance};
use crate::facts::CELL;
use crate::span::{not_known, span};
use rules_core::facts::{Reach, Worked};
use rules_core::quantity::Interval;

/// `cell.charge_state`
pub(super) fn charge_state(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    match cells::charge_state(desk.reader, cell, &mut notes) {
        Some(ChargeState::Known(charge)) => notes.worked(charge),
        Some(outside) => Worked {
            open: Some(open::OFF_CURVE),
            ..notes.worked(outside.charge())
        },
        None => notes.worked(Interval::WHOLE),
    }
}

/// `cell.dc_resistance`
pub(super) fn dc_resistance(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let r10 = cells::r10(desk.reader, cell, &mut notes);
    notes.worked(r10.unwrap_or(not_known()))
}

/// `cell.capacity_ratio`
pub(super) fn capacity_ratio(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let model = desk.cell(cell, &mut notes);
    for need in [
        Need::SlowCapacity,
        Need::SlowCapacityAt,
        Need::SlowCapacityTo,
    ] {
        desk.reader.must(need, cell, &mut notes);
    }
    let unknown = |open: Option<&'static str>| Worked {
        open,
        ..notes.worked(not_known())
    };
    match model.as_ref().and_then(discharge::compared_tests) {
        Some(Compared::Ratio(ratio)) => notes.worked(ratio),
        Some(Compared::Doubtful) => unknown(Some(open::why(Open::DoubtfulTest))),
        Some(Compared::UnlikeEnds) => unknown(Some(open::UNLIKE_ENDS)),
        None => unknown(None),
    }
}

/// The resistance of a cell at the temperature of use.
fn resistance_in_use(desk: &Desk<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let r10 = cells::r10(desk.reader, cell, notes);
    let classes = cells::classes(desk.reader, cell, notes);
    Some(resistance::at_any(
        r10?,
        classes?,
        battery::temperature(desk, notes),
    ))
}

/// `cell.current`: its share of the highest current of the battery.
pub(super) fn current(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let current = highest_current(desk, cell, &mut notes);
    notes.worked(current)
}

fn highest_current(desk: &Desk<'_>, cell: usize, notes: &mut Notes) -> Interval {
    let battery = of_build::highest_current(desk, notes);
    let share = share(desk, cell, notes).unwrap_or(span(0.0, 1.0));
    battery * share
}

/// The share of its group's current that a cell carries.
fn share(desk: &Desk<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let parallel = desk.reader.must(Need::Parallel, 0, notes)?;
    if parallel.hi() <= 1.0 {
        return Some(Interval::point(1.0));
    }
    notes.reach = Reach::Together;
    let group = desk
        .reader
        .facts()
        .sheet()
        .instance(CELL, cell)
        .and_then(|one| one.container);
    let share = group.and_then(|group| desk.share(group, cell, notes));
    if group.is_none_or(|group| desk.members(group).is_none()) {
        notes.lacks(Need::CellGroup);
    }
    share
}

/// `cell.rate`
pub(super) fn rate(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let capacity = desk.reader.must(Need::Capacity, cell, &mut notes);
    let current = highest_current(desk, cell, &mut notes);
    notes.worked(capacity.map_or(not_known(), |capacity| keeping::rate(current, capacity)))
}

/// `cell.heat`
pub(super) fn heat(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let resistance = resistance_in_use(desk, cell, &mut notes);
    let current = highest_current(desk, cell, &mut notes);
    notes.worked(resistance.map_or(not_known(), |resistance| keeping::heat(current, resistance)))
}

/// `cell.energy`
pub(super) fn energy(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let energy = rated_energy(desk, cell, &mut notes);
    notes.worked(energy.unwrap_or(not_known()))
}

pub(super) fn rated_energy(desk: &Desk<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let rated = desk.reader.must(Need::RatedCapacity, cell, notes);
    let classes = cells::classes(desk.reader, cell, notes);
    Some(keeping::energy(
        rated?,
        keeping::voltages(classes?, None).nominal,
    ))
}

/// `cell.loss_in_30_days`
pub(super) fn loss(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let loss = loss_rate(desk, cell, &mut notes);
    notes.worked(loss.unwrap_or(Interval::WHOLE))
}

/// The part of the charge that drifts away in 30 days.
fn loss_rate(desk: &Desk<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let fall = desk.reader.must(Need::DriftFall, cell, notes);
    let over = desk.reader.must(Need::DriftOver, cell, notes);
    let charge = cells::charge_state(desk.reader, cell, notes);
    let classes = cells::classes(desk.reader, cell, notes);
    Some(keeping::monthly_loss(
        classes?,
        charge?.charge(),
        fall? / over?,
    ))
}

/// `cell.keeps_for`
pub(super) fn keeps_for(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let time = time_to_empty(desk, cell, &mut notes);
    notes.worked(time.unwrap_or(not_known()))
}

fn time_to_empty(desk: &Desk<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let loss = loss_rate(desk, cell, notes);
    let charge = cells::charge_state(desk.reader, cell, notes);
    let capacity = desk.reader.must(Need::Capacity, cell, notes);
    let standby = desk.reader.must(Need::Standby, 0, notes);
    // The drain on the battery runs through every group; in the worst case this cell bears all of
    // its group's.
    let drain = span(0.0, standby.map_or(f64::INFINITY, Interval::hi));
    let own = if desk.reader.must(Need::Parallel, 0, notes)?.hi() <= 1.0 {
        standby.unwrap_or(drain)
    } else {
        drain
    };
    Some(keeping::lasts(charge?.charge(), capacity?, own, loss?))
}
