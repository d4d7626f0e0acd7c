//! What is told of a test beside its log, and what the log shows.

use rules_core::document::Span;
use rules_core::quantity::Interval;

/// What is told of the test beside its log.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Beside {
    /// The current of the tester in A, as good as its meter.
    pub current: Option<Interval>,
    /// The voltage in V at which the test ends.
    pub end: Option<f64>,
}

/// A fact of the test: its key, its value and where that was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Fact {
    pub key: String,
    pub value: String,
    pub span: Span,
}

/// What a log shows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Shown {
    /// Facts of the test.
    pub test: Vec<Fact>,
    /// Facts of the resistance; empty where no step shows it.
    pub resistance: Vec<Fact>,
}
