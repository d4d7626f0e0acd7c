//! Facts that take part in a formula.

use crate::facts::{FactId, SubjectId};

/// A fact of one of its subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FactAt {
    /// The fact.
    pub id: FactId,
    /// The subject.
    pub subject: SubjectId,
    /// Which one of the subject.
    pub position: usize,
    /// The slot of the fact.
    pub slot: usize,
    /// Whether nothing was given.
    pub missing: bool,
}

/// What a number or a condition rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct RestsOn {
    /// The facts that take part, each once, missing ones first.
    pub facts: Vec<FactAt>,
    /// How many more facts take part than are listed.
    pub more_facts: usize,
}
