//! What a bench has at hand for jobs that go through all of it.

use rules_core::document::{Content, Node};

use super::date::Date;
use super::file::Bench;
use super::in_force::{InForce, ReadingAtHand};
use crate::proposal::Arrangement;

impl Bench {
    /// What the readings of a cell say of it on a day.
    pub(super) fn in_force(&self, day: Date, cell: &str) -> InForce<'_> {
        let found = self.cells.get(cell).and_then(|kept| kept.found);
        InForce::on(day, self.readings.of(cell), found)
    }

    /// The day of the newest reading; none without dated readings.
    #[must_use]
    pub fn newest(&self) -> Option<Date> {
        self.readings.newest()
    }

    /// The readings of a cell that count on a day, the oldest first.
    #[must_use]
    pub fn readings_on(&self, day: Date, cell: &str) -> Vec<ReadingAtHand> {
        self.in_force(day, cell).at_hand()
    }

    /// All readings of a cell that are not later than a day, the oldest first, each with whether the cell
    /// was charged or discharged since the same was read before.
    #[must_use]
    pub fn readings_until(&self, day: Date, cell: &str) -> Vec<(ReadingAtHand, bool)> {
        self.in_force(day, cell).all()
    }

    /// What the bench and its readings in force on a day say of a cell under a section and a key there,
    /// as it was written. Of several under one section it is the first.
    #[must_use]
    pub fn written_on(
        &self,
        day: Option<Date>,
        cell: &str,
        (section, key): (&str, &str),
    ) -> Option<String> {
        let kept = self.cells.get(cell)?;
        let said = match day {
            Some(day) => self.in_force(day, cell).beside(&kept.entries),
            None => kept.entries.clone(),
        };
        let section = said.into_iter().find(|entry| entry.key == section)?.node;
        let first = match &section.content {
            Content::List(items) => items.first()?,
            _ => &section,
        };
        first.at(key).and_then(Node::scalar).map(str::to_owned)
    }

    /// The arrangement of a light, by what the bench says of it. A light of one bay needs not say it.
    #[must_use]
    pub fn arrangement_of(&self, light: &str) -> Option<Arrangement> {
        let (_, said) = self
            .sections
            .lights
            .all()
            .find(|(name, _)| *name == light)?;
        let written = |key: &str| said.at(key).and_then(Node::scalar);
        match written("arrangement") {
            Some(written) => Arrangement::parse(written),
            None if written("bays") == Some("1") => Arrangement::parse("1S1P"),
            None => None,
        }
    }
}
