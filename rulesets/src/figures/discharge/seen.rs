//! A cell as one of its capacity tests shows it, with another beside it.

use super::model::{CapacityTest, CellModel, MOST_TESTS, Shown};
use crate::class::Classes;
use rules_core::quantity::Interval;

/// A cell as one of its capacity tests shows it. The model takes its charge from that test, and from
/// another beside it whether the cell is limited by its rate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::figures) struct Seen {
    pub(in crate::figures) classes: Classes,
    pub(in crate::figures) capacity: CapacityTest,
    pub(in crate::figures) beside: Option<CapacityTest>,
    pub(in crate::figures) r10: Interval,
}

/// Which test shows a cell, and which stands beside it: places among its tests.
pub(in crate::figures) type Pick = (usize, Option<usize>);

impl CellModel {
    /// The test at a place: the first is at 0.
    pub(in crate::figures) fn test(&self, place: usize) -> Option<CapacityTest> {
        match place.checked_sub(1) {
            None => Some(self.capacity),
            Some(further) => self.further.get(further).copied().flatten(),
        }
    }

    /// All tests.
    pub(in crate::figures) fn tests(&self) -> impl Iterator<Item = CapacityTest> {
        std::iter::once(self.capacity).chain(self.further.into_iter().flatten())
    }

    /// All tests but the first, and every test as if it had ended on its way.
    pub(in crate::figures) fn others(&self) -> impl Iterator<Item = CapacityTest> {
        let further = self.further.into_iter().flatten();
        let on_the_way = self.shown_by().flat_map(|(test, shown)| {
            let by_part = [(shown.half, 0.5), (shown.late, 0.9)];
            let by_part = by_part
                .into_iter()
                .filter_map(move |(voltage, part)| test.ended_at(voltage, part));
            let levels = shown.by.into_iter().flatten();
            by_part.chain(levels.filter_map(move |level| test.came_down(level)))
        });
        further.chain(on_the_way)
    }

    /// Each test with what it showed on its way.
    pub(in crate::figures) fn shown_by(&self) -> impl Iterator<Item = (CapacityTest, Shown)> {
        let place = |(place, shown)| Some((self.test(place)?, shown));
        self.shown.into_iter().enumerate().filter_map(place)
    }

    /// The cell by one test and beside another; none if it has not had them.
    pub(in crate::figures) fn seen_by(&self, (place, beside): Pick) -> Option<Seen> {
        let beside = match beside {
            None => None,
            Some(place) => Some(self.test(place)?),
        };
        Some(Seen {
            classes: self.classes,
            capacity: self.test(place)?,
            beside,
            r10: self.r10,
        })
    }
}

/// Every way to see a cell: each test alone, and beside each other. What all of them allow is known
/// of it, so that a further test never tells less.
pub(in crate::figures) fn picks() -> impl Iterator<Item = Pick> {
    let beside = |place: usize| {
        (0..MOST_TESTS)
            .filter(move |other| *other != place)
            .map(move |other| (place, Some(other)))
    };
    (0..MOST_TESTS).flat_map(move |place| std::iter::once((place, None)).chain(beside(place)))
}
