//! The JSON Schemas of what a ruleset is written as, and of a table of facts.

use serde_json::Value;

use super::facts_table::FactsTable;
use super::rules::Rules;
use super::schema_in_force;
use super::written::WrittenRuleset;
use crate::facts::Catalogue;
use crate::schema::{fill, of_document};

/// The schema of a ruleset file, merged or not, for rules about what a catalogue holds. `named` are
/// the rulesets that can be extended by name.
#[must_use]
pub fn ruleset(catalogue: &Catalogue, named: &[&str]) -> Value {
    let mut schema = of_document::<WrittenRuleset>("ruleset", "A ruleset");
    fill(&mut schema, catalogue, named);
    schema
}

/// The schema of a ruleset file that rests on rules: it knows the limits, cautions, stages and facts
/// that these define.
#[must_use]
pub fn ruleset_resting_on(rules: &Rules, named: &[&str]) -> Value {
    let mut schema = ruleset(rules.catalogue(), named);
    schema_in_force::offer(&mut schema, rules);
    schema
}

/// The schema of a table of facts.
#[must_use]
pub fn facts_table() -> Value {
    of_document::<FactsTable>("facts", "A table of facts")
}
