//! What to measure next: the facts that leave findings open, those that could change most first.

use std::collections::BTreeMap;

use super::finding::Finding;
use super::left_open::LeftOpen;
use super::report::MeasureNext;
use super::reporter::Reporter;
use super::verdict::Verdict;
use crate::formula::FactAt;

/// The facts in the order in which to measure them: could improve the verdict alone, then by the
/// gravest verdict left open, then by how many findings.
pub(super) fn measure_next(
    open: &[LeftOpen],
    findings: &[Finding],
    verdict: Verdict,
    reporter: &Reporter<'_, '_>,
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
                && reporter.is_of_one(fact)
                && holding
                    .iter()
                    .filter_map(|at| open.get(*at))
                    .all(|one| one.needs_only(fact, verdict)),
            ..reporter.to_measure(fact)
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
