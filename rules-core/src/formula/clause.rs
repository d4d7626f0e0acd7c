//! Parts of a condition that are not surely met.

use std::ops::Range;

use super::evaluated::Evaluated;
use super::fact_at::FactAt;
use super::tree::Comparison;
use super::truth::Truth;
use super::typed::{LimitId, Sort};
use crate::facts::{FactId, WorkedId};

/// A comparison of two numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Compared {
    /// How they are compared.
    pub comparison: Comparison,
    /// The left side.
    pub left: ComparedSide,
    /// The right side.
    pub right: ComparedSide,
    /// What kind of numbers they are.
    pub sort: Sort,
}

/// One side of a comparison.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ComparedSide {
    /// Its value.
    pub value: Evaluated,
    /// The limit, where the side is nothing else.
    pub limit: Option<LimitId>,
}

/// A part of a condition that is not met, or not surely met. It is told to who asks, in memory that
/// the next one is told in too.
#[derive(Debug, Clone, Copy)]
pub struct Clause<'c> {
    /// Bytes of the formula's text.
    pub span: &'c Range<usize>,
    /// The result of the part, as it is written.
    pub truth: Truth,
    /// Whether the part had to be `no` (it is under a `not`).
    pub negated: bool,
    /// For a comparison of numbers: the two sides.
    pub compared: Option<Compared>,
    /// The facts that take part, each once.
    pub facts: &'c [FactAt],
    /// How many more facts take part than are listed.
    pub more_facts: usize,
    /// Every fact of which something is missing, listed or not, each once.
    pub missing: &'c [FactId],
    /// The limits that take part.
    pub limits: &'c [LimitId],
    /// The library's figures that take part, and which one of their subject they are of.
    pub figures: &'c [(WorkedId, usize)],
}
