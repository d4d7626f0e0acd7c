//! Facts taken as answered, to see what a figure would come to.

use super::needs::Need;
use rules_core::facts::OptionSet;
use rules_core::quantity::Interval;

/// A fact of one of its subject, taken as answered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Assumed {
    pub(super) need: Need,
    pub(super) position: usize,
    pub(super) answer: Answer,
}

/// The answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Answer {
    /// A number, in the base unit of its kind.
    Number(f64),
    /// The option at a position.
    Option(usize),
}

impl Answer {
    /// As a number.
    pub(super) const fn number(self) -> Option<Interval> {
        match self {
            Self::Number(value) => Some(Interval::point(value)),
            Self::Option(_) => None,
        }
    }

    /// As options.
    pub(super) fn options(self) -> Option<OptionSet> {
        match self {
            Self::Number(_) => None,
            Self::Option(at) => Some(OptionSet::one(at)),
        }
    }
}
