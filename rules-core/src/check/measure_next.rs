//! What to measure next: the facts that leave findings open, those that could change most first.

use std::cmp::{Ordering, Reverse};

use super::finding::Finding;
use super::left_open::AllLeftOpen;
use super::report::MeasureNext;
use super::reporter::Reporter;
use super::verdict::Verdict;
use crate::formula::FactAt;

/// A fact that leaves findings open.
struct Asked {
    fact: FactAt,
    /// How much depends on it: whether it could improve the verdict alone, then the gravest verdict
    /// left open, then how many findings.
    weight: (bool, Verdict, usize),
    /// Where its name and that of its subject stand.
    ranks: (usize, usize),
}

/// The facts in the order in which to measure them: those first on which most depends.
pub(super) fn measure_next(
    mut open: AllLeftOpen,
    findings: &[Finding],
    verdict: Verdict,
    reporter: &Reporter<'_, '_>,
) -> Vec<MeasureNext> {
    open.facts.sort_unstable();
    // Of several that are reported as one it is several facts.
    let improving = open.by_one(findings, verdict);
    let improving = improving.filter(|fact| reporter.is_of_one(*fact));
    let asked = |of_fact: &[(FactAt, usize)]| {
        let (fact, _) = *of_fact.first()?;
        let left = of_fact.iter().filter_map(|(_, at)| open.findings.get(*at));
        let worst = left.map(|one| one.worst).max().unwrap_or(Verdict::Pass);
        let weight = (improving == Some(fact), worst, of_fact.len());
        Some(Asked {
            fact,
            weight,
            ranks: reporter.ranks(fact),
        })
    };
    let by_fact = open.facts.chunk_by(|one, other| one.0 == other.0);
    let mut all: Vec<Asked> = by_fact.filter_map(asked).collect();
    all.sort_by(|one, other| one.before(other, reporter));
    all.iter().map(|one| one.told(reporter)).collect()
}

impl Asked {
    /// Of the like the one whose name comes first, and then that of its subject.
    fn before(&self, other: &Self, reporter: &Reporter<'_, '_>) -> Ordering {
        let subject = |one: &Self| reporter.subject(one.fact.subject, one.fact.position);
        let key = |one: &Self| (Reverse(one.weight), one.ranks);
        key(self)
            .cmp(&key(other))
            .then_with(|| subject(self).cmp(&subject(other)))
    }

    fn told(&self, reporter: &Reporter<'_, '_>) -> MeasureNext {
        let (could_improve, leaves_open, findings) = self.weight;
        MeasureNext {
            leaves_open,
            findings,
            could_improve,
            ..reporter.to_measure(self.fact)
        }
    }
}
