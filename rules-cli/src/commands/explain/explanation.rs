//! Everything that a caution uses, as data.

use std::collections::BTreeMap;

use rules_core::document::Place;
use rules_core::formula::Uses;
use rules_core::ruleset::{
    Basis, Caution, LimitInfo, ListedLimit, Loosened, Loosening, Placeholder, Refused, Rules,
    WrittenCaution, WrittenSource,
};
use serde::Serialize;

use crate::commands::fact::Fact;
use crate::commands::limits::source;

/// A caution with the limits, figures, facts and sources that it uses.
#[derive(Serialize)]
pub(super) struct Explanation<'a> {
    pub(super) caution: &'a WrittenCaution,
    /// The stage that it is of, in words; none, if it is of every stage.
    #[serde(skip)]
    pub(super) stage: Option<String>,
    /// What becomes of the cell that it refuses, by itself or by its stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) refused: Option<Refused>,
    /// How it was moved from another stage, if it was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) loosened: Vec<&'a Loosening>,
    pub(super) limits: BTreeMap<&'a str, ListedLimit<'a>>,
    pub(super) figures: BTreeMap<&'a str, Figure<'a>>,
    pub(super) facts: Vec<Fact<'a>>,
    pub(super) sources: BTreeMap<String, WrittenSource>,
    pub(super) place: &'a Place,
}

#[derive(Serialize)]
pub(super) struct Figure<'a> {
    pub(super) is: &'a str,
    pub(super) meaning: &'a str,
}

impl<'a> Explanation<'a> {
    /// The explanation of the caution with this name, if there is one.
    pub(super) fn of(name: &str, rules: &'a Rules) -> Option<Self> {
        let caution = rules.cautions().iter().find(|one| *one.id == *name)?;
        let written = rules.written().cautions.iter();
        let written = written.into_iter().find(|one| *one.id == *name)?;
        let uses = uses(caution, rules);
        let limits = uses.limits.iter().filter_map(|id| rules.limit(*id));
        let limits: Vec<&LimitInfo> = limits.collect();
        let facts = uses.facts.union(&uses.asked);
        let facts = facts.filter_map(|id| Some((*id, rules.catalogue().fact(*id)?)));
        let named = |limit: &&'a LimitInfo| (&*limit.name, rules.listed(limit));
        Some(Self {
            caution: written,
            stage: rules
                .stage_of(caution)
                .map(|stage| format!("{} ({})", stage.id, stage.title)),
            refused: caution.refused.filter(|_| caution.refuse_unless.is_some()),
            loosened: loosened(name, rules).collect(),
            limits: limits.iter().map(named).collect(),
            figures: figures(&uses, rules),
            facts: facts.map(|fact| Fact::of(fact, rules)).collect(),
            sources: sources(&written.basis, &limits, rules),
            place: &caution.place,
        })
    }
}

/// What local practice loosened of a caution.
pub(super) fn loosened<'a>(name: &str, rules: &'a Rules) -> impl Iterator<Item = &'a Loosening> {
    let is_of = move |one: &&Loosening| matches!(&one.what, Loosened::Caution(of) if of == name);
    rules.loosened().iter().filter(is_of)
}

fn figures<'a>(uses: &Uses, rules: &'a Rules) -> BTreeMap<&'a str, Figure<'a>> {
    let figures = uses.figures.iter().filter_map(|id| rules.figure(*id));
    let named = figures.map(|figure| {
        let shown = Figure {
            is: &figure.is,
            meaning: &figure.meaning,
        };
        (&*figure.name, shown)
    });
    named.collect()
}

/// The sources of a caution and of its limits.
fn sources(
    basis: &[Basis],
    limits: &[&LimitInfo],
    rules: &Rules,
) -> BTreeMap<String, WrittenSource> {
    let of_limits = limits.iter().flat_map(|limit| &limit.written.basis);
    let all = basis.iter().chain(of_limits);
    all.filter_map(|basis| source(basis, rules)).collect()
}

/// Everything that its formulas and texts refer to.
fn uses(caution: &Caution, rules: &Rules) -> Uses {
    let (program, catalogue) = (rules.program(), rules.catalogue());
    let mut uses = Uses::default();
    let conditions = caution.applies_when.iter();
    let conditions = conditions
        .chain(&caution.refuse_unless)
        .chain(&caution.warn_unless);
    for written in conditions {
        uses.add_condition(&written.condition, program, catalogue);
    }
    let texts = std::iter::once(&caution.reason).chain(&caution.remedy);
    for value in texts.flat_map(|text| &text.values) {
        match value {
            Placeholder::Fact(fact) => {
                uses.facts.insert(fact.id);
            }
            Placeholder::Number(number, _) => {
                uses.add_number(number, program, catalogue);
            }
            Placeholder::Condition(condition) => {
                uses.add_condition(condition, program, catalogue);
            }
        }
    }
    uses
}
