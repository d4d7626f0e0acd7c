//! A finding as it counts for a cell: what only a light can settle is left to the light, and what only
//! the charger, the place and the use can settle to a check of the plan.

use std::borrow::Cow;

use rules_core::check::{Finding, Report, Status, Verdict};
use rules_core::ruleset::Refused;

use super::rules_for::RulesFor;
use super::scope::Scope;

/// A finding with what becomes of the cell that it refuses.
#[derive(Debug, Clone, Copy)]
pub(super) struct Weighed<'f> {
    pub(super) finding: &'f Finding,
    pub(super) refused: Refused,
    pub(super) verdict: Verdict,
    pub(super) worst: Verdict,
}

impl<'f> Weighed<'f> {
    /// The findings of a cell alone that can give it a grade, the gravest first.
    pub(super) fn alone(report: &'f Report, rules: &RulesFor<'_>) -> Vec<Self> {
        let mut all = Self::all(report, rules, Scope::Cell);
        all.retain(|one| one.refused != Refused::KeepOut);
        all
    }

    /// The findings that count for a cell in a light, the gravest first.
    pub(super) fn in_light(report: &'f Report, rules: &RulesFor<'_>) -> Vec<Self> {
        Self::all(report, rules, Scope::Light)
    }

    fn all(report: &'f Report, rules: &RulesFor<'_>, tried: Scope) -> Vec<Self> {
        let weighed = |finding: &'f Finding| {
            let refused = rules.refused_by(&finding.caution)?;
            let one = Self::of(finding, refused, tried);
            (one.worst != Verdict::Pass).then_some(one)
        };
        report.findings.iter().filter_map(weighed).collect()
    }

    fn of(finding: &'f Finding, refused: Refused, tried: Scope) -> Self {
        let waits = waits_for_more(finding, tried);
        let of_more = |verdict| if waits { finding.best } else { verdict };
        Self {
            finding,
            refused,
            verdict: of_more(finding.verdict),
            worst: of_more(finding.worst),
        }
    }

    /// The lowest verdict that what is known allows.
    pub(super) const fn best(&self) -> Verdict {
        self.finding.best
    }

    /// Whether it refuses whatever else becomes known.
    pub(super) fn surely_refuses(&self) -> bool {
        self.best() == Verdict::Refuse
    }

    /// Whether an answer or a closer reading could change it.
    pub(super) fn is_open(&self) -> bool {
        self.best() != self.worst
    }
}

/// Whether all that leaves it open is known only when more than this is tried. One fact of the cell
/// that is missing too makes it count as it is: who knows less of a cell has no better grade for it.
fn waits_for_more(finding: &Finding, tried: Scope) -> bool {
    let is_of_more = |fact: &Cow<'_, str>| {
        let subject = fact.split('.').next().unwrap_or_default();
        Scope::of_subject(subject) > tried
    };
    finding.status == Status::Unmeasured
        && !finding.missing.is_empty()
        && finding.missing.iter().all(is_of_more)
}
