//! What would narrow a figure of a library.

use super::fact::FactId;
use super::sheet::Value;
use super::worked::Worked;

/// Facts answered together that would narrow a figure, each as it typically comes out, and the
/// figure as it would come out then. None of them can be left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Narrowing {
    /// The facts.
    pub answers: Vec<TypicalAnswer>,
    /// The figure.
    pub worked: Worked,
}

/// A fact as it typically comes out. It contradicts nothing that is given.
#[derive(Debug, Clone, PartialEq)]
pub struct TypicalAnswer {
    /// The fact.
    pub fact: FactId,
    /// Which one of its subject.
    pub position: usize,
    /// The value.
    pub value: Value,
}
