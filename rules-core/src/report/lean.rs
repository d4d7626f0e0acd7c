//! Reports without their words.

use serde::{Serialize, Serializer};

use super::written::WrittenLean;
use crate::check::Report;

/// A report that is written without its words: as ids and numbers, for programs that hold the
/// [words](super::Prose) of the rules. Read as a [`LeanRecord`](super::LeanRecord) it is with them the
/// whole report again. It is made of the report that a check gave.
#[derive(Debug, Clone, Copy)]
pub struct Lean<'r>(pub &'r Report);

impl Serialize for Lean<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        WrittenLean::of(self.0).serialize(serializer)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Lean<'_> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        WrittenLean::schema_name()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        WrittenLean::json_schema(generator)
    }
}
