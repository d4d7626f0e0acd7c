//! The value of a number, evaluated.

use crate::quantity::{Interval, Measure};

/// A number with whether a missing fact takes part in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaluated {
    /// The value.
    pub value: Measure,
    /// Whether a missing fact takes part.
    pub missing: bool,
}

impl Evaluated {
    /// Anything at all, since something is missing.
    pub(super) const fn unknown() -> Self {
        Self {
            value: Measure::of(Interval::WHOLE),
            missing: true,
        }
    }

    /// A value that no missing fact takes part in.
    pub(super) const fn known(value: Measure) -> Self {
        Self {
            value,
            missing: false,
        }
    }

    /// This and another, joined.
    pub(super) fn join(self, other: Self, with: impl Fn(Measure, Measure) -> Measure) -> Self {
        Self {
            value: with(self.value, other.value),
            missing: self.missing || other.missing,
        }
    }

    /// The same with another value.
    pub(super) fn map(self, with: fn(Measure) -> Measure) -> Self {
        Self {
            value: with(self.value),
            ..self
        }
    }
}
