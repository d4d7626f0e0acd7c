//! The shape of a table of facts, as the schema has it. The reader of the table is below the types
//! of rulesets, with which this shares sources and bases.
#![allow(dead_code, reason = "the types are there for their schema alone")]

use std::collections::BTreeMap;

use schemars::JsonSchema;

use super::model::{Basis, WrittenSource};
use super::written::WrittenNotice;
use crate::schema::fact_kind;

/// A table of facts.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct FactsTable {
    /// The version of the format: 1.
    #[schemars(schema_with = "crate::schema::format_one")]
    format: u32,
    /// What it holds.
    title: String,
    /// Published sources, by name.
    #[schemars(default)]
    sources: BTreeMap<String, WrittenSource>,
    /// What every report says, whatever the rules, by name.
    #[schemars(default, transform = crate::schema::named_by_words)]
    notice: BTreeMap<String, WrittenNotice>,
    /// What facts are about, each after what contains it.
    #[schemars(transform = crate::schema::named_by_words)]
    subjects: BTreeMap<String, Subject>,
    /// Facts by dotted name.
    #[schemars(transform = crate::schema::named_by_dotted_words)]
    facts: BTreeMap<String, Fact>,
    /// Keys whose word says several facts, by subject and key.
    #[schemars(default, transform = crate::schema::named_by_dotted_words)]
    summaries: BTreeMap<String, Summary>,
    /// What always holds between facts.
    #[schemars(default)]
    consistent: Vec<Relation>,
}

/// A subject.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Subject {
    /// The name of all of them, where there are many.
    plural: Option<String>,
    /// The subject that each of them belongs to.
    #[schemars(rename = "in")]
    container: Option<String>,
    /// Whether a proposal has a section for it; yes if left out.
    #[schemars(default, schema_with = "crate::schema::yes_no")]
    section: bool,
    /// What a report says of an optional subject, if a proposal has none.
    if_none: Option<String>,
    /// What it is.
    meaning: String,
}

/// A fact that a proposal can state, or that is worked out from one of its keys.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, transform = crate::schema::as_the_kind_says, transform = one_origin, transform = read_over_time)]
struct Fact {
    /// Where it is in the section of its subject.
    place: Option<String>,
    /// The key it is worked out from.
    from: Option<String>,
    /// A kind of quantity, `choice`, `yes-no`, `id` or `text`.
    #[schemars(schema_with = "kind")]
    kind: String,
    /// What it means.
    meaning: String,
    /// How values come about; stated if left out.
    #[schemars(default, schema_with = "nature")]
    nature: String,
    /// The options of a choice.
    #[schemars(default, schema_with = "crate::schema::options")]
    options: Vec<String>,
    /// The credible range of a number.
    #[schemars(default, schema_with = "crate::schema::quantity", example = "0..50 K")]
    domain: String,
    /// What can be written, where the kind does not say.
    example: Option<String>,
    /// Whether `none` may be written, which is zero.
    #[schemars(default, schema_with = "crate::schema::yes_no")]
    none_is_zero: bool,
    /// Whether whoever plans can decide it otherwise.
    #[schemars(default, schema_with = "crate::schema::yes_no")]
    changeable: bool,
    /// Which of several readings with dates counts, because what it shows does not mend; the newest if
    /// left out.
    #[schemars(default, schema_with = "over_time")]
    over_time: String,
    /// Where the range comes from.
    #[schemars(default)]
    basis: Vec<Basis>,
}

/// A key whose word says several facts of its subject.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Summary {
    /// What is looked at or answered.
    meaning: String,
    /// What each word says: keys of the section with their values.
    words: BTreeMap<String, BTreeMap<String, String>>,
}

/// A relation between facts.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Relation {
    /// Its name.
    #[schemars(schema_with = "crate::schema::identifier")]
    id: String,
    /// A subject, or `each` of many.
    about: String,
    /// What holds, of facts alone.
    #[schemars(schema_with = "crate::schema::formula")]
    holds: String,
    /// What is wrong where it does not hold, as a clause.
    says: String,
    /// Why nothing real breaks it.
    #[schemars(length(min = 1))]
    basis: Vec<Basis>,
}

/// Kinds of what a ruleset may declare, and ids.
fn kind(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
    let mut kinds = fact_kind(generator);
    if let Some(serde_json::Value::Array(all)) = kinds.get_mut("enum") {
        all.push("id".into());
    }
    kinds
}

fn nature(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
    schemars::json_schema!({ "enum": ["measured", "printed", "stated"] })
}

fn over_time(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
    schemars::json_schema!({ "enum": ["least", "greatest"] })
}

/// Only what is measured, and has a place, is read again and again.
fn read_over_time(schema: &mut schemars::Schema) {
    let read = serde_json::json!({
        "over_time": {
            "required": ["place", "nature"],
            "properties": {
                "nature": { "const": "measured" },
                "kind": { "not": { "enum": ["choice", "yes-no", "id", "text"] } },
            },
        },
    });
    schema.insert("dependentSchemas".to_owned(), read);
}

/// A fact has a place, or a key it is worked out from.
fn one_origin(schema: &mut schemars::Schema) {
    let either = serde_json::json!([{ "required": ["place"] }, { "required": ["from"] }]);
    schema.insert("oneOf".to_owned(), either);
}
