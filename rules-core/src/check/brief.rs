//! A report without its reasons.

use std::sync::Arc;

use super::finding::Finding;
use super::remarks::Remark;
use super::report::Report;
use super::stages::{Outcome, StageOutcome, gravest};
use super::subject::Subject;
use super::verdict::{Status, Verdict};

/// The result of a check, without reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct Brief {
    /// The verdict on the whole, and what else it could be; none if only some stages were asked for.
    pub outcome: Option<Outcome>,
    /// What each stage came to, of those that were asked for, in their order.
    pub stages: Vec<StageOutcome>,
    /// Every finding that is not a pass, in the order of a [`Report`].
    pub findings: Vec<BriefFinding>,
    /// What is reported without a verdict.
    pub remarks: Vec<Remark>,
}

/// A finding without its reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct BriefFinding {
    /// The caution.
    pub caution: Arc<str>,
    /// Whom it is of.
    pub subject: Subject,
    /// The verdict.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// How sure the finding is.
    pub status: Status,
}

impl Report {
    /// The same without reasons.
    #[must_use]
    pub fn brief(&self) -> Brief {
        let of = |finding: &Finding| BriefFinding {
            caution: Arc::clone(&finding.caution),
            subject: finding.subject.clone(),
            verdict: finding.verdict,
            best: finding.best,
            status: finding.status,
        };
        Brief {
            outcome: self.outcome,
            stages: self.stages.clone(),
            findings: self.findings.iter().map(of).collect(),
            remarks: self.remarks.clone(),
        }
    }
}

impl Brief {
    /// What all that was asked for came to: the whole, or the gravest of some stages.
    #[must_use]
    pub fn gravest(&self) -> Outcome {
        gravest(self.outcome, &self.stages)
    }
}
