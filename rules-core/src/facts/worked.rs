//! Figures that the library works out from facts, as the catalogue knows them.

use super::catalogue::{OptionSet, SubjectId};
use crate::quantity::{Kind, Measure};

/// A library figure by number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WorkedId(u16);

impl WorkedId {
    pub(super) fn new(position: usize) -> Self {
        Self(u16::try_from(position).unwrap_or(u16::MAX))
    }

    pub(super) fn position(self) -> usize {
        self.0 as usize
    }
}

/// What a library figure may look at: the facts it names in [`WorkedDef::needs`], by position there.
pub trait Inputs {
    /// The number of a fact of a single subject or of the subject at hand; none if it is missing.
    fn number(&self, need: usize) -> Option<Measure>;

    /// The options that a choice may have; none if it is missing.
    fn choice(&self, need: usize) -> Option<OptionSet>;

    /// The number of a fact for each of the many.
    fn each(&self, need: usize) -> Vec<Option<Measure>>;
}

/// A figure worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worked {
    /// The value: an interval that holds the truth for every value the inputs allow.
    pub value: Measure,
    /// Which needs took part, as bits by position.
    pub used: u32,
    /// Which of those were missing.
    pub missing: u32,
}

/// The definition of a library figure.
#[derive(Debug, Clone, Copy)]
pub struct WorkedDef {
    /// The subject it is about.
    pub subject: SubjectId,
    /// Its name within the subject.
    pub name: &'static str,
    /// The kind of number it gives.
    pub kind: Kind,
    /// What it means and how it is worked out.
    pub meaning: &'static str,
    /// The dotted names of the facts it looks at, at most 32.
    pub needs: &'static [&'static str],
    /// Works it out. Wider inputs must give a wider value.
    pub work: fn(&dyn Inputs) -> Worked,
}
