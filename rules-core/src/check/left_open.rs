//! What leaves a finding open.

use super::verdict::Verdict;
use crate::formula::FactAt;

/// What leaves a finding open; no facts if it is settled.
#[derive(Debug, Clone)]
pub(crate) struct LeftOpen {
    pub worst: Verdict,
    pub best: Verdict,
    pub facts: Vec<FactAt>,
}

impl LeftOpen {
    /// Whether the fact alone leaves the finding open, so that the finding could be below this
    /// verdict. If it does so for every finding that has the verdict, it alone could improve the
    /// report. Of several that are reported as one it is several facts.
    pub(super) fn needs_only(&self, fact: FactAt, verdict: Verdict) -> bool {
        self.facts == [fact] && self.best < verdict
    }
}
