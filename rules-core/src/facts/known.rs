//! The facts of a sheet by their numbers.

use std::sync::Arc;

use super::fact::FactId;
use super::options::OptionSet;
use super::places::FactPlaces;
use super::sheet::{Sheet, Value};
use crate::quantity::Measure;

/// The facts of a sheet, as figures see them: whole intervals, whatever acceptance is in force.
///
/// This holds under simple acceptance too. With nominal values alone, a figure could be better
/// because less is known: two readings of one thing are taken together, and their nominal values
/// may differ where their intervals agree.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'s> {
    places: &'s FactPlaces,
    sheet: &'s Sheet,
}

impl<'s> Facts<'s> {
    /// The facts of a sheet, at these places.
    pub(super) const fn new(places: &'s FactPlaces, sheet: &'s Sheet) -> Self {
        Self { places, sheet }
    }

    /// The sheet.
    #[must_use]
    pub const fn sheet(self) -> &'s Sheet {
        self.sheet
    }

    /// What was given of a fact for one of its subject. Nothing is known if the members of a
    /// subject are not settled.
    #[must_use]
    pub fn value(self, fact: FactId, position: usize) -> Option<&'s Value> {
        let (subject, slot) = self.places.of(fact)?;
        self.sheet
            .known(subject, position, slot)
            .map(|given| &given.value)
    }

    /// The number given of a fact.
    #[must_use]
    pub fn number(self, fact: FactId, position: usize) -> Option<Measure> {
        match self.value(fact, position)? {
            Value::Number(value) => Some(*value),
            _ => None,
        }
    }

    /// The options that a choice may be.
    #[must_use]
    pub fn choice(self, fact: FactId, position: usize) -> Option<OptionSet> {
        match self.value(fact, position)? {
            Value::Choice(set) => Some(*set),
            _ => None,
        }
    }

    /// The text given of a fact.
    #[must_use]
    pub fn text(self, fact: FactId, position: usize) -> Option<&'s Arc<str>> {
        match self.value(fact, position)? {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }
}
