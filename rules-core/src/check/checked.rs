//! What a check found, before anything of its rules is put to it.

use std::sync::Arc;

use super::cited::cited;
use super::finding::Finding;
use super::places::Places;
use super::remarks::Remark;
use super::report::{Counts, MeasureNext, Report, UnusedReadings};
use super::stages::{Outcome, StageOutcome, gravest};
use crate::ruleset::{Acceptance, Rules};

/// What a check found: a [`Report`] but for what that takes over from its rules, so that it can be
/// read without them. A lean record needs no more.
#[derive(Debug, Clone)]
pub struct Checked<'r> {
    pub(crate) rules: &'r Rules,
    pub(crate) title: Arc<str>,
    pub(crate) proposal: String,
    pub(crate) outcome: Option<Outcome>,
    pub(crate) stages: Vec<StageOutcome>,
    pub(crate) acceptance: Acceptance,
    pub(crate) counts: Counts,
    pub(crate) findings: Vec<Finding>,
    pub(crate) passed: Vec<Arc<str>>,
    pub(crate) not_applicable: Vec<Arc<str>>,
    pub(crate) measure_next: Vec<MeasureNext>,
    pub(crate) places: Places,
    pub(crate) unused: Vec<UnusedReadings>,
    pub(crate) remarks: Vec<Remark>,
}

impl Checked<'_> {
    /// The verdict on the whole, and what else it could be; none if only some stages were asked for.
    #[must_use]
    pub const fn outcome(&self) -> Option<Outcome> {
        self.outcome
    }

    /// What each stage came to, of those that were asked for, in their order.
    #[must_use]
    pub fn stages(&self) -> &[StageOutcome] {
        &self.stages
    }

    /// What all that was asked for came to: the whole, or the gravest of some stages, which is no
    /// verdict on the whole.
    #[must_use]
    pub fn gravest(&self) -> Outcome {
        gravest(self.outcome, &self.stages)
    }

    /// Every finding that is not a pass, the gravest first.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Where the first of what is missing is written, of what is to be measured or stated next:
    /// `cables[K4].rated.current`. None if nothing is missing.
    #[must_use]
    pub fn first_missing(&self) -> Option<String> {
        let next = self.measure_next.iter().find(|next| next.missing)?;
        Some(self.places.get(&next.fact)?.path(&next.subject))
    }

    /// The whole report.
    #[must_use]
    pub fn report(self) -> Report {
        let rules = self.rules;
        let limit = |name: &str| {
            let mut limits = rules.limits().iter();
            let found = limits.find(|limit| limit.name == name)?;
            Some(found.written.reported())
        };
        let (limits, sources) = cited(&self.findings, limit, |name| rules.sources().get(name));
        Report {
            format: 1,
            title: self.title,
            proposal: self.proposal,
            outcome: self.outcome,
            stages: self.stages,
            acceptance: self.acceptance,
            rules: rules.layers().to_vec(),
            digest: rules.digest_under(self.acceptance).to_owned(),
            counts: self.counts,
            findings: self.findings,
            passed: self.passed,
            not_applicable: self.not_applicable,
            places: self.places,
            measure_next: self.measure_next,
            would_change: None,
            would_lift: None,
            unused: self.unused,
            remarks: self.remarks,
            loosened: rules.loosened().to_vec(),
            limits,
            sources,
            notice: rules.notice().to_vec(),
        }
    }
}
