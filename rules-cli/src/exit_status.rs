//! The exit status of the command.

use std::process::ExitCode;

use rules_core::check::{Outcome, Report, StageOutcome, Verdict};

/// How the command ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum ExitStatus {
    /// Passed, perhaps with warnings; or nothing wrong was found.
    #[default]
    Success,
    /// No caution applied, so that nothing was checked.
    NothingChecked,
    /// Refused; or warned where that is not accepted; or something wrong was found in a ruleset, a
    /// case or a label.
    Objection,
    /// Bad input or wrong usage.
    BadInput,
}

impl ExitStatus {
    /// The status of one check. With `strict`, a warning is not accepted.
    pub(crate) fn of_report(report: &Report, strict: bool) -> Self {
        Self::of_check(report.outcome, &report.stages, strict)
    }

    /// The status of the whole, or the gravest of the stages that were asked for.
    pub(crate) fn of_check(whole: Option<Outcome>, stages: &[StageOutcome], strict: bool) -> Self {
        let of_stage = |stage: &StageOutcome| Self::of_outcome(stage.outcome(), strict);
        match whole {
            Some(whole) => Self::of_outcome(whole, strict),
            None => stages
                .iter()
                .map(of_stage)
                .fold(Self::Success, Self::graver),
        }
    }

    /// The status of an outcome. With `strict`, a warning is not accepted.
    pub(crate) const fn of_outcome(outcome: Outcome, strict: bool) -> Self {
        match outcome.verdict {
            _ if outcome.nothing_checked => Self::NothingChecked,
            Verdict::Pass => Self::Success,
            Verdict::Warn if !strict => Self::Success,
            Verdict::Warn | Verdict::Refuse => Self::Objection,
        }
    }

    /// An objection if something wrong was found, otherwise success.
    pub(crate) const fn objection_if(found: bool) -> Self {
        if found {
            Self::Objection
        } else {
            Self::Success
        }
    }

    /// The graver of two: bad input, then an objection, then nothing checked, then success.
    #[must_use]
    pub(crate) fn graver(self, other: Self) -> Self {
        if self.gravity() >= other.gravity() {
            self
        } else {
            other
        }
    }

    const fn gravity(self) -> u8 {
        match self {
            Self::Success => 0,
            Self::NothingChecked => 1,
            Self::Objection => 2,
            Self::BadInput => 3,
        }
    }

    const fn code(self) -> u8 {
        match self {
            Self::Success => 0,
            Self::Objection => 1,
            Self::BadInput => 2,
            Self::NothingChecked => 3,
        }
    }
}

impl From<ExitStatus> for ExitCode {
    fn from(status: ExitStatus) -> Self {
        Self::from(status.code())
    }
}

#[cfg(test)]
mod tests {
    use super::ExitStatus::{self, BadInput, NothingChecked, Objection, Success};

    #[test]
    fn of_several_the_gravest_counts_in_any_order() {
        let order = [Success, NothingChecked, Objection, BadInput];
        for (at, graver) in order.iter().enumerate() {
            for milder in &order[..=at] {
                assert_eq!(graver.graver(*milder), *graver);
                assert_eq!(milder.graver(*graver), *graver);
            }
        }
    }

    #[test]
    fn codes_are_as_the_help_says() {
        assert_eq!(
            [Success, Objection, BadInput, NothingChecked].map(ExitStatus::code),
            [0, 1, 2, 3]
        );
    }
}
