//! Kleene's three values, with the undecided one told apart by its cause.

use serde::Serialize;

/// Whether a condition holds for everything the known facts allow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Truth {
    /// It holds.
    Yes,
    /// It does not hold.
    No,
    /// Undecided: what was given is too wide to tell.
    Doubt,
    /// Undecided: a missing fact takes part.
    Unmeasured,
}

impl Truth {
    /// Yes or no.
    #[must_use]
    pub const fn decided(yes: bool) -> Self {
        if yes { Self::Yes } else { Self::No }
    }

    /// Neither yes nor no.
    #[must_use]
    pub const fn is_undecided(self) -> bool {
        matches!(self, Self::Doubt | Self::Unmeasured)
    }

    /// Both hold. Among undecided parts, doubt outweighs a missing fact: a measurement that was taken and is in doubt is not excused.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::No, _) | (_, Self::No) => Self::No,
            (Self::Doubt, _) | (_, Self::Doubt) => Self::Doubt,
            (Self::Unmeasured, _) | (_, Self::Unmeasured) => Self::Unmeasured,
            (Self::Yes, Self::Yes) => Self::Yes,
        }
    }

    /// At least one holds.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        self.negated().and(other.negated()).negated()
    }

    /// It does not hold.
    #[must_use]
    pub const fn negated(self) -> Self {
        match self {
            Self::Yes => Self::No,
            Self::No => Self::Yes,
            undecided => undecided,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Truth::{Doubt, No, Unmeasured, Yes};

    #[test]
    fn kleene_tables() {
        // Kleene, Introduction to Metamathematics (1952), section 64: strong three-valued tables; from memory.
        let all = [Yes, No, Doubt, Unmeasured];
        for a in all {
            assert_eq!(a.and(No), No);
            assert_eq!(a.and(Yes), a);
            assert_eq!(a.or(Yes), Yes);
            assert_eq!(a.or(No), a);
            assert_eq!(a.and(a), a);
            for b in all {
                assert_eq!(a.and(b), b.and(a));
                assert_eq!(a.or(b).negated(), a.negated().and(b.negated()));
            }
        }
        assert_eq!(Doubt.and(Unmeasured), Doubt);
        assert_eq!(Doubt.or(Unmeasured), Doubt);
        assert_eq!(Doubt.negated(), Doubt);
    }
}
