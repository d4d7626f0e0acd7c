//! A schema that allows what it describes and no more.

use serde_json::Value;

/// Closes a schema to further keys, so that whatever is written and not described is seen. Parts that
/// only say which keys go together describe no object, and have no type.
pub fn close(schema: &mut Value) {
    match schema {
        Value::Object(keywords) => {
            if keywords.get("properties").is_some_and(Value::is_object)
                && keywords.contains_key("type")
            {
                keywords
                    .entry("additionalProperties")
                    .or_insert(Value::Bool(false));
            }
            keywords.values_mut().for_each(close);
        }
        Value::Array(items) => items.iter_mut().for_each(close),
        _ => {}
    }
}
