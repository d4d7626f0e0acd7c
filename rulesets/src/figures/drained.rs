//! How long cells last that lie in a light which is switched off.

use rules_core::facts::Reach;
use rules_core::quantity::Interval;

use super::needs::Need;
use super::reader::Notes;
use super::shared_work::SharedWork;
use super::{cell_facts, rest, storage};
use crate::facts::CELL;
use crate::span::not_negative;

/// What is put away has rested, in hours.
const RESTED: Interval = Interval::point(24.0);

/// Hours until the standby drain has emptied a cell and those that it is in parallel with, from the
/// voltage at which they are put away. Joined they are at one voltage, and sink together.
pub(super) fn time_to_empty(
    shared: &SharedWork<'_>,
    cell: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    let standby = shared.reader.must(Need::Standby, 0, notes);
    let cells = beside(shared, cell, notes)?;
    let charges: Vec<_> = cells
        .iter()
        .map(|one| charge(shared, *one, notes))
        .collect();
    let charges: Option<Vec<Interval>> = charges.into_iter().collect();
    let all = charges?
        .into_iter()
        .fold(Interval::point(0.0), |all, one| all + one);
    Some(storage::lasts(all, standby?))
}

/// The cells of its group, with itself.
fn beside(shared: &SharedWork<'_>, cell: usize, notes: &mut Notes) -> Option<Vec<usize>> {
    if shared.reader.must(Need::Parallel, 0, notes)?.hi() <= 1.0 {
        return Some(vec![cell]);
    }
    notes.reach = Reach::Together;
    let group = shared.reader.container(CELL, cell);
    let members = group.and_then(|group| shared.members(group, notes));
    if members.is_none() {
        notes.lacks(Need::CellGroup);
    }
    members.map(<[usize]>::to_vec)
}

/// The charge in Ah with which a cell is put away.
fn charge(shared: &SharedWork<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let stored_at = shared.reader.must(Need::StoredAt, 0, notes);
    let capacity = shared.reader.must(Need::Capacity, cell, notes);
    let classes = cell_facts::classes(shared.reader, cell, notes);
    let state = rest::charge_state(classes?, stored_at?, Some(RESTED));
    Some(not_negative(state.charge()) * not_negative(capacity?))
}
