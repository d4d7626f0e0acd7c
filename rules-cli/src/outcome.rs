//! What a run came to, as an exit code.

use std::process::ExitCode;

use rules_core::check::Verdict;

/// What a run came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Passed, perhaps with warnings; or nothing to complain of.
    Fine,
    /// No caution applied, so that nothing was checked.
    NothingChecked,
    /// Refused; or warned where that is not accepted; or a ruleset that vetting finds wanting.
    Against,
    /// Bad input or wrong usage.
    BadInput,
}

impl Outcome {
    /// The outcome of one check. With `strict`, a warning is not accepted.
    pub(crate) const fn of(verdict: Verdict, nothing_checked: bool, strict: bool) -> Self {
        match verdict {
            _ if nothing_checked => Self::NothingChecked,
            Verdict::Pass => Self::Fine,
            Verdict::Warn if !strict => Self::Fine,
            Verdict::Warn | Verdict::Refuse => Self::Against,
        }
    }

    /// Fine, or against if something was found.
    pub(crate) const fn against_if(found: bool) -> Self {
        if found { Self::Against } else { Self::Fine }
    }

    /// The graver of two: bad input, then against, then nothing checked, then fine.
    #[must_use]
    pub(crate) fn and(self, other: Self) -> Self {
        if self.weight() >= other.weight() {
            self
        } else {
            other
        }
    }

    const fn weight(self) -> u8 {
        match self {
            Self::Fine => 0,
            Self::NothingChecked => 1,
            Self::Against => 2,
            Self::BadInput => 3,
        }
    }

    const fn code(self) -> u8 {
        match self {
            Self::Fine => 0,
            Self::Against => 1,
            Self::BadInput => 2,
            Self::NothingChecked => 3,
        }
    }
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(outcome.code())
    }
}

#[cfg(test)]
mod tests {
    use super::Outcome::{self, Against, BadInput, Fine, NothingChecked};

    #[test]
    fn of_several_the_gravest_counts_in_any_order() {
        let order = [Fine, NothingChecked, Against, BadInput];
        for (at, graver) in order.iter().enumerate() {
            for milder in &order[..=at] {
                assert_eq!(graver.and(*milder), *graver);
                assert_eq!(milder.and(*graver), *graver);
            }
        }
    }

    #[test]
    fn codes_are_as_the_help_says() {
        assert_eq!(
            [Fine, Against, BadInput, NothingChecked].map(Outcome::code),
            [0, 1, 2, 3]
        );
    }
}
