//! What to measure next: the facts that leave findings open, those that could change most first.

use std::collections::BTreeMap;

use crate::report::{Finding, MeasureNext, Verdict};

/// A fact that leaves a finding open.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct OpenFact {
    pub name: String,
    pub subject: String,
    pub meaning: String,
    pub missing: bool,
}

/// What leaves a finding open; no facts if it is settled.
#[derive(Debug, Clone)]
pub(super) struct Open {
    pub worst: Verdict,
    pub best: Verdict,
    pub facts: Vec<OpenFact>,
}

/// The facts in the order in which to measure them: could improve the verdict alone, then by the gravest verdict left open, then by how many findings.
pub(super) fn measure_next(open: &[Open], findings: &[Finding], verdict: Verdict) -> Vec<MeasureNext> {
    let mut by_fact: BTreeMap<&OpenFact, Vec<usize>> = BTreeMap::new();
    for (at, one) in open.iter().enumerate() {
        one.facts.iter().for_each(|fact| by_fact.entry(fact).or_default().push(at));
    }
    let holding: Vec<usize> = findings.iter().enumerate().filter(|(_, finding)| finding.verdict == verdict).map(|(at, _)| at).collect();
    let mut next: Vec<MeasureNext> = by_fact.into_iter().map(|(fact, at)| one(fact, &at, open, &holding, verdict)).collect();
    next.sort_by(|a, b| {
        let key = |one: &MeasureNext| (one.could_improve, one.leaves_open, one.findings);
        key(b).cmp(&key(a)).then_with(|| (&a.fact, &a.subject).cmp(&(&b.fact, &b.subject)))
    });
    next
}

fn one(fact: &OpenFact, at: &[usize], open: &[Open], holding: &[usize], verdict: Verdict) -> MeasureNext {
    let leaves_open = at.iter().filter_map(|at| open.get(*at)).map(|one| one.worst).max().unwrap_or(Verdict::Pass);
    // Alone it could improve the report if it alone leaves open every finding that holds the verdict up.
    let alone = |at: &usize| open.get(*at).is_some_and(|one| one.facts.len() == 1 && one.facts.contains(fact) && one.best < verdict);
    let could_improve = !holding.is_empty() && holding.iter().all(alone);
    MeasureNext {
        fact: fact.name.clone(),
        subject: fact.subject.clone(),
        meaning: fact.meaning.clone(),
        missing: fact.missing,
        leaves_open,
        findings: at.len(),
        could_improve,
    }
}
