//! Parts of a condition that are not surely met.

use std::ops::Range;

use super::evaluated::Evaluated;
use super::fact_at::FactAt;
use super::tree::Comparison;
use super::truth::Truth;
use super::typed::{LimitId, Sort};
use crate::facts::{FactId, WorkedId};

/// One side of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedSide {
    /// Bytes of the formula's text.
    pub span: Range<usize>,
    /// Its value.
    pub value: Evaluated,
    /// The limit, where the side is nothing else.
    pub limit: Option<LimitId>,
}

/// A part of a condition that is not met, or not surely met.
#[derive(Debug, Clone, PartialEq)]
pub struct Clause {
    /// Bytes of the formula's text.
    pub span: Range<usize>,
    /// The result of the part, as it is written.
    pub truth: Truth,
    /// Whether the part had to be `no` (it is under a `not`).
    pub negated: bool,
    /// For a comparison of numbers: how, the two sides, and what kind of numbers they are.
    pub compared: Option<(Comparison, ComparedSide, ComparedSide, Sort)>,
    /// The facts that take part, each once.
    pub facts: Vec<FactAt>,
    /// How many more facts take part than are listed.
    pub more_facts: usize,
    /// Every fact of which something is missing, listed or not, each once.
    pub missing: Vec<FactId>,
    /// The limits that take part.
    pub limits: Vec<LimitId>,
    /// The library's figures that take part, and which one of their subject they are of.
    pub figures: Vec<(WorkedId, usize)>,
}
