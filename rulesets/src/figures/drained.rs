//! How long cells last that lie in a light which is switched off.

use rules_core::facts::Reach;
use rules_core::quantity::Interval;

use super::needs::Need;
use super::reader::Notes;
use super::shared_work::SharedWork;
use super::storage::{self, Stored};
use super::{cell_facts, drift, rest};
use crate::facts::CELL;

/// What is put away has rested, in hours.
const RESTED: Interval = Interval::point(24.0);

/// What a cell loses by itself, as a part of its charge in 30 days.
pub(super) type OwnLoss = fn(&SharedWork<'_>, usize, &mut Notes) -> Option<Interval>;

/// None: the drain alone is looked at.
pub(super) fn no_loss(_: &SharedWork<'_>, _: usize, _: &mut Notes) -> Option<Interval> {
    Some(Interval::point(0.0))
}

/// Hours until their own loss and the standby drain have emptied a cell and those that it is in
/// parallel with, from the voltage at which they are put away.
pub(super) fn time_to_empty(
    shared: &SharedWork<'_>,
    cell: usize,
    own_loss: OwnLoss,
    notes: &mut Notes,
) -> Option<Interval> {
    let standby = shared.reader.must(Need::Standby, 0, notes);
    let cells: Vec<_> = beside(shared, cell, notes)?
        .iter()
        .map(|one| stored(shared, *one, own_loss, notes))
        .collect();
    let cells: Option<Vec<Stored>> = cells.into_iter().collect();
    Some(storage::last_together(&cells?, standby?))
}

/// The cells of its group, with itself: they are joined, and sink together.
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

fn stored(
    shared: &SharedWork<'_>,
    cell: usize,
    own_loss: OwnLoss,
    notes: &mut Notes,
) -> Option<Stored> {
    let loss = own_loss(shared, cell, notes);
    let stored_at = shared.reader.must(Need::StoredAt, 0, notes);
    let capacity = shared.reader.must(Need::Capacity, cell, notes);
    let classes = cell_facts::classes(shared.reader, cell, notes);
    Some(Stored {
        charge: rest::charge_state(classes?, stored_at?, Some(RESTED)).charge(),
        capacity: capacity?,
        monthly_loss: loss?,
    })
}

/// The part of the charge of a cell that drifts away in 30 days.
pub(super) fn loss_rate(
    shared: &SharedWork<'_>,
    cell: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    let fall = drift::fall(shared.reader, cell, notes);
    let from = shared.reader.must(Need::DriftFrom, cell, notes);
    let over = shared.reader.must(Need::DriftOver, cell, notes);
    let classes = cell_facts::classes(shared.reader, cell, notes);
    let charges = drift::charges(classes?, from?, fall?);
    Some(storage::monthly_loss(classes?, charges, fall? / over?))
}
