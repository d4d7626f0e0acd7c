//! Readings that were given and took no part, because no figure can use them.

use std::collections::{BTreeMap, BTreeSet};

use super::report::UnusedReadings;
use super::reporter::Reporter;
use super::subject::Subject;
use crate::formula::Evaluator;

/// The readings of a sheet that no figure can use, those that are alike together. The order of
/// cables does not matter.
pub(super) fn unused(
    evaluator: &Evaluator<'_>,
    reporter: &Reporter<'_, '_>,
) -> Vec<UnusedReadings> {
    let catalogue = evaluator.catalogue();
    let mut alike: BTreeMap<(Vec<&str>, &'static str), BTreeSet<Subject>> = BTreeMap::new();
    for one in evaluator.unused() {
        let names = one
            .facts
            .iter()
            .map(|fact| catalogue.fact_name(*fact))
            .collect();
        let subject = reporter.subject(one.subject, one.position);
        alike.entry((names, one.why)).or_default().insert(subject);
    }
    let told =
        |((facts, why), subjects): ((Vec<&str>, &'static str), BTreeSet<Subject>)| UnusedReadings {
            facts: facts.into_iter().map(str::to_owned).collect(),
            subjects: subjects.into_iter().collect(),
            why: why.into(),
        };
    alike.into_iter().map(told).collect()
}
