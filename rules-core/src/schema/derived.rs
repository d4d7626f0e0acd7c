//! From what the derives say of a type to the schema of a file.

use schemars::Schema;
use schemars::transform::{RecursiveTransform, Transform};
use serde_json::{Map, Value, json};

use super::values;

/// In a file that people write, a text may be a bare number or word, and must not be blank.
pub(super) fn as_people_write(schema: &mut Schema) {
    RecursiveTransform(text).transform(schema);
    if let Some(Value::Object(parts)) = schema.get_mut("$defs") {
        drop(values::wording(parts));
    }
}

/// What holds for every derived schema: keys that may be left out never have `null`, parts have
/// names in the words of the formats, and names of number formats, which are those of the derive,
/// are left out.
pub(super) fn tidy(schema: &mut Schema) {
    RecursiveTransform(|schema: &mut Schema| drop(schema.remove("format"))).transform(schema);
    RecursiveTransform(optional).transform(schema);
    name_parts(schema);
}

/// Allows further keys: who reads what is written is to go on reading what later versions write.
pub(super) fn open_to_more(schema: &mut Schema) {
    let open = |schema: &mut Schema| {
        if schema.get("additionalProperties") == Some(&Value::Bool(false)) {
            schema.remove("additionalProperties");
        }
    };
    RecursiveTransform(open).transform(schema);
}

fn text(schema: &mut Schema) {
    let plain = schema
        .get("type")
        .is_some_and(|found| *found == json!("string") || *found == json!(["string", "null"]));
    if plain
        && ["enum", "const", "pattern"]
            .iter()
            .all(|keyword| schema.get(*keyword).is_none())
    {
        schema.remove("type");
        schema.insert("$ref".to_owned(), "#/$defs/wording".into());
    }
}

fn optional(schema: &mut Schema) {
    let required = schema.get("required").cloned().unwrap_or_default();
    let required: Vec<&str> = required
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    let Some(Value::Object(properties)) = schema.get_mut("properties") else {
        return;
    };
    for (_, property) in properties
        .iter_mut()
        .filter(|(name, _)| !required.contains(&name.as_str()))
    {
        if let Value::Object(keywords) = property {
            without_null(keywords);
        }
    }
}

fn without_null(keywords: &mut Map<String, Value>) {
    if let Some(Value::Array(types)) = keywords.get_mut("type") {
        types.retain(|one| one != "null");
        if let [only] = types.as_slice() {
            let only = only.clone();
            keywords.insert("type".to_owned(), only);
        }
    }
    let null = json!({ "type": "null" });
    let Some(Value::Array(ways)) = keywords.get_mut("anyOf") else {
        return;
    };
    ways.retain(|way| *way != null);
    if let [Value::Object(only)] = ways.as_slice() {
        let only = only.clone();
        keywords.remove("anyOf");
        keywords.extend(only);
    }
}

/// `WrittenAdjustLimit` becomes `adjust-limit`.
fn name_parts(schema: &mut Schema) {
    if let Some(Value::Object(parts)) = schema.get_mut("$defs") {
        *parts = std::mem::take(parts)
            .into_iter()
            .map(|(name, part)| (part_name(&name), part))
            .collect();
    }
    let follow = |schema: &mut Schema| {
        let name = schema
            .get("$ref")
            .and_then(Value::as_str)
            .and_then(|at| at.strip_prefix("#/$defs/"))
            .map(part_name);
        if let Some(name) = name {
            schema.insert("$ref".to_owned(), format!("#/$defs/{name}").into());
        }
    };
    RecursiveTransform(follow).transform(schema);
}

fn part_name(name: &str) -> String {
    let mut words = String::new();
    for letter in name.strip_prefix("Written").unwrap_or(name).chars() {
        if letter.is_ascii_uppercase() && !words.is_empty() {
            words.push('-');
        }
        words.push(letter.to_ascii_lowercase());
    }
    words
}
