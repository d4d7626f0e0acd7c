//! Where a part of a condition is, which says what of it matters.

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
    /// In what is counted: whichever way each part came out, it took part.
    All,
    /// In a condition that is undecided, for what leaves it so: what is decided did its part.
    Open,
}

impl Context {
    /// Where the parts of a joined condition stand that came to this.
    pub(super) fn inside(self, truth: Truth) -> Self {
        match self {
            Self::All | Self::Open => self,
            Self::Top => Self::Joined,
            _ if truth.is_undecided() => Self::Joined,
            _ => Self::Settled,
        }
    }

    /// Whether a part that came to this cannot matter any more.
    pub(super) fn leaves_out(self, truth: Truth) -> bool {
        match self {
            Self::Settled => truth.is_undecided(),
            Self::Open => !truth.is_undecided(),
            _ => false,
        }
    }
}
