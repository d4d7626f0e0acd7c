//! The facts of a ruleset's cases.

use schemars::{Schema, SchemaGenerator};
use serde_json::{Map, Value, json};

use super::parts::{schema, subjects};
use super::values::{Parts, WORD, fact};
use crate::facts::{Catalogue, SubjectDef};
use crate::proposal::catalogue;

/// Facts by dotted name, and lists of facts of the many. Names that the table does not hold may be
/// declared by a ruleset.
pub(crate) fn given(generator: &mut SchemaGenerator) -> Schema {
    let catalogue = catalogue();
    let parts = generator.definitions_mut();
    let mut properties: Map<String, Value> = catalogue
        .facts()
        .map(|(id, def)| (catalogue.fact_name(id).to_owned(), fact(def, parts)))
        .collect();
    for subject in catalogue.subjects() {
        if let Some(plural) = subject.plural {
            properties.insert(plural.to_owned(), many(subject, catalogue, parts));
        }
    }
    let examples = json!([{ "cell.rest_voltage": "2.31 V" }, { "cells": [{ "rest_voltage": "3.90 V" }, { "rest_voltage": "3.80 V" }] }]);
    schema(json!({
        "type": "object",
        "properties": properties,
        "patternProperties": { format!(r"^({})\.{WORD}$", subjects()): scalar() },
        "additionalProperties": false,
        "examples": examples,
    }))
}

/// A list of facts without the prefix.
fn many(subject: &SubjectDef, catalogue: &Catalogue, parts: &mut Parts) -> Value {
    let id = catalogue.subject_named(subject.name);
    let facts = catalogue.facts().filter(|(_, def)| Some(def.subject) == id);
    let properties: Map<String, Value> = facts
        .map(|(_, def)| (def.name.clone(), fact(def, parts)))
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
pub(crate) fn fact_names(_: &mut SchemaGenerator) -> Schema {
    let catalogue = catalogue();
    let known: Vec<&str> = catalogue
        .facts()
        .map(|(id, _)| catalogue.fact_name(id))
        .collect();
    let declared = json!({ "type": "string", "pattern": format!(r"^({})\.{WORD}$", subjects()) });
    schema(json!({ "type": "array", "items": { "anyOf": [{ "enum": known }, declared] } }))
}

/// A case is in doubt or unmeasured, not both.
pub(crate) fn in_doubt_or_unmeasured(schema: &mut Schema) {
    let doubt = json!({ "enum": ["yes", true, "true"] });
    let both = json!({ "properties": { "doubt": doubt, "unmeasured": { "minItems": 1 } }, "required": ["doubt", "unmeasured"] });
    schema.insert("not".to_owned(), both);
}
