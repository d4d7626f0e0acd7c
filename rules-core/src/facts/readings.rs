//! Readings of one thing that a proposal gives in several ways: readings that cannot both be true,
//! and readings that no figure can use.

use super::fact::FactId;
use super::subject::SubjectId;
use crate::quantity::{Interval, Kind};

/// The widest that a reading says of a thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The fact that stands for the reading.
    pub fact: FactId,
    /// Every value that the thing can have by it.
    pub value: Interval,
}

/// Two readings of one thing that cannot both be true, whatever their uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clash {
    /// Whose readings they are.
    pub subject: SubjectId,
    /// The position of that one of the subject.
    pub position: usize,
    /// The thing, as `a resistance after 10 s of direct current`.
    pub of: &'static str,
    /// The kind of its values.
    pub kind: Kind,
    /// The two.
    pub readings: [Reading; 2],
}

/// Readings that were given and that no figure of the library can use.
#[derive(Debug, Clone, PartialEq)]
pub struct Unused {
    /// Whose readings they are.
    pub subject: SubjectId,
    /// The position of that one of the subject.
    pub position: usize,
    /// The facts that were given.
    pub facts: Vec<FactId>,
    /// Why they cannot be used, and what would correct it.
    pub why: &'static str,
}
