//! Figures of a parallel group.

use super::battery;
use super::discharge::Discharge;
use super::joined;
use super::margin::OpenReason;
use super::reader::Notes;
use super::shared_work::{From, SharedWork, Until};
use crate::span::not_known;
use rules_core::facts::Worked;
use rules_core::quantity::Interval;

/// A figure out of a discharge, with what keeps it open.
fn of_discharge(
    shared: &SharedWork<'_>,
    from: From,
    group: usize,
    figure: fn(&Discharge) -> Interval,
    mut notes: Notes,
) -> Worked {
    match battery::discharge(shared, from, group, &mut notes) {
        Some(discharge) => Worked {
            open: discharge.open.map(OpenReason::sentence),
            ..notes.worked(figure(&discharge))
        },
        None => notes.worked(not_known()),
    }
}

/// `group.start_voltage`
pub(super) fn start_voltage(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    of_discharge(
        shared,
        From::Full,
        group,
        |discharge| discharge.start,
        notes,
    )
}

/// `group.mid_voltage`
pub(super) fn mid_voltage(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    of_discharge(shared, From::Full, group, |discharge| discharge.mid, notes)
}

/// `group.late_voltage`
pub(super) fn late_voltage(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    of_discharge(shared, From::Full, group, |discharge| discharge.late, notes)
}

/// `group.delivered`
pub(super) fn delivered(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    of_discharge(
        shared,
        From::Full,
        group,
        |discharge| discharge.delivered,
        notes,
    )
}

/// `group.voltage_now`
pub(super) fn voltage_now(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    of_discharge(
        shared,
        From::Rest,
        group,
        |discharge| discharge.start,
        notes,
    )
}

/// `group.charge_left`
pub(super) fn charge_left(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    of_discharge(
        shared,
        From::Rest,
        group,
        |discharge| discharge.delivered,
        notes,
    )
}

/// `group.end_voltage`
pub(super) fn end_voltage(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    end(shared, From::Full, group, notes)
}

/// `group.end_voltage_now`
pub(super) fn end_voltage_now(shared: &SharedWork<'_>, group: usize, notes: Notes) -> Worked {
    end(shared, From::Rest, group, notes)
}

fn end(shared: &SharedWork<'_>, from: From, group: usize, mut notes: Notes) -> Worked {
    match battery::battery(shared, from, Until::LightStops, &mut notes) {
        Some(battery) => {
            let end = battery.cells.get(group).copied().unwrap_or(Interval::WHOLE);
            Worked {
                open: battery.cells_open.map(OpenReason::sentence),
                ..notes.worked(end)
            }
        }
        None => notes.worked(Interval::WHOLE),
    }
}

/// `group.inrush`
pub(super) fn inrush(shared: &SharedWork<'_>, group: usize, mut notes: Notes) -> Worked {
    let inrush = joined::inrush(shared, group, &mut notes);
    notes.worked(inrush.unwrap_or(not_known()))
}
