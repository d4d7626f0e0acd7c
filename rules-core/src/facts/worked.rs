//! Figures of a library: their numbers, their definitions, and their results.

use super::subject::SubjectId;
use crate::quantity::{Kind, Measure};
use crate::snapshot::stored;

/// A library figure by number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WorkedId(u16);

impl WorkedId {
    /// The figure at a position of the catalogue's list.
    #[must_use]
    pub fn new(position: usize) -> Self {
        Self(u16::try_from(position).unwrap_or(u16::MAX))
    }

    /// The position in the catalogue's list.
    #[must_use]
    pub const fn position(self) -> usize {
        self.0 as usize
    }
}

/// Facts that library figures look at, as a set of positions in `Figures::needs`; at most 128.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub struct Needs(u128);

impl Needs {
    /// No fact.
    pub const NONE: Self = Self(0);

    /// The fact at a position.
    #[must_use]
    pub const fn one(position: usize) -> Self {
        if position < 128 {
            Self(1 << position)
        } else {
            Self(0)
        }
    }

    /// This and the facts of another set.
    #[must_use]
    pub const fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The positions, in order.
    pub fn positions(self) -> impl Iterator<Item = usize> {
        let mut left = self.0;
        std::iter::from_fn(move || {
            let next = usize::try_from(left.trailing_zeros()).ok();
            let next = next.filter(|_| left != 0);
            left &= left.wrapping_sub(1);
            next
        })
    }
}

/// Whose facts a figure looked at, where there are many of a subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub enum Reach {
    /// Those of its own subject, of what that is in and of what is in it.
    #[default]
    Own,
    /// Also those of all that are in the same container.
    Together,
    /// Those of all there are.
    All,
}

/// A figure worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worked {
    /// The value: an interval that holds the truth for every value the inputs allow, the model's
    /// own error included.
    pub value: Measure,
    /// Which facts took part.
    pub used: Needs,
    /// Which of those were missing.
    pub missing: Needs,
    /// Whose facts took part.
    pub reach: Reach,
    /// Where the model does not reach, so that the interval is open towards the cautious side: why.
    pub open: Option<&'static str>,
}

/// What happens to a figure when more join those that it is worked out of. Where it is not known
/// which, nothing is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AsMoreJoin {
    /// It looks at nothing but its own subject, what is in that and what there is one of.
    Apart,
    /// It also looks at all that are in the same container: it stays as long as none joins that.
    WithContainer,
    /// Its upper end never falls.
    Rises,
    /// Its lower end never rises, and its upper end never falls.
    Widens,
    /// It may become anything.
    Unknown,
}

/// The definition of a library figure.
#[derive(Debug, Clone, Copy)]
pub struct WorkedDef {
    /// The subject it is about.
    pub subject: SubjectId,
    /// Its name within the subject.
    pub name: &'static str,
    /// The kind of number it gives.
    pub kind: Kind,
    /// What it means and how it is worked out.
    pub meaning: &'static str,
    /// The facts it may look at.
    pub needs: Needs,
    /// What happens to it when more join.
    pub as_more_join: AsMoreJoin,
    /// Whether no value of it is negative, whatever the facts.
    pub never_negative: bool,
}

stored!(struct WorkedId(position));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needs_are_a_set_of_128() {
        let both = Needs::one(0).with(Needs::one(127));
        assert_eq!(both.positions().collect::<Vec<_>>(), [0, 127]);
        assert!(Needs::one(128).is_empty() && !both.is_empty());
    }
}
