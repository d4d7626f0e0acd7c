//! What two capacity tests of one cell say of each other.

use super::body::Body;
use super::model::CellModel;
use crate::class::Class;
use crate::span::not_known;
use rules_core::quantity::Interval;

/// What two capacity tests of a cell say of each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Compared {
    /// The charge that the ordinary test implies, by the one that the slow test implies.
    Ratio(Interval),
    /// One of them cannot be of such a cell.
    Doubtful,
    /// They ended at different voltages, and the cell is or may be of iron phosphate: some of these
    /// have much charge left there, and others none.
    UnlikeEnds,
}

/// Compares the capacity tests of a cell. None without a slow test.
#[must_use]
pub fn compared_tests(cell: &CellModel) -> Option<Compared> {
    let slow = cell.slow?;
    if cell.classes.contains(Class::Ifr) && !same_end(cell.capacity.cut_off, slow.cut_off) {
        return Some(Compared::UnlikeEnds);
    }
    let ratio = cell.classes.hull(|class| {
        Body::of(class, cell)
            .slow()
            .map_or(not_known(), |slow| slow.ratio)
    });
    Some(if ratio.is_bounded() {
        Compared::Ratio(ratio)
    } else {
        Compared::Doubtful
    })
}

/// End voltages closer than this, in V, are the same.
const SAME_END: f64 = 1e-6;

fn same_end(one: Interval, other: Interval) -> bool {
    one.hull(other).width() <= SAME_END
}

/// Whether a slow capacity test proves that the rate of the ordinary one did not limit the cell, of
/// whichever class it is.
pub(in crate::figures) fn is_proved_unlimited(cell: &CellModel) -> bool {
    cell.slow.is_some()
        && cell.classes.iter().all(|class| {
            Body::of(class, cell)
                .slow()
                .is_some_and(|slow| slow.proves())
        })
}
