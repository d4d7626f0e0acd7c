//! What leaves findings open.

use super::finding::Finding;
use super::verdict::Verdict;
use crate::formula::FactAt;

/// What leaves a finding open.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LeftOpen {
    pub worst: Verdict,
    pub best: Verdict,
    /// The fact that alone leaves it open; none if several do, or if it is settled.
    pub by: Option<FactAt>,
}

/// What leaves the findings of a check open.
#[derive(Debug, Default)]
pub(crate) struct AllLeftOpen {
    /// Of each finding, in their order.
    pub findings: Vec<LeftOpen>,
    /// The facts, each with the position of a finding that it leaves open.
    pub facts: Vec<(FactAt, usize)>,
}

impl AllLeftOpen {
    /// Adds the next finding, which these facts leave open.
    pub(super) fn add(&mut self, (best, worst): (Verdict, Verdict), facts: &mut Vec<FactAt>) {
        facts.sort_unstable();
        facts.dedup();
        let by = match **facts {
            [only] => Some(only),
            _ => None,
        };
        let at = self.findings.len();
        self.findings.push(LeftOpen { worst, best, by });
        self.facts.extend(facts.drain(..).map(|fact| (fact, at)));
    }

    /// The fact that alone leaves every finding open that has this verdict, so that each could be
    /// below it.
    pub(super) fn by_one(&self, findings: &[Finding], verdict: Verdict) -> Option<FactAt> {
        let holding = findings.iter().zip(&self.findings);
        let holding = holding.filter(|(finding, _)| finding.verdict == verdict);
        let mut by = holding.map(|(_, open)| open.by.filter(|_| open.best < verdict));
        let first = by.next()??;
        by.all(|by| by == Some(first)).then_some(first)
    }
}
