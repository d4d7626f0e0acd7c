//! The figures of a proposal, as data.

use std::sync::Arc;

use super::finding::FactReport;
use super::narrowed::NarrowedBy;
use super::report::{Report, UnusedReadings};
use super::subject::Subject;
use super::values::ReportedNumber;
use crate::facts::Notice;
use crate::formula::Truth;
use crate::ruleset::LoadedRuleset;

/// The figures of a proposal.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct FigureSheet {
    /// The version of the format: 1.
    pub format: u32,
    /// The proposal's title.
    pub title: Arc<str>,
    /// The proposal's file or stream.
    pub proposal: String,
    /// The rulesets whose figures are here besides those of the library.
    pub rules: Vec<LoadedRuleset>,
    /// The digest of the rules: of a list of their rulesets, the facts and the acceptance.
    pub digest: String,
    /// The figures, by subject.
    pub figures: Vec<FigureReport>,
    /// Readings that were given and that no figure can use, so that they took no part.
    pub unused: Vec<UnusedReadings>,
    /// What regulators and makers say of any such use. No figure overrules it.
    pub notice: Vec<Notice>,
}

impl FigureSheet {
    /// A sheet without figures, of the proposal of a report: where that is no longer at hand.
    #[must_use]
    pub fn without_figures(report: &Report) -> Self {
        Self {
            format: 1,
            title: Arc::clone(&report.title),
            proposal: report.proposal.clone(),
            rules: report.rules.clone(),
            digest: report.digest.clone(),
            figures: Vec::new(),
            unused: Vec::new(),
            notice: report.notice.clone(),
        }
    }
}

/// A figure of one subject: what it came to, and what it was worked from.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct FigureReport {
    /// Its dotted name.
    pub name: String,
    /// Whom it is of.
    pub subject: Subject,
    /// What it means.
    pub meaning: String,
    /// The formula, where a ruleset defines it; else the library works it out.
    pub is: Option<String>,
    /// What it came to; none for a condition.
    pub value: Option<ReportedNumber>,
    /// Whether it holds, for a condition.
    pub truth: Option<Truth>,
    /// Where the model does not reach, so that the value is open towards the cautious side: why.
    pub open: Option<&'static str>,
    /// What would narrow it, what narrows it most first.
    pub narrowed_by: Vec<NarrowedBy>,
    /// The facts it was worked from.
    pub facts: Vec<Arc<FactReport>>,
    /// How many more there are.
    pub more_facts: usize,
}
