//! What to measure next: the facts that leave findings open, those that could change most first.

use std::cmp::Reverse;
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
    let told = |(fact, at): (FactAt, Vec<usize>)| {
        let next = MeasureNext {
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
        };
        let weight = (next.could_improve, next.leaves_open, next.findings);
        ((Reverse(weight), reporter.ranks(fact)), next)
    };
    let mut next: Vec<_> = by_fact.into_iter().map(told).collect();
    next.sort_by(|(a, one), (b, other)| a.cmp(b).then_with(|| one.subject.cmp(&other.subject)));
    next.into_iter().map(|(_, next)| next).collect()
}
