//! What JSON Schemas (draft 2020-12) are made of. The schemas themselves are derived from the types
//! that hold what they describe.
//!
//! The derives leave gaps where a schema speaks of a catalogue: its subjects and facts, or
//! the rulesets that have names. They are filled when the schema is made. The parts that the schema
//! of a plan can use are in [`values`].

mod cases;
mod derived;
mod digits;
mod domain;
mod gaps;
mod heading;
mod keywords;
mod parts;
mod patterns;
mod quantities;
mod range;
pub mod values;

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde_json::Value;

pub(crate) use cases::in_doubt_or_unmeasured;
pub(crate) use gaps::{about, fact_names, fill, given, named_by_dotted_words, rulesets};
pub use heading::{address, id_of};
pub use parts::format_one;
pub(crate) use parts::{
    as_the_kind_says, dropped_or_moved, fact_kind, former_identifiers, former_words, formula,
    identifier, loosened, name, named_by_texts, named_by_words, nature, needs_a_rung,
    of_all_or_of_stages, one_line, only_yes, options, quantity, quantity_kind, stages_by_names,
    text_or_number, valued_as_the_kind_says, version, yes_no,
};

/// The schema of a document that people write and that a type describes, under a name.
pub(crate) fn of_document<T: JsonSchema>(name: &str, title: &str) -> Value {
    let mut schema = SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<T>();
    derived::as_people_write(&mut schema);
    heading::let_documents_name_it(&mut schema);
    named(schema, name, title)
}

/// The schema of what a type is written as, under a name: later versions may write more. For
/// formats of other crates that come with these.
#[must_use]
pub fn of_output<T: JsonSchema>(name: &str, title: &str) -> Value {
    let mut schema = SchemaSettings::draft2020_12()
        .for_serialize()
        .into_generator()
        .into_root_schema_for::<T>();
    derived::open_to_more(&mut schema);
    named(schema, name, title)
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
    schema.insert("$id".to_owned(), id_of(name).into());
    schema.insert("title".to_owned(), title.into());
    schema.to_value()
}
