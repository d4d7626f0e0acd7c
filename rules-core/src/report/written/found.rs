//! What a lean record is made of, whether it stands in a report or not.

use std::sync::Arc;

use crate::check::{
    Checked, Counts, Finding, MeasureNext, Outcome, Places, Remark, Report, StageOutcome,
    UnusedReadings,
};
use crate::facts::Notice;
use crate::ruleset::{Acceptance, Loosening};

/// What a check found, and what of its rules a record names.
#[derive(Clone, Copy)]
pub(in crate::report) struct Found<'w> {
    pub title: &'w str,
    pub proposal: &'w str,
    pub outcome: Option<Outcome>,
    pub stages: &'w [StageOutcome],
    pub acceptance: Acceptance,
    pub digest: &'w str,
    pub counts: Counts,
    pub findings: &'w [Finding],
    pub passed: &'w [Arc<str>],
    pub not_applicable: &'w [Arc<str>],
    pub measure_next: &'w [MeasureNext],
    pub places: &'w Places,
    pub unused: &'w [UnusedReadings],
    pub remarks: &'w [Remark],
    pub loosened: &'w [Loosening],
    pub notice: &'w [Notice],
}

impl<'w> From<&'w Report> for Found<'w> {
    fn from(report: &'w Report) -> Self {
        Self {
            title: &report.title,
            proposal: &report.proposal,
            outcome: report.outcome,
            stages: &report.stages,
            acceptance: report.acceptance,
            digest: &report.digest,
            counts: report.counts,
            findings: &report.findings,
            passed: &report.passed,
            not_applicable: &report.not_applicable,
            measure_next: &report.measure_next,
            places: &report.places,
            unused: &report.unused,
            remarks: &report.remarks,
            loosened: &report.loosened,
            notice: &report.notice,
        }
    }
}

impl<'w> From<&'w Checked<'_>> for Found<'w> {
    fn from(checked: &'w Checked<'_>) -> Self {
        Self {
            title: &checked.title,
            proposal: &checked.proposal,
            outcome: checked.outcome,
            stages: &checked.stages,
            acceptance: checked.acceptance,
            digest: checked.rules.digest_under(checked.acceptance),
            counts: checked.counts,
            findings: &checked.findings,
            passed: &checked.passed,
            not_applicable: &checked.not_applicable,
            measure_next: &checked.measure_next,
            places: &checked.places,
            unused: &checked.unused,
            remarks: &checked.remarks,
            loosened: checked.rules.loosened(),
            notice: checked.rules.notice(),
        }
    }
}

impl<'w> Found<'w> {
    /// The stages that were asked for; none if all of it was checked.
    pub(super) fn asked(&self) -> impl Iterator<Item = &'w str> + use<'w> {
        let only = self.outcome.is_none();
        let stages = self.stages.iter().filter(move |_| only);
        stages.map(|stage| &*stage.stage)
    }
}
