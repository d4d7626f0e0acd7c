//! Parts of schemas that derives refer to.

use schemars::{Schema, SchemaGenerator, json_schema};

/// The version of a format.
pub(crate) fn format_one(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "enum": [1, "1"] })
}

/// A text, or a number that is kept as it is written.
pub(crate) fn text_or_number(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": ["string", "number"] })
}

/// The kind of a declared fact.
pub(crate) fn fact_kind(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "string" })
}

/// Measured or stated.
pub(crate) fn nature(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "enum": ["measured", "stated"] })
}

/// A quantity of any kind.
pub(crate) fn quantity(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": ["string", "number"] })
}

/// Yes or no.
pub(crate) fn yes_no(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "enum": ["yes", "no", "true", "false", true, false] })
}

/// Yes.
pub(crate) fn only_yes(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "enum": ["yes", "true", true] })
}

/// The subject of a caution or figure.
pub(crate) fn about(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "string" })
}

/// The facts of a case.
pub(crate) fn given(_: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "object" })
}

/// A caution has at least one rung.
pub(crate) fn needs_a_rung(schema: &mut Schema) {
    schema.insert("anyOf".to_owned(), serde_json::json!([{ "required": ["refuse_unless"] }, { "required": ["warn_unless"] }]));
}
