//! What stands at the head of a schema, and at the head of the documents that it is of.

use schemars::Schema;
use serde_json::{Value, json};

/// What a schema is called wherever it lies: no host is asked for it.
#[must_use]
pub fn id_of(name: &str) -> String {
    format!("urn:cellrules:schema:{name}:1")
}

/// The key `$schema` of a document.
#[must_use]
pub fn address() -> Value {
    let description = "Where the schema of this file is, for the editor. Nothing else heeds it.";
    json!({ "description": description, "type": ["string", "number", "boolean"], "examples": [id_of("proposal")] })
}

/// Lets documents name their schema.
pub(super) fn let_documents_name_it(schema: &mut Schema) {
    if let Some(Value::Object(keys)) = schema.get_mut("properties") {
        keys.insert("$schema".to_owned(), address());
    }
}
