//! Reports without their words.

use serde::{Serialize, Serializer};

use super::written::{Found, WrittenLean};
use crate::check::{Checked, Report};

/// A report that is written without its words: as ids and numbers, for programs that hold the
/// [words](super::Prose) of the rules. Read as a [`LeanRecord`](super::LeanRecord) it is with them the
/// whole report again. It is made of the report that a check gave or, the same to the byte and
/// cheaper, of what was [`checked`](crate::check::checked()), without a report.
#[derive(Debug, Clone, Copy)]
pub struct Lean<'r, T = Report>(pub &'r T);

impl Serialize for Lean<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        WrittenLean::of(Found::from(self.0)).serialize(serializer)
    }
}

impl Serialize for Lean<'_, Checked<'_>> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        WrittenLean::of(Found::from(self.0)).serialize(serializer)
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
