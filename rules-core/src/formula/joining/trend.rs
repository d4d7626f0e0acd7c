//! What can happen to a number, or to whether a condition holds, when more join.

/// What happens to an end of a number, or to whether something is sure, when more join.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trend {
    /// It stays as it is.
    Same,
    /// It never falls; what is sure stays sure.
    Rises,
    /// It never rises; what is not sure does not become sure.
    Falls,
    /// It may become anything.
    Unknown,
}

impl Trend {
    /// Of what goes with both.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Same, one) | (one, Self::Same) => one,
            (one, two) if one == two => one,
            _ => Self::Unknown,
        }
    }

    /// Of the opposite.
    #[must_use]
    pub const fn turned(self) -> Self {
        match self {
            Self::Rises => Self::Falls,
            Self::Falls => Self::Rises,
            other => other,
        }
    }

    /// Whether it never falls.
    #[must_use]
    pub const fn never_falls(self) -> bool {
        matches!(self, Self::Same | Self::Rises)
    }

    /// Whether it never rises.
    #[must_use]
    pub const fn never_rises(self) -> bool {
        matches!(self, Self::Same | Self::Falls)
    }
}

/// Of both ends of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ends {
    pub low: Trend,
    pub high: Trend,
}

impl Ends {
    pub(super) const SAME: Self = Self::both(Trend::Same);
    pub(super) const UNKNOWN: Self = Self::both(Trend::Unknown);

    pub(super) const fn both(trend: Trend) -> Self {
        Self {
            low: trend,
            high: trend,
        }
    }

    pub(super) fn and(self, other: Self) -> Self {
        Self {
            low: self.low.and(other.low),
            high: self.high.and(other.high),
        }
    }

    /// Of a number that goes the other way: of its opposite, or of what it divides.
    pub(super) const fn turned(self) -> Self {
        Self {
            low: self.high.turned(),
            high: self.low.turned(),
        }
    }
}

/// Of a condition: of whether it surely holds, and of whether it surely does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trends {
    /// Whether it surely holds.
    pub yes: Trend,
    /// Whether it surely does not.
    pub no: Trend,
}

impl Trends {
    /// Of what stays as it is.
    pub const SAME: Self = Self {
        yes: Trend::Same,
        no: Trend::Same,
    };
    pub(super) const UNKNOWN: Self = Self {
        yes: Trend::Unknown,
        no: Trend::Unknown,
    };

    pub(super) fn and(self, other: Self) -> Self {
        Self {
            yes: self.yes.and(other.yes),
            no: self.no.and(other.no),
        }
    }

    /// Of the opposite.
    #[must_use]
    pub const fn negated(self) -> Self {
        Self {
            yes: self.no,
            no: self.yes,
        }
    }
}
