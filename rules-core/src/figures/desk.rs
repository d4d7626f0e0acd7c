//! Where the figures of one sheet are worked out. What several figures rest on is worked once and kept.

use super::needs::Reader;
use super::table::ROWS;
use crate::facts::{Facts, FactId, Worked, WorkedId, Workings};
use crate::quantity::Interval;

/// Works out the figures of one sheet.
pub(super) struct Desk<'s> {
    pub(super) reader: Reader<'s>,
}

impl<'s> Desk<'s> {
    pub(super) fn new(facts: Facts<'s>, ids: &'s [FactId]) -> Self {
        Self { reader: Reader::new(facts, ids) }
    }
}

impl Workings for Desk<'_> {
    fn work(&self, figure: WorkedId, position: usize) -> Worked {
        match ROWS.get(figure.position()) {
            Some(row) => (row.work)(self, position),
            None => super::needs::Notes::default().worked(Interval::WHOLE),
        }
    }
}
