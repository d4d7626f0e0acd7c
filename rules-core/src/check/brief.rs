//! A report without its reasons.

use std::sync::Arc;

use super::finding::Finding;
use super::remarks::Remark;
use super::report::Report;
use super::subject::Subject;
use super::verdict::{Status, Verdict};

/// The result of a check, without reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct Brief {
    /// The verdict: the gravest of all findings.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest verdict that what is known allows.
    pub worst: Verdict,
    /// True if no caution surely applied to anything, so that nothing was surely checked.
    pub nothing_checked: bool,
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
            status: finding.status,
        };
        let (verdict, best, worst, nothing_checked) =
            (self.verdict, self.best, self.worst, self.nothing_checked);
        Brief {
            verdict,
            best,
            worst,
            nothing_checked,
            findings: self.findings.iter().map(of).collect(),
            remarks: self.remarks.clone(),
        }
    }
}
