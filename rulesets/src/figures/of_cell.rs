//! Figures of a cell.

use super::discharge::Compared;
use super::margin::OpenReason;
use super::needs::{FURTHER_TESTS, Need};
use super::reader::Notes;
use super::rest::ChargeState;
use super::shared_work::SharedWork;
use super::{battery, cell_facts, discharge, drained, drift, joined, light, rating, storage};
use crate::facts::CELL;
use crate::sizes;
use crate::span::{not_known, span};
use rules_core::facts::{Reach, Worked};
use rules_core::quantity::Interval;

/// Why a figure is open: a rest voltage that no charge state of the class has.
const OFF_CURVE: &str =
    "the rest voltage is outside the curve of the cell's class; check the class and the reading";

/// Why a figure is open: two capacity tests that cannot be compared.
const UNLIKE_ENDS: &str = "two capacity tests of an iron phosphate cell compare only where both ended at the same voltage";

/// One joule in Wh.
const HOURS_OF_JOULES: f64 = 1.0 / 3600.0;

/// `cell.charge_state`
pub(super) fn charge_state(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    match cell_facts::charge_state(shared.reader, cell, &mut notes) {
        Some(ChargeState::Known(charge)) => notes.worked(charge),
        Some(outside) => Worked {
            open: Some(OFF_CURVE),
            ..notes.worked(outside.charge())
        },
        None => notes.worked(Interval::WHOLE),
    }
}

/// `cell.dc_resistance`
pub(super) fn dc_resistance(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let r10 = cell_facts::r10(shared.reader, cell, &mut notes);
    notes.worked(r10.unwrap_or(not_known()))
}

/// `cell.capacity_ratio`
pub(super) fn capacity_ratio(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let model = battery::cell(shared, cell, &mut notes);
    if model.is_none_or(|model| model.tests().count() < 2) {
        let [second, ..] = FURTHER_TESTS;
        for need in second.whole() {
            shared.reader.must(need, cell, &mut notes);
        }
    }
    let unknown = |open: Option<&'static str>| Worked {
        open,
        ..notes.worked(not_known())
    };
    match model.as_ref().and_then(discharge::compared_tests) {
        Some(Compared::Ratio(ratio)) => notes.worked(ratio),
        Some(Compared::Doubtful) => unknown(Some(OpenReason::DoubtfulTest.sentence())),
        Some(Compared::UnlikeEnds) => unknown(Some(UNLIKE_ENDS)),
        None => unknown(None),
    }
}

/// The resistance of a cell at the temperature of use.
fn resistance_in_use(shared: &SharedWork<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let temperature = light::temperature(shared, notes);
    cell_facts::r10_at(shared.reader, cell, temperature, notes)
}

/// `cell.current`: its share of the highest current of the battery.
pub(super) fn current(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let current = highest_current(shared, cell, &mut notes);
    notes.worked(current)
}

fn highest_current(shared: &SharedWork<'_>, cell: usize, notes: &mut Notes) -> Interval {
    let battery = light::highest_current(shared, notes);
    let share = share(shared, cell, notes).unwrap_or(span(0.0, 1.0));
    battery * share
}

/// The share of its group's current that a cell carries.
fn share(shared: &SharedWork<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let parallel = shared.reader.must(Need::Parallel, 0, notes)?;
    if parallel.hi() <= 1.0 {
        return Some(Interval::point(1.0));
    }
    notes.reach = Reach::Together;
    let group = shared.reader.container(CELL, cell);
    let share = group.and_then(|group| joined::share(shared, group, cell, notes));
    if group.is_none_or(|group| shared.members(group, notes).is_none()) {
        notes.lacks(Need::CellGroup);
    }
    share
}

/// `cell.rate`
pub(super) fn rate(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let capacity = shared.reader.must(Need::Capacity, cell, &mut notes);
    let current = highest_current(shared, cell, &mut notes);
    notes.worked(capacity.map_or(not_known(), |capacity| rating::rate(current, capacity)))
}

/// `cell.heat`
pub(super) fn heat(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let resistance = resistance_in_use(shared, cell, &mut notes);
    let current = highest_current(shared, cell, &mut notes);
    notes.worked(resistance.map_or(not_known(), |resistance| rating::heat(current, resistance)))
}

/// `cell.kelvin_heat`
pub(super) fn kelvin_heat(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let (can, classes) = cell_facts::can(shared.reader, cell, &mut notes);
    notes.worked(sizes::heat_capacity(&can, classes) * Interval::point(HOURS_OF_JOULES))
}

/// `cell.most_capacity`
pub(super) fn most_capacity(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let (can, classes) = cell_facts::can(shared.reader, cell, &mut notes);
    notes.worked(sizes::most_capacity(&can, classes))
}

/// `cell.new_resistance`
pub(super) fn new_resistance(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let (can, classes) = cell_facts::can(shared.reader, cell, &mut notes);
    notes.worked(sizes::new_resistance(&can, classes))
}

/// `cell.energy`
pub(super) fn energy(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let energy = cell_facts::rated_energy(shared.reader, cell, &mut notes);
    notes.worked(energy.unwrap_or(not_known()))
}

/// `cell.fall`
pub(super) fn fall(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let fall = drift::fall(shared.reader, cell, &mut notes);
    notes.worked(fall.unwrap_or(Interval::WHOLE))
}

/// `cell.loss_in_30_days`
pub(super) fn loss(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let loss = loss_rate(shared, cell, &mut notes);
    notes.worked(loss.unwrap_or(Interval::WHOLE))
}

fn loss_rate(shared: &SharedWork<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let fall = drift::fall(shared.reader, cell, notes);
    let from = shared.reader.must(Need::DriftFrom, cell, notes);
    let over = shared.reader.must(Need::DriftOver, cell, notes);
    let classes = cell_facts::classes(shared.reader, cell, notes);
    let charges = drift::charges(classes?, from?, fall?);
    Some(storage::monthly_loss(classes?, charges, fall? / over?))
}

/// `cell.keeps_for`
pub(super) fn keeps_for(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let time = drained::time_to_empty(shared, cell, &mut notes);
    notes.worked(time.unwrap_or(not_known()))
}
