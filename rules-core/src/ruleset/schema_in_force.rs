//! The schema of a ruleset that rests on others, with the names that these define.
//!
//! Names inside a formula or a placeholder cannot be listed by a schema: an editor sees one text. They
//! are offered as the beginning of a formula.

use serde_json::{Map, Value, json};

use super::model::Stricter;
use super::rules::Rules;
use crate::quantity::Kind;
use crate::schema::values::part_name;

/// Puts the names that rulesets define where a ruleset that rests on them can write them.
pub(super) fn offer(schema: &mut Value, rules: &Rules) {
    put(schema, "/$defs/adjust/properties/limits", limits(rules));
    put(schema, "/$defs/adjust/properties/cautions", cautions(rules));
    for holder in ["caution", "adjust-caution"] {
        let at = format!("/$defs/{holder}/properties/stage");
        let stages = rules.stages().iter();
        let stages = stages.map(|stage| (stage.id.to_string(), stage.title.to_string()));
        offer_words(schema, &at, stages.collect());
    }
    let sources = rules.sources().iter();
    let sources = sources.map(|(name, source)| (name.to_string(), source.title.to_string()));
    offer_words(
        schema,
        "/$defs/basis/anyOf/0/properties/source",
        sources.collect(),
    );
    let begin = begin(rules);
    for (holder, key) in FORMULAS {
        let at = format!("/$defs/{holder}/properties/{key}");
        put(schema, &at, json!({ "defaultSnippets": begin }));
    }
}

const FORMULAS: [(&str, &str); 4] = [
    ("caution", "applies_when"),
    ("caution", "refuse_unless"),
    ("caution", "warn_unless"),
    ("figure", "is"),
];

/// Adds keywords to what is at a place.
fn put(schema: &mut Value, at: &str, more: Value) {
    let keywords = schema.pointer_mut(at).and_then(Value::as_object_mut);
    if let (Some(keywords), Value::Object(more)) = (keywords, more) {
        keywords.extend(more);
    }
}

/// Offers words at a place where others may stand as well.
fn offer_words(schema: &mut Value, at: &str, words: Vec<(String, String)>) {
    let Some(any) = schema.pointer_mut(at).and_then(Value::as_object_mut) else {
        return;
    };
    let (words, meanings): (Vec<String>, Vec<String>) = words.into_iter().unzip();
    let description = any.remove("description");
    let others = Value::Object(std::mem::take(any));
    let listed = json!({ "enum": words, "markdownEnumDescriptions": meanings });
    any.insert("anyOf".to_owned(), json!([listed, others]));
    any.extend(description.map(|description| ("description".to_owned(), description)));
}

/// The limits that can be adjusted, and no others.
fn limits(rules: &Rules) -> Value {
    let limits = rules.limits().iter().enumerate();
    let limits = limits.map(|(at, limit)| {
        let written = &limit.written;
        let stricter = match written.stricter {
            Stricter::Higher => "higher",
            Stricter::Lower => "lower",
        };
        let fixed = if written.fixed {
            " No ruleset may loosen it."
        } else {
            ""
        };
        let says = format!(
            "{}: {}; stricter is {stricter}.{fixed}",
            written.meaning, written.value
        );
        let kind = rules.program().limits.get(at).map(|code| code.kind);
        (limit.name.to_string(), adjusted(&says, kind))
    });
    only(limits.collect())
}

/// An adjusted limit, to a value of its kind.
fn adjusted(says: &str, kind: Option<Kind>) -> Value {
    let part = kind.map_or_else(|| "quantity".to_owned(), part_name);
    json!({
        "description": says,
        "type": "object",
        "properties": {
            "to": { "description": "The new value.", "$ref": format!("#/$defs/{part}") },
            "because": { "description": "The reason; needed for a loosening.", "$ref": "#/$defs/wording" },
        },
        "required": ["to"],
        "additionalProperties": false,
    })
}

/// The cautions that can be adjusted, and no others.
fn cautions(rules: &Rules) -> Value {
    let cautions = rules.cautions().iter().map(|caution| {
        let fixed = if caution.fixed {
            " No ruleset may drop it."
        } else {
            ""
        };
        let says = format!("{}.{fixed}", *caution.title);
        let one = json!({ "description": says, "$ref": "#/$defs/adjust-caution" });
        (caution.id.to_string(), one)
    });
    only(cautions.collect())
}

fn only(properties: Map<String, Value>) -> Value {
    json!({ "properties": properties, "additionalProperties": false })
}

/// The names that a formula can begin with.
fn begin(rules: &Rules) -> Vec<Value> {
    let catalogue = rules.catalogue();
    let facts = catalogue.facts();
    let facts =
        facts.map(|(id, fact)| (catalogue.fact_name(id).to_owned(), fact.meaning.to_string()));
    let worked = catalogue.worked().iter();
    let worked = worked.map(|one| {
        (
            catalogue.full_name(one.subject, one.name),
            one.meaning.to_owned(),
        )
    });
    let figures = rules.figures().iter();
    let figures = figures.map(|one| (one.name.to_string(), one.meaning.to_string()));
    let limits = rules.limits().iter();
    let limits = limits.map(|one| {
        (
            format!("limit.{}", one.name),
            one.written.meaning.to_string(),
        )
    });
    let all = facts.chain(worked).chain(figures).chain(limits);
    all.map(|(name, meaning)| json!({ "label": name, "description": meaning, "body": name }))
        .collect()
}
