//! Figures of a parallel group.

use super::battery::Until;
use super::desk::{Desk, From};
use super::discharge::Discharge;
use super::needs::Notes;
use super::open;
use crate::span::not_known;
use rules_core::facts::Worked;
use rules_core::quantity::Interval;

/// A figure out of a discharge, with what keeps it open.
fn of_discharge(
    desk: &Desk<'_>,
    from: From,
    group: usize,
    figure: fn(&Discharge) -> Interval,
) -> Worked {
    let mut notes = Notes::default();
    match desk.discharge(from, group, &mut notes) {
        Some(discharge) => Worked {
            open: discharge.open.map(open::why),
            ..notes.worked(figure(&discharge))
        },
        None => notes.worked(not_known()),
    }
}

/// `group.start_voltage`
pub(super) fn start_voltage(desk: &Desk<'_>, group: usize) -> Worked {
    of_discharge(desk, From::Full, group, |discharge| discharge.start)
}

/// `group.mid_voltage`
pub(super) fn mid_voltage(desk: &Desk<'_>, group: usize) -> Worked {
    of_discharge(desk, From::Full, group, |discharge| discharge.mid)
}

/// `group.late_voltage`
pub(super) fn late_voltage(desk: &Desk<'_>, group: usize) -> Worked {
    of_discharge(desk, From::Full, group, |discharge| discharge.late)
}

/// `group.delivered`
pub(super) fn delivered(desk: &Desk<'_>, group: usize) -> Worked {
    of_discharge(desk, From::Full, group, |discharge| discharge.delivered)
}

/// `group.voltage_now`
pub(super) fn voltage_now(desk: &Desk<'_>, group: usize) -> Worked {
    of_discharge(desk, From::Rest, group, |discharge| discharge.start)
}

/// `group.charge_left`
pub(super) fn charge_left(desk: &Desk<'_>, group: usize) -> Worked {
    of_discharge(desk, From::Rest, group, |discharge| discharge.delivered)
}

/// `group.end_voltage`
pub(super) fn end_voltage(desk: &Desk<'_>, group: usize) -> Worked {
    end(desk, From::Full, group)
}

/// `group.end_voltage_now`
pub(super) fn end_voltage_now(desk: &Desk<'_>, group: usize) -> Worked {
    end(desk, From::Rest, group)
}

fn end(desk: &Desk<'_>, from: From, group: usize) -> Worked {
    let mut notes = Notes::default();
    match desk.battery(from, Until::LightStops, &mut notes) {
        Some(battery) => {
            let end = battery.cells.get(group).copied().unwrap_or(Interval::WHOLE);
            Worked {
                open: battery.cells_open.map(open::why),
                ..notes.worked(end)
            }
        }
        None => notes.worked(Interval::WHOLE),
    }
}

/// `group.inrush`
pub(super) fn inrush(desk: &Desk<'_>, group: usize) -> Worked {
    let mut notes = Notes::default();
    let inrush = super::battery::inrush(desk, group, &mut notes);
    notes.worked(inrush.unwrap_or(not_known()))
}
