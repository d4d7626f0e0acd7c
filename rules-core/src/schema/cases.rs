//! The facts of a ruleset's cases.

use schemars::Schema;
use serde_json::{Map, Value, json};

use super::values::{Parts, WORD, fact, told};
use crate::facts::{Catalogue, SubjectDef};

/// Facts by dotted name, and lists of facts of the many. Names that the table does not hold may be
/// declared by a ruleset.
pub(super) fn given(catalogue: &Catalogue, parts: &mut Parts) -> Value {
    let mut properties: Map<String, Value> = catalogue
        .facts()
        .map(|(id, def)| (catalogue.fact_name(id).to_owned(), fact(def, parts)))
        .collect();
    for subject in catalogue.subjects() {
        if let Some(plural) = &subject.plural {
            properties.insert(plural.to_string(), many(subject, catalogue, parts));
        }
    }
    json!({
        "type": "object",
        "properties": properties,
        "patternProperties": { dotted(catalogue): scalar() },
        "additionalProperties": false,
    })
}

/// A list of facts without the prefix.
fn many(subject: &SubjectDef, catalogue: &Catalogue, parts: &mut Parts) -> Value {
    let id = catalogue.subject_named(&subject.name);
    let facts = catalogue.facts().filter(|(_, def)| Some(def.subject) == id);
    let properties: Map<String, Value> = facts
        .map(|(_, def)| (def.name.to_string(), fact(def, parts)))
        .collect();
    let one = json!({
        "type": "object",
        "properties": properties,
        "patternProperties": { format!("^{WORD}$"): scalar() },
        "additionalProperties": false,
    });
    json!({ "description": format!("Each {}, by its facts without the prefix.", subject.name), "type": "array", "items": one })
}

/// The value of a fact that a ruleset declares.
fn scalar() -> Value {
    json!({ "description": "The value of a fact that a ruleset declares.", "type": ["string", "number", "boolean"] })
}

/// A list of dotted names of facts.
pub(super) fn fact_names(catalogue: &Catalogue) -> Value {
    let known: Vec<&str> = catalogue
        .facts()
        .map(|(id, _)| catalogue.fact_name(id))
        .collect();
    let meanings: Vec<&str> = catalogue.facts().map(|(_, fact)| &*fact.meaning).collect();
    let listed = json!({ "enum": known, "markdownEnumDescriptions": meanings });
    let declared = named_by_dots(catalogue, json!({ "type": "string" }));
    json!({ "type": "array", "items": { "anyOf": [listed, declared] } })
}

/// A schema of dotted names.
pub(super) fn named_by_dots(catalogue: &Catalogue, mut schema: Value) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert("pattern".to_owned(), dotted(catalogue).into());
    }
    let subjects = catalogue.subjects().iter().map(|subject| &*subject.name);
    let subjects = subjects.collect::<Vec<_>>().join(", ");
    told(
        schema,
        &format!("write `subject.name`, with one of the subjects {subjects}"),
    )
}

/// Dotted names as a regular expression: a subject and a word.
fn dotted(catalogue: &Catalogue) -> String {
    let subjects: Vec<&str> = catalogue
        .subjects()
        .iter()
        .map(|subject| &*subject.name)
        .collect();
    format!(r"^({})\.{WORD}$", subjects.join("|"))
}

/// A case is in doubt or unmeasured, not both.
pub(crate) fn in_doubt_or_unmeasured(schema: &mut Schema) {
    let doubt = json!({ "enum": ["yes", true, "true"] });
    let both = json!({ "properties": { "doubt": doubt, "unmeasured": { "minItems": 1 } }, "required": ["doubt", "unmeasured"] });
    schema.insert("not".to_owned(), both);
}
