//! A finding as it counts for a cell: what only the charger, the place and the use can settle is left
//! to a check of the plan.

use std::borrow::Cow;

use rules_core::check::{Finding, Report, Status, Verdict};
use rules_core::ruleset::Refused;

use super::rules_for::RulesFor;

/// What stands outside a cell and its light. Its facts are known when a plan is made.
const OF_THE_PLAN: [&str; 2] = ["charging", "conditions"];

/// A finding with what becomes of the cell that it refuses.
#[derive(Debug, Clone, Copy)]
pub(super) struct Weighed<'f> {
    pub(super) finding: &'f Finding,
    pub(super) refused: Refused,
    pub(super) verdict: Verdict,
    pub(super) worst: Verdict,
}

impl<'f> Weighed<'f> {
    /// The findings of a report that say what becomes of the one they refuse, the gravest first.
    pub(super) fn all(report: &'f Report, rules: &RulesFor<'_>) -> Vec<Self> {
        let weighed = |finding: &'f Finding| {
            let refused = rules.refused_by(&finding.caution)?;
            let one = Self::of(finding, refused);
            (one.worst != Verdict::Pass).then_some(one)
        };
        report.findings.iter().filter_map(weighed).collect()
    }

    fn of(finding: &'f Finding, refused: Refused) -> Self {
        let waits = waits_for_the_plan(finding);
        let of_plan = |verdict| if waits { finding.best } else { verdict };
        Self {
            finding,
            refused,
            verdict: of_plan(finding.verdict),
            worst: of_plan(finding.worst),
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

/// Whether all that leaves it open is said of the plan. One fact of the cell that is missing too makes
/// it count as it is: who knows less of a cell has no better grade for it.
fn waits_for_the_plan(finding: &Finding) -> bool {
    let of_the_plan = |fact: &Cow<'_, str>| {
        let subject = fact.split('.').next().unwrap_or_default();
        OF_THE_PLAN.contains(&subject)
    };
    finding.status == Status::Unmeasured
        && !finding.missing.is_empty()
        && finding.missing.iter().all(of_the_plan)
}
