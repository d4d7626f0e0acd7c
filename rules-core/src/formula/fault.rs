//! What can be wrong with a formula.

use std::ops::Range;

use crate::document::Fault;

/// A fault of a formula, at bytes of its text.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct FormulaFault {
    /// The kind of fault.
    pub fault: Fault,
    /// Bytes of the formula's text.
    pub span: Range<usize>,
    /// What is wrong.
    pub message: String,
    /// How to correct it; empty where the message says all.
    pub help: String,
}

impl FormulaFault {
    pub(super) fn new(
        fault: Fault,
        span: Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self {
            fault,
            span,
            message: message.into(),
            help: help.into(),
        }
    }
}
