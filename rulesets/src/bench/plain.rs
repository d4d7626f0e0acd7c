//! Writing the tree of a proposal.

use rules_core::document::{Content, Node, Quotes, Scalar};
use serde_json::Value;

/// As YAML: a line for each key of a section and of a cell.
pub(super) fn yaml(tree: &Node<'_>) -> String {
    let mut text = String::new();
    for entry in tree.entries() {
        text += &key(&entry.key);
        match &entry.node.content {
            Content::Map(entries) if !entries.is_empty() => {
                text += ":\n";
                for inner in entries {
                    text += &format!("  {}: {}\n", key(&inner.key), flow(&inner.node));
                }
            }
            Content::List(items) if !items.is_empty() => {
                text += ":\n";
                items.iter().for_each(|item| text += &list_item(item));
            }
            _ => text += &format!(": {}\n", flow(&entry.node)),
        }
    }
    text
}

fn list_item(item: &Node<'_>) -> String {
    let entries = item.entries();
    if entries.is_empty() {
        return format!("  - {}\n", flow(item));
    }
    let mut text = String::new();
    for (at, entry) in entries.iter().enumerate() {
        let before = if at == 0 { "  - " } else { "    " };
        text += &format!("{before}{}: {}\n", key(&entry.key), flow(&entry.node));
    }
    text
}

/// A value on one line.
fn flow(node: &Node<'_>) -> String {
    match &node.content {
        Content::Nothing => "null".to_owned(),
        Content::Scalar(scalar) => word(&scalar.text),
        Content::List(items) => {
            let items: Vec<String> = items.iter().map(flow).collect();
            format!("[{}]", items.join(", "))
        }
        Content::Map(entries) if entries.is_empty() => "{}".to_owned(),
        Content::Map(entries) => {
            let entry = |entry: &rules_core::document::Entry<'_>| {
                format!("{}: {}", key(&entry.key), flow(&entry.node))
            };
            let entries: Vec<String> = entries.iter().map(entry).collect();
            format!("{{ {} }}", entries.join(", "))
        }
    }
}

/// A value of JSON on one line of YAML, which reads as the same value.
#[must_use]
pub fn on_one_line(value: &Value) -> String {
    match value {
        // Without quotes it would be a number.
        Value::String(text) if text.parse::<u32>().is_ok() => value.to_string(),
        Value::String(text) => word(text),
        Value::Array(items) => {
            let items: Vec<String> = items.iter().map(on_one_line).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Object(entries) if entries.is_empty() => "{}".to_owned(),
        Value::Object(entries) => {
            let entry =
                |(name, value): (&String, &Value)| format!("{}: {}", key(name), on_one_line(value));
            let entries: Vec<String> = entries.iter().map(entry).collect();
            format!("{{ {} }}", entries.join(", "))
        }
        other => other.to_string(),
    }
}

fn key(text: &str) -> String {
    word(text)
}

/// A text, in quotes unless it is surely the same without.
fn word(text: &str) -> String {
    let plain = |letter: char| letter.is_alphanumeric() || " ._/+-±%°()µΩ".contains(letter);
    let begins = |letter: char| letter.is_alphanumeric() || letter == '±' || letter == '.';
    let is_plain = text.starts_with(begins)
        && text.chars().all(plain)
        && !text.ends_with(' ')
        && !text.starts_with("...")
        && !matches!(text, "null" | "Null" | "NULL");
    if is_plain {
        text.to_owned()
    } else {
        Value::from(text).to_string()
    }
}

/// As a value of JSON. Only whole numbers are numbers: the digits of others say how well they are
/// known.
#[must_use]
pub fn value(node: &Node<'_>) -> Value {
    match &node.content {
        Content::Nothing => Value::Null,
        Content::Scalar(scalar) => of_scalar(scalar),
        Content::List(items) => items.iter().map(value).collect(),
        Content::Map(entries) => entries
            .iter()
            .map(|entry| (entry.key.to_string(), value(&entry.node)))
            .collect(),
    }
}

fn of_scalar(scalar: &Scalar<'_>) -> Value {
    let text = &*scalar.text;
    let number = text
        .parse::<u32>()
        .ok()
        .filter(|number| number.to_string() == text);
    match number {
        Some(number) if scalar.quotes == Quotes::None => number.into(),
        _ => text.into(),
    }
}
