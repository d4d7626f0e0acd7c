//! The schema of a file.

use rules_core::schema::id_of;
use serde_json::{Value, json};

/// The schema of a file that is a map.
pub(super) fn file(
    name: &str,
    title: &str,
    description: &str,
    properties: &Value,
    required: &[&str],
    defs: &Value,
) -> Value {
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": id_of(name),
        "title": title,
        "description": description,
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
        "$defs": defs,
    })
}
