//! The options that a choice may be.

use crate::snapshot::stored;

/// Options that are possible, out of at most 64.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct OptionSet(u64);

impl OptionSet {
    /// No option.
    pub const NONE: Self = Self(0);

    /// The option at a position.
    #[must_use]
    pub fn one(position: usize) -> Self {
        Self(
            u32::try_from(position)
                .ok()
                .and_then(|p| 1_u64.checked_shl(p))
                .unwrap_or(0),
        )
    }

    /// The first `count` options.
    #[must_use]
    pub fn first(count: usize) -> Self {
        (0..count.min(64)).fold(Self::NONE, |set, position| set.with(Self::one(position)))
    }

    /// This and the options of another set.
    #[must_use]
    pub const fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether the sets share an option.
    #[must_use]
    pub const fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Whether every option of this set is in the other.
    #[must_use]
    pub const fn within(self, other: Self) -> bool {
        self.0 & !other.0 == 0
    }

    /// How many options there are.
    #[must_use]
    pub const fn len(self) -> u32 {
        self.0.count_ones()
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The position of the only option, if there is just one.
    #[must_use]
    pub fn only(self) -> Option<usize> {
        (self.len() == 1).then(|| self.0.trailing_zeros() as usize)
    }
}

stored!(struct OptionSet(bits));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn option_sets() {
        let both = OptionSet::one(0).with(OptionSet::one(63));
        assert_eq!(both.len(), 2);
        assert_eq!(both.only(), None);
        assert_eq!(OptionSet::one(63).only(), Some(63));
        assert!(OptionSet::one(64).is_empty());
        assert_eq!(OptionSet::first(64).len(), 64);
        assert!(OptionSet::one(0).within(both) && !both.within(OptionSet::one(0)));
        assert!(both.meets(OptionSet::one(63)) && !both.meets(OptionSet::one(5)));
    }
}
