//! What two capacity tests of one cell say of each other.

use super::body::Body;
use super::model::{CellModel, MOST_TESTS};
use super::seen::Seen;
use crate::class::Class;
use crate::span::{both, not_known};
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

/// Compares the first capacity test of a cell with the others. None if it is the only one.
#[must_use]
pub fn compared_tests(cell: &CellModel) -> Option<Compared> {
    let seen: Vec<Seen> = (1..MOST_TESTS)
        .filter_map(|place| cell.seen_by((0, Some(place))))
        .collect();
    seen.iter().map(compared).reduce(Compared::and)
}

/// What the test beside another says of it.
fn compared(cell: &Seen) -> Compared {
    let unlike = cell
        .beside
        .is_none_or(|slow| !same_end(cell.capacity.cut_off, slow.cut_off));
    if cell.classes.contains(Class::Ifr) && unlike {
        return Compared::UnlikeEnds;
    }
    let ratio = cell.classes.hull(|class| {
        Body::of(class, cell)
            .slow()
            .map_or(not_known(), |slow| slow.ratio)
    });
    if ratio.is_bounded() {
        Compared::Ratio(ratio)
    } else {
        Compared::Doubtful
    }
}

impl Compared {
    /// What two comparisons say together: what both allow.
    fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Ratio(one), Self::Ratio(other)) => {
                Self::Ratio(both(one, other).unwrap_or(one.hull(other)))
            }
            (Self::Ratio(ratio), _) | (_, Self::Ratio(ratio)) => Self::Ratio(ratio),
            (one, _) => one,
        }
    }
}

/// End voltages closer than this, in V, are the same.
const SAME_END: f64 = 1e-6;

fn same_end(one: Interval, other: Interval) -> bool {
    one.hull(other).width() <= SAME_END
}

/// Whether a slow capacity test proves that the rate of the ordinary one did not limit the cell, of
/// whichever class it is.
pub(in crate::figures) fn is_proved_unlimited(cell: &CellModel) -> bool {
    (1..MOST_TESTS).any(|place| {
        cell.seen_by((0, Some(place)))
            .is_some_and(|seen| is_proved(&seen))
    })
}

fn is_proved(seen: &Seen) -> bool {
    seen.classes.iter().all(|class| {
        Body::of(class, seen)
            .slow()
            .is_some_and(|slow| slow.proves())
    })
}
