//! JSON Schemas (draft 2020-12) of the file formats and of the reports, for editors and for programs
//! in other languages.
//!
//! The schema of a proposal is made from the table of facts, so that a new row there is in the
//! schema at once. Those of rulesets and reports are derived from the types that hold them. A
//! schema says what the shape of a file may be: which keys, which words, which units. What goes
//! beyond shape (a value outside its domain, a name twice, a formula) is for the loader alone to
//! say.

mod bench;
mod file;
mod proposal;
mod words;

pub use bench::{bench, bench_proposal};
pub use proposal::proposal;
use rules_core::check::{FigureSheet, Report};
use rules_core::report::{Changes, Lean, ProblemRecord, Prose};
use rules_core::ruleset::Rules;
use rules_core::schema::of_output;
use serde_json::Value;
#[cfg(test)]
pub(crate) use words::TABLE as WORDS;
pub use words::meaning_of_option;

use crate::jobs::choose::Choice;
use crate::jobs::range::{MapReport, RangeReport};
use crate::jobs::sort::SortReport;
use crate::jobs::tag::TagReport;
use crate::label::LabelReport;
use crate::shipped::Shipped;

/// What there are schemas of.
pub const NAMES: [&str; 16] = [
    "proposal",
    "bench",
    "bench-proposal",
    "ruleset",
    "report",
    "lean",
    "prose",
    "changes",
    "figures",
    "label",
    "range",
    "map",
    "sorted",
    "tags",
    "choice",
    "problems",
];

/// The schema of one of [`NAMES`].
#[must_use]
pub fn by_name(name: &str) -> Option<Value> {
    match name {
        "proposal" => Some(proposal()),
        "bench" => Some(bench()),
        "bench-proposal" => Some(bench_proposal()),
        "ruleset" => Some(ruleset()),
        "report" => Some(report()),
        "lean" => Some(lean()),
        "prose" => Some(prose()),
        "changes" => Some(changes()),
        "figures" => Some(figures()),
        "label" => Some(label()),
        "range" => Some(range()),
        "map" => Some(map()),
        "sorted" => Some(sorted()),
        "tags" => Some(tags()),
        "choice" => Some(choice()),
        "problems" => Some(problems()),
        _ => None,
    }
}

/// Files that people write of which there are schemas for rulesets in force.
pub const NAMES_IN_FORCE: [&str; 4] = ["proposal", "bench", "bench-proposal", "ruleset"];

/// The schema of one of [`NAMES_IN_FORCE`] for the rules in force: it knows the names that they define.
/// A ruleset is then one that rests on them.
#[must_use]
pub fn in_force(name: &str, rules: &Rules) -> Option<Value> {
    match name {
        "proposal" => Some(proposal::proposal_for(rules)),
        "bench" => Some(bench::bench_of(&proposal::proposal_for(rules))),
        "bench-proposal" => Some(bench::bench_proposal_of(&proposal::proposal_for(rules))),
        "ruleset" => {
            let shipped: Vec<&str> = Shipped::names().collect();
            let mut schema = rules_core::ruleset::schema::ruleset_resting_on(rules, &shipped);
            tell_options(&mut schema);
            Some(schema)
        }
        _ => None,
    }
}

/// The schema of a ruleset file, merged or not.
#[must_use]
pub fn ruleset() -> Value {
    let shipped: Vec<&str> = Shipped::names().collect();
    let mut schema = rules_core::ruleset::schema::ruleset(crate::facts::catalogue(), &shipped);
    tell_options(&mut schema);
    schema
}

/// Says in the cases of a ruleset what each option means.
fn tell_options(ruleset: &mut Value) {
    let Some(given) = ruleset.pointer_mut("/$defs/case/properties/given") else {
        return;
    };
    words::words().add_to_facts("", given);
    for subject in crate::facts::catalogue().subjects() {
        let many = subject.plural.as_deref().unwrap_or_default();
        if let Some(one) = given.pointer_mut(&format!("/properties/{many}/items")) {
            words::words().add_to_facts(&format!("{}.", subject.name), one);
        }
    }
}

/// The schema of a report in JSON.
#[must_use]
pub fn report() -> Value {
    of_output::<Report>("report", "A report")
}

/// The schema of a lean record: a report without its words.
#[must_use]
pub fn lean() -> Value {
    of_output::<Lean<'_>>("lean", "A report without its words")
}

/// The schema of the words of rules, with which a lean record is a report.
#[must_use]
pub fn prose() -> Value {
    of_output::<Prose>("prose", "The words of rules")
}

/// The schema of what changed between two reports, in JSON.
#[must_use]
pub fn changes() -> Value {
    of_output::<Changes>("changes", "What changed between two reports")
}

/// The schema of the figures of a proposal in JSON.
#[must_use]
pub fn figures() -> Value {
    of_output::<FigureSheet>("figures", "The figures of a proposal")
}

/// The schema of what stands in place of an answer where something cannot be used.
#[must_use]
pub fn problems() -> Value {
    of_output::<ProblemRecord>("problems", "Why there is no answer")
}

/// The schema of what a label says, in JSON.
#[must_use]
pub fn label() -> Value {
    of_output::<LabelReport>("label", "What a label says")
}

/// The schema of a range: what a plan comes to as one of its facts changes, in JSON.
#[must_use]
pub fn range() -> Value {
    of_output::<RangeReport>("range", "The verdict on a plan over the range of a fact")
}

/// The schema of a map: what a plan comes to as two of its facts change, in JSON.
#[must_use]
pub fn map() -> Value {
    of_output::<MapReport>("map", "The verdict on a plan over the ranges of two facts")
}

/// The schema of the sorted cells of a bench, in JSON.
#[must_use]
pub fn sorted() -> Value {
    of_output::<SortReport>("sorted", "The cells of a bench, sorted")
}

/// The schema of the tags of cells, in JSON.
#[must_use]
pub fn tags() -> Value {
    of_output::<TagReport>("tags", "Tags of cells")
}

/// The schema of the cells that were chosen for a light, in JSON.
#[must_use]
pub fn choice() -> Value {
    of_output::<Choice>("choice", "The cells chosen for a light")
}
