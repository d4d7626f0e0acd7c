//! Kleene's three values, with the undecided one told apart by what could decide it.

use serde::{Deserialize, Serialize};

/// Whether a condition holds for everything the known facts allow.
///
/// What is undecided knows, for coming out yes and for coming out no, whether doubt about given
/// values could bring that about alone or only a missing fact could. A caution may be lenient only
/// where nothing but a missing fact could make it fail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
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
    /// Undecided: doubt alone could make it no; to be yes it needs a missing fact.
    #[serde(skip)]
    DoubtOfYes,
    /// Undecided: doubt alone could make it yes; to be no it needs a missing fact.
    #[serde(skip)]
    DoubtOfNo,
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
        !matches!(self, Self::Yes | Self::No)
    }

    /// Undecided, and doubt about given values alone could make it yes.
    #[must_use]
    pub const fn doubt_could_make_yes(self) -> bool {
        matches!(self, Self::Doubt | Self::DoubtOfNo)
    }

    /// Undecided, and doubt about given values alone could make it no.
    #[must_use]
    pub const fn doubt_could_make_no(self) -> bool {
        matches!(self, Self::Doubt | Self::DoubtOfYes)
    }

    /// Undecided, with a missing fact in it.
    #[must_use]
    pub const fn needs_missing(self) -> bool {
        self.is_undecided() && !matches!(self, Self::Doubt)
    }

    /// The plain value: any doubt is a doubt.
    #[must_use]
    pub const fn plain(self) -> Self {
        match self {
            Self::DoubtOfYes | Self::DoubtOfNo => Self::Doubt,
            other => other,
        }
    }

    const fn undecided(doubt_could_make_no: bool, doubt_could_make_yes: bool) -> Self {
        match (doubt_could_make_no, doubt_could_make_yes) {
            (true, true) => Self::Doubt,
            (true, false) => Self::DoubtOfYes,
            (false, true) => Self::DoubtOfNo,
            (false, false) => Self::Unmeasured,
        }
    }

    /// Both hold. One part that fails is enough for a no; for a yes all parts are needed.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::No, _) | (_, Self::No) => Self::No,
            (Self::Yes, other) => other,
            (this, Self::Yes) => this,
            (a, b) => Self::undecided(
                a.doubt_could_make_no() || b.doubt_could_make_no(),
                a.doubt_could_make_yes() && b.doubt_could_make_yes(),
            ),
        }
    }

    /// All hold. Those after a no are left aside: they cannot change it.
    #[must_use]
    pub fn all(truths: impl IntoIterator<Item = Self>) -> Self {
        Self::joined(truths, Self::No, Self::and)
    }

    /// At least one of all holds. Those after a yes are left aside: they cannot change it.
    #[must_use]
    pub fn any(truths: impl IntoIterator<Item = Self>) -> Self {
        Self::joined(truths, Self::Yes, Self::or)
    }

    fn joined(
        truths: impl IntoIterator<Item = Self>,
        settled: Self,
        join: fn(Self, Self) -> Self,
    ) -> Self {
        let mut so_far = settled.negated();
        for truth in truths {
            so_far = join(so_far, truth);
            if so_far == settled {
                break;
            }
        }
        so_far
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
            undecided => Self::undecided(
                undecided.doubt_could_make_yes(),
                undecided.doubt_could_make_no(),
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Truth::{Doubt, DoubtOfNo, DoubtOfYes, No, Unmeasured, Yes};

    #[test]
    fn kleene_tables() {
        // Kleene, Introduction to Metamathematics (1952), section 64: strong three-valued tables;
        // from memory.
        let all = [Yes, No, Doubt, Unmeasured, DoubtOfYes, DoubtOfNo];
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
        assert_eq!(Doubt.and(Unmeasured), DoubtOfYes);
        assert_eq!(Doubt.or(Unmeasured), DoubtOfNo);
        assert_eq!(DoubtOfYes.negated(), DoubtOfNo);
        assert_eq!(DoubtOfYes.and(Doubt), DoubtOfYes);
        assert_eq!(DoubtOfNo.and(Unmeasured), Unmeasured);
        assert_eq!(Doubt.negated(), Doubt);
        assert_eq!(
            all.map(super::Truth::is_undecided),
            [false, false, true, true, true, true]
        );
        assert_eq!(
            all.map(super::Truth::needs_missing),
            [false, false, false, true, true, true]
        );
    }

    #[test]
    fn what_is_settled_is_not_looked_at_further() {
        for (settling, joined) in [
            (
                No,
                super::Truth::all as fn(Vec<super::Truth>) -> super::Truth,
            ),
            (Yes, super::Truth::any),
        ] {
            assert_eq!(joined(Vec::new()), settling.negated());
            assert_eq!(joined(vec![Doubt, settling, Unmeasured]), settling);
            assert_eq!(joined(vec![settling.negated(), Doubt]), Doubt);
        }
        let mut looked_at = 0;
        assert_eq!(
            super::Truth::all([Yes, No, Yes].into_iter().inspect(|_| looked_at += 1)),
            No
        );
        assert_eq!(looked_at, 2);
    }
}
