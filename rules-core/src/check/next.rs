//! What to measure next: the facts that leave findings open, those that could change most first.

use std::collections::BTreeMap;

use super::finding::Finder;
use crate::formula::FactAt;
use crate::report::{Finding, MeasureNext, Verdict};

/// What leaves a finding open; no facts if it is settled.
#[derive(Debug, Clone)]
pub(crate) struct Open {
    pub worst: Verdict,
    pub best: Verdict,
    pub facts: Vec<FactAt>,
}

/// The facts in the order in which to measure them: could improve the verdict alone, then by the
/// gravest verdict left open, then by how many findings.
pub(super) fn measure_next(
    open: &[Open],
    findings: &[Finding],
    verdict: Verdict,
    finder: &Finder<'_, '_>,
) -> Vec<MeasureNext> {
    let mut by_fact: BTreeMap<FactAt, Vec<usize>> = BTreeMap::new();
    for (at, one) in open.iter().enumerate() {
        one.facts
            .iter()
            .for_each(|fact| by_fact.entry(*fact).or_default().push(at));
    }
    let holding: Vec<usize> = findings
        .iter()
        .enumerate()
        .filter(|(_, finding)| finding.verdict == verdict)
        .map(|(at, _)| at)
        .collect();
    let mut next: Vec<MeasureNext> = by_fact
        .into_iter()
        .map(|(fact, at)| MeasureNext {
            leaves_open: at
                .iter()
                .filter_map(|at| open.get(*at))
                .map(|one| one.worst)
                .max()
                .unwrap_or(Verdict::Pass),
            findings: at.len(),
            could_improve: !holding.is_empty()
                && finder.is_of_one(fact)
                && holding
                    .iter()
                    .filter_map(|at| open.get(*at))
                    .all(|one| one.needs_only(fact, verdict)),
            ..finder.to_measure(fact)
        })
        .collect();
    next.sort_by(|a, b| {
        let key = |one: &MeasureNext| (one.could_improve, one.leaves_open, one.findings);
        key(b)
            .cmp(&key(a))
            .then_with(|| (&a.fact, &a.subject).cmp(&(&b.fact, &b.subject)))
    });
    next
}

impl Open {
    /// Whether the fact alone leaves the finding open, which then could come out below this
    /// verdict. If it does so with every finding that holds the verdict up, it alone could improve
    /// the report. Of several that are told as one it is several facts.
    fn needs_only(&self, fact: FactAt, verdict: Verdict) -> bool {
        self.facts == [fact] && self.best < verdict
    }
}
