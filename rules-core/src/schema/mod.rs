//! JSON Schemas (draft 2020-12) of the file formats and of the report, for editors and for programs
//! in other languages.
//!
//! The schema of a proposal is made from the table of facts, so that a new row there is in the
//! schema at once. Those of rulesets and reports are derived from the types that hold them. A
//! schema says what the shape of a file may be: which keys, which words, which units. What goes
//! beyond shape (a value outside its domain, a name twice, a formula) is for the loader alone to
//! say.

mod cases;
mod derived;
mod parts;
mod proposal;
mod values;
mod writing;

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde_json::Value;

pub(crate) use cases::{fact_names, given, in_doubt_or_unmeasured};
pub(crate) use parts::{
    about, as_the_kind_says, fact_kind, format_one, formula, identifier, loosened,
    named_by_dotted_words, named_by_texts, named_by_words, nature, needs_a_rung, one_line,
    only_yes, options, quantity, rulesets, text_or_number, version, yes_no,
};
pub use proposal::proposal;

/// What there are schemas of.
pub const NAMES: [&str; 5] = ["proposal", "ruleset", "report", "figures", "label"];

/// The schema of one of [`NAMES`].
#[must_use]
pub fn by_name(name: &str) -> Option<Value> {
    match name {
        "proposal" => Some(proposal()),
        "ruleset" => Some(ruleset()),
        "report" => Some(report()),
        "figures" => Some(figures()),
        "label" => Some(label()),
        _ => None,
    }
}

/// The schema of a ruleset file, merged or not.
#[must_use]
pub fn ruleset() -> Value {
    let mut schema = SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<crate::ruleset::WrittenRuleset>();
    derived::as_people_write(&mut schema);
    named(schema, "ruleset", "A ruleset")
}

/// The schema of a report in JSON.
#[must_use]
pub fn report() -> Value {
    of_output::<crate::report::Report>("report", "A report")
}

/// The schema of the figures of a proposal in JSON.
#[must_use]
pub fn figures() -> Value {
    of_output::<crate::report::FigureSheet>("figures", "The figures of a proposal")
}

/// The schema of what a label says, in JSON.
#[must_use]
pub fn label() -> Value {
    of_output::<crate::report::LabelReport>("label", "What a label says")
}

/// The schema of what a type is written as, under a name. For formats of other crates that come
/// with these.
#[must_use]
pub fn of_output<T: JsonSchema>(name: &str, title: &str) -> Value {
    named(
        SchemaSettings::draft2020_12()
            .for_serialize()
            .into_generator()
            .into_root_schema_for::<T>(),
        name,
        title,
    )
}

/// The schema of what a type is read from, under a name. For formats of other crates that come with
/// these.
#[must_use]
pub fn of_input<T: JsonSchema>(name: &str, title: &str) -> Value {
    named(
        SchemaSettings::draft2020_12()
            .into_generator()
            .into_root_schema_for::<T>(),
        name,
        title,
    )
}

fn named(mut schema: Schema, name: &str, title: &str) -> Value {
    derived::tidy(&mut schema);
    schema.insert("$id".to_owned(), format!("{name}.schema.json").into());
    schema.insert("title".to_owned(), title.into());
    schema.to_value()
}
