//! The grade of a cell.

use rules_core::check::{Status, Verdict};
use rules_core::ruleset::Refused;
use serde::Serialize;

use super::weighed::Weighed;

/// What becomes of a cell, from the best on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// No caution objects.
    Sound,
    /// A caution warns.
    Watch,
    /// A caution refuses, but only for what is missing or in doubt.
    ToTest,
    /// A caution refuses, whatever else becomes known. The cell is used nowhere as it is now.
    SetAside,
    /// A caution refuses, whatever else becomes known. The cell is not used again.
    Retire,
}

impl Grade {
    /// All of them, from the best on.
    pub const ALL: [Self; 5] = [
        Self::Sound,
        Self::Watch,
        Self::ToTest,
        Self::SetAside,
        Self::Retire,
    ];

    /// The words for people.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Sound => "sound",
            Self::Watch => "watch",
            Self::ToTest => "to test",
            Self::SetAside => "set aside",
            Self::Retire => "retire",
        }
    }

    /// The word in files, as JSON has it.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::ToTest => "to-test",
            Self::SetAside => "set-aside",
            other => other.words(),
        }
    }

    /// Whether the cell is used nowhere.
    #[must_use]
    pub const fn is_out(self) -> bool {
        matches!(self, Self::SetAside | Self::Retire)
    }

    const fn of_refused(refused: Refused) -> Option<Self> {
        match refused {
            Refused::Retire => Some(Self::Retire),
            Refused::SetAside => Some(Self::SetAside),
            Refused::KeepOut => None,
        }
    }

    const fn of_verdict(verdict: Verdict, refused: Refused) -> Option<Self> {
        match (verdict, Self::of_refused(refused)) {
            (_, None) | (Verdict::Pass, _) => None,
            (Verdict::Warn, _) => Some(Self::Watch),
            (Verdict::Refuse, refused) => refused,
        }
    }
}

/// The grade of a cell, and the best and the worst that what is known of it allows.
///
/// To know less of a cell never improves the worst, and never makes a cell sound. It can hide why a cell
/// is retired or set aside: that cell is then to be tested, and its worst grade is still the one that
/// was hidden.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Graded {
    pub(super) grade: Grade,
    pub(super) best: Grade,
    pub(super) worst: Grade,
}

impl Graded {
    /// By what was found of the cell alone.
    pub(super) fn of(findings: &[Weighed<'_>]) -> Self {
        let gravest = |of: &dyn Fn(&Weighed<'_>) -> Verdict| {
            let each = |one: &Weighed<'_>| Grade::of_verdict(of(one), one.refused);
            let all = findings.iter().filter_map(each);
            all.max().unwrap_or(Grade::Sound)
        };
        let best = gravest(&|one| one.best());
        let worst = gravest(&|one| one.worst);
        let shown = gravest(&|one| one.verdict);
        // A refusal that is not sure shows nothing but what is to be tested.
        let grade = match best.is_out() {
            true => best,
            false => shown.min(Grade::ToTest),
        };
        Self { grade, best, worst }
    }

    /// Of a cell of which nothing was surely checked.
    pub(super) const fn unchecked() -> Self {
        Self {
            grade: Grade::ToTest,
            best: Grade::Sound,
            worst: Grade::Retire,
        }
    }
}

/// The findings that give a grade: what is decided before what is in doubt, and questions last.
pub(super) fn deciding<'w, 'f>(findings: &'w [Weighed<'f>], grade: Grade) -> Vec<&'w Weighed<'f>> {
    let gives = |one: &&Weighed<'_>| match grade {
        Grade::Sound => false,
        Grade::Watch => one.verdict == Verdict::Warn,
        Grade::ToTest => one.verdict == Verdict::Refuse,
        Grade::SetAside | Grade::Retire => {
            one.surely_refuses() && Grade::of_refused(one.refused) == Some(grade)
        }
    };
    let mut all: Vec<_> = findings
        .iter()
        .filter(|one| Grade::of_refused(one.refused).is_some())
        .filter(gives)
        .collect();
    all.sort_by_key(|one| match one.finding.status {
        Status::Decided => 0,
        Status::InDoubt => 1,
        Status::Unmeasured => 2,
    });
    all
}
