//! Where the facts of a catalogue are in a sheet.

use super::fact::FactId;
use super::subject::SubjectId;
use crate::snapshot::stored;

/// The subject of each fact, and its slot among the facts of that.
#[derive(Debug, Clone, Default)]
pub(super) struct FactPlaces {
    of_facts: Vec<(SubjectId, usize)>,
}

impl FactPlaces {
    /// Adds the place of the next fact.
    pub(super) fn add(&mut self, subject: SubjectId, slot: usize) {
        self.of_facts.push((subject, slot));
    }

    /// The subject and the slot of a fact.
    pub(super) fn of(&self, id: FactId) -> Option<(SubjectId, usize)> {
        self.of_facts.get(id.0 as usize).copied()
    }
}

stored!(struct FactPlaces { of_facts });
