//! Where a part of a condition is. This says what of it matters.

use super::truth::Truth;

/// Where a part of a condition is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Context {
    /// At the top.
    Top,
    /// Inside a joined condition that is still open, or at the top.
    Joined,
    /// Inside a part that is settled the other way.
    Settled,
    /// In what is counted: each part took part, whatever its result.
    All,
    /// In an undecided condition, for what leaves it undecided: a decided part did not.
    Open,
}

impl Context {
    /// The context of the parts of a joined condition with this result.
    pub(super) fn inside(self, truth: Truth) -> Self {
        match self {
            Self::All | Self::Open => self,
            Self::Top => Self::Joined,
            _ if truth.is_undecided() => Self::Joined,
            _ => Self::Settled,
        }
    }

    /// Whether a part with this result cannot matter any more.
    pub(super) fn leaves_out(self, truth: Truth) -> bool {
        match self {
            Self::Settled => truth.is_undecided(),
            Self::Open => !truth.is_undecided(),
            _ => false,
        }
    }
}
