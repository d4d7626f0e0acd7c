//! What leaves cautions open, in the keys of the plan.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::{MeasureNext, Report, Subject};
use rules_core::facts::FactId;
use rules_core::ruleset::Rules;

use super::report::RangeOpen;

/// The facts to measure or state next that some cautions wait for, what changes most first. What is
/// asked of several is told once; what stands at one of the places of what is varied is not told.
pub(super) fn open_facts(
    report: &Report,
    waiting: &BTreeSet<Arc<str>>,
    varied: &BTreeSet<String>,
    rules: &Rules,
) -> Vec<RangeOpen> {
    let catalogue = rules.catalogue();
    let cautions = rules.cautions().iter();
    let read: BTreeSet<FactId> = cautions
        .filter(|caution| waiting.contains(&caution.id))
        .flat_map(|caution| rules.uses_of(caution).facts)
        .collect();
    let is_read = |next: &&MeasureNext| {
        let fact = catalogue.fact_named(&next.fact);
        fact.is_some_and(|(id, _)| read.contains(&id))
    };
    let is_other = |next: &&MeasureNext| {
        let place = report.place_of(next);
        place.is_none_or(|place| !varied.contains(&place))
    };
    let mut all: Vec<Open<'_>> = Vec::new();
    for next in report.measure_next.iter().filter(is_read).filter(is_other) {
        let alike = |one: &&mut Open<'_>| one.fact == next.fact && one.missing == next.missing;
        match all.iter_mut().find(alike) {
            Some(known) => known.names.extend(next.subject.name()),
            None => all.push(Open {
                fact: &next.fact,
                missing: next.missing,
                names: next.subject.name().into_iter().collect(),
            }),
        }
    }
    all.iter().map(|one| one.told(report)).collect()
}

/// A fact that leaves something open, of one or several.
struct Open<'r> {
    fact: &'r str,
    missing: bool,
    names: Vec<&'r str>,
}

impl Open<'_> {
    fn told(&self, report: &Report) -> RangeOpen {
        let place = report.places.get(self.fact);
        let mut names = self.names.clone();
        names.sort_unstable();
        let whose = Subject::named("", &names.join(" "));
        RangeOpen {
            fact: self.fact.to_owned(),
            place: place.map_or_else(|| self.fact.to_owned(), |place| place.path(&whose)),
            missing: self.missing,
        }
    }
}
