//! The questions that hold a verdict, with what each could be answered with.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use rules_core::check::Report;
use rules_core::facts::FactId;
use rules_core::quantity::Nature;
use rules_core::report::{Answers, Question, questions};
use rules_core::ruleset::Rules;

use super::values::values;
use super::waiting::paths;
use crate::jobs::reads::Reads;

/// A question that could be answered, the same of each of its entries.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    /// Where the answers are written.
    pub places: Vec<String>,
    /// The facts that they give.
    pub facts: BTreeSet<FactId>,
    /// What could be written, what is tried first coming first. Nothing where that is not known.
    pub values: Vec<String>,
    pub effort: Effort,
    /// The first stage of the work that waits for it.
    stage: Option<usize>,
}

/// How hard an answer is to come by, the easiest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Effort {
    /// One word, after a look or out of what is known.
    Look,
    /// A number that stands somewhere.
    ReadOff,
    /// A reading of an instrument.
    Measure,
    /// A text that may stand nowhere.
    Text,
}

impl Asked {
    /// Whether one of a few words answers it.
    pub(super) fn is_of_words(&self) -> bool {
        self.effort == Effort::Look
    }

    /// In the order of the work, and at each place by the keys.
    pub(super) fn in_order(&self) -> (Option<usize>, Effort, &[String]) {
        (self.stage, self.effort, &self.places)
    }
}

/// The questions of a report that hold its verdict, but for places of which nothing is known.
pub(super) fn asked(
    report: &Report,
    rules: &Rules,
    (reads, not_known): (&Reads, &BTreeSet<String>),
) -> Vec<Asked> {
    let facts = facts_by_place(report, rules);
    let mut seen = HashSet::new();
    let holding = questions(report).into_iter();
    let holding = holding.filter(|question| question.holds_the_verdict);
    let of = |question: Question<'_>| {
        let mut places = question.paths();
        places.retain(|place| !not_known.contains(place) && seen.insert(place.clone()));
        let facts = facts.get(places.first()?)?.clone();
        let values = values(&question, &facts, rules, reads);
        Some(Asked {
            effort: effort(&question.answers, &facts, rules),
            stage: question.stage,
            places,
            facts,
            values,
        })
    };
    holding.filter_map(of).collect()
}

fn effort(answers: &Answers<'_>, facts: &BTreeSet<FactId>, rules: &Rules) -> Effort {
    let is_measured = |fact: &FactId| {
        let def = rules.catalogue().fact(*fact);
        def.is_some_and(|def| def.nature == Nature::Measured)
    };
    match answers {
        Answers::OneOf(_) | Answers::InOneWord(_) => Effort::Look,
        Answers::Quantity { .. } if facts.iter().any(is_measured) => Effort::Measure,
        Answers::Quantity { .. } => Effort::ReadOff,
        _ => Effort::Text,
    }
}

/// By place the facts that an answer there gives.
fn facts_by_place(report: &Report, rules: &Rules) -> BTreeMap<String, BTreeSet<FactId>> {
    let mut all: BTreeMap<String, BTreeSet<FactId>> = BTreeMap::new();
    for next in report.measure_next.iter().filter(|next| next.missing) {
        let fact = rules.catalogue().fact_named(&next.fact);
        let (Some(place), Some((fact, _))) = (report.places.get(&next.fact), fact) else {
            continue;
        };
        for path in paths(place, &next.subject) {
            all.entry(path).or_default().insert(fact);
        }
    }
    all
}
