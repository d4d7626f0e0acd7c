//! Parts of schemas by name, and keywords that are put beside others.

use serde_json::{Map, Value, json};

/// Parts that schemas refer to by name.
pub type Parts = Map<String, Value>;

/// A part by name, made once.
pub fn part(parts: &mut Parts, name: &str, make: impl FnOnce() -> Value) -> Value {
    if !parts.contains_key(name) {
        parts.insert(name.to_owned(), make());
    }
    json!({ "$ref": format!("#/$defs/{name}") })
}

/// A schema with a description.
pub fn described(mut schema: Value, description: impl Into<String>) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert("description".to_owned(), description.into().into());
    }
    schema
}

/// A schema with a title.
pub fn titled(mut schema: Value, title: impl Into<String>) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert("title".to_owned(), title.into().into());
    }
    schema
}

/// A schema with what editors say where a text does not fit, in place of its pattern.
pub fn told(mut schema: Value, message: &str) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert("patternErrorMessage".to_owned(), message.into());
        if keywords.contains_key("type") {
            keywords.insert("errorMessage".to_owned(), message.into());
        }
    }
    schema
}
