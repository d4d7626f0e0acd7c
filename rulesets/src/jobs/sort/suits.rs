//! What the rules say of a cell in a light.

use rules_core::check::Verdict;
use serde::Serialize;

use super::grade::Grade;
use super::weighed::Weighed;

/// Whether a cell may go into a light, by the rules of the cell and of its fit. A plan has more to it:
/// the charger, the place and the use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Suits {
    /// Alone, and nothing objects.
    Pass,
    /// Alone, and a caution warns.
    Warn,
    /// The light takes several cells, and no caution about this one refuses it for sure. A check says
    /// it of the set.
    WithOthers,
    /// A caution refuses, but only for what is missing or in doubt.
    ToTest,
    /// A caution refuses, whatever else becomes known.
    Refuse,
    /// The bench does not say how many cells the light takes.
    NotSaid,
}

impl Suits {
    /// The words for people.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Warn => "warn",
            Self::WithOthers => "with others",
            Self::ToTest => "to test",
            Self::Refuse => "refuse",
            Self::NotSaid => "not said",
        }
    }

    /// The word in files, as JSON has it.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::WithOthers => "with-others",
            Self::ToTest => "to-test",
            Self::NotSaid => "not-said",
            other => other.words(),
        }
    }

    /// Of a light that takes one cell: all that was found of it there counts.
    pub(super) fn alone(grade: Grade, findings: &[Weighed<'_>]) -> Self {
        let gravest = findings.iter().map(|one| one.verdict).max();
        if grade.is_out() || findings.iter().any(Weighed::surely_refuses) {
            return Self::Refuse;
        }
        match (grade, gravest) {
            (Grade::ToTest, _) | (_, Some(Verdict::Refuse)) => Self::ToTest,
            (Grade::Sound, None | Some(Verdict::Pass)) => Self::Pass,
            _ => Self::Warn,
        }
    }

    /// Of a light that takes several: only what is about this cell keeps it out, and only what is so
    /// whatever the others are.
    pub(super) const fn with_others(grade: Grade, is_kept_out: bool) -> Self {
        match grade {
            Grade::SetAside | Grade::Retire => Self::Refuse,
            _ if is_kept_out => Self::Refuse,
            Grade::ToTest => Self::ToTest,
            Grade::Sound | Grade::Watch => Self::WithOthers,
        }
    }
}
