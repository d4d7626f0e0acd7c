//! What a bench has at hand for jobs that go through all of it.

use rules_core::document::Node;

use super::date::Date;
use super::file::Bench;
use super::in_force::{InForce, ReadingAtHand};
use crate::proposal::Arrangement;

impl Bench {
    /// The day of the newest reading; none without dated readings.
    #[must_use]
    pub fn newest(&self) -> Option<Date> {
        self.readings.newest()
    }

    /// The readings of a cell that count on a day, the oldest first.
    #[must_use]
    pub fn readings_on(&self, day: Date, cell: &str) -> Vec<ReadingAtHand> {
        InForce::on(day, self.readings.of(cell)).at_hand()
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
