//! How long cells last that lie in a light which is switched off.

use rules_core::quantity::Interval;

use super::needs::Need;
use super::reader::Notes;
use super::shared_work::SharedWork;
use super::{cell_facts, rest, storage};
use crate::span::{not_negative, span};

/// What is put away has rested, in hours.
const RESTED: Interval = Interval::point(24.0);

/// Hours until the standby drain has emptied a cell, from the voltage at which it is put away.
pub(super) fn time_to_empty(
    shared: &SharedWork<'_>,
    cell: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    let drain = drain(shared, notes);
    let charge = charge(shared, cell, notes);
    Some(storage::lasts(charge?, drain?))
}

/// The drain on the battery runs through every group. In the worst case this cell bears all of its
/// group's, in the best the others do.
fn drain(shared: &SharedWork<'_>, notes: &mut Notes) -> Option<Interval> {
    let standby = shared.reader.must(Need::Standby, 0, notes);
    let parallel = shared.reader.must(Need::Parallel, 0, notes);
    match parallel?.hi() <= 1.0 {
        true => standby,
        false => Some(span(0.0, standby?.hi())),
    }
}

/// The charge in Ah with which a cell is put away.
fn charge(shared: &SharedWork<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let stored_at = shared.reader.must(Need::StoredAt, 0, notes);
    let capacity = shared.reader.must(Need::Capacity, cell, notes);
    let classes = cell_facts::classes(shared.reader, cell, notes);
    let state = rest::charge_state(classes?, stored_at?, Some(RESTED));
    Some(not_negative(state.charge()) * not_negative(capacity?))
}
