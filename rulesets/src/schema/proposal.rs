//! The schema of a proposal, made from the table of facts.

use rules_core::bounds::MOST_WORDING;
use rules_core::schema::values::{
    NOT_BLANK, Parts, WORD, described, fact, meaning, meter, part, quantity, spaced,
};
use serde_json::{Map, Value, json};

use crate::bounds::MOST_CELLS;
use crate::facts::{CELL, LIGHT, PACK, catalogue};
use rules_core::facts::{Catalogue, FactDef, FactKind, SubjectId, SummaryDef};
use rules_core::quantity::Kind;

/// Series up to the most cells, parallel up to the most cells; their product is for the loader to
/// look at.
const ARRANGEMENT: &str = r"^\s*(0*([1-9][0-9]{0,3}|10000)[sS](0*([1-9][0-9]{0,3}|10000)[pP])?|0*([1-9][0-9]{0,3}|10000)[pP])\s*$";

/// One or several cells by the code of IEC 61960, or one by the trade's code.
const PACK_DESIGNATION: &str = r"^\s*([1-9][0-9]{0,2}|1000)?I([CNMVT]|Fp?)R([1-9][0-9](0[1-9]|[1-9][0-9]|00[1-9]|0[1-9][0-9]|[1-9][0-9][0-9])|([5-9]|[1-9][0-9])/([5-9]|[1-9][0-9]|1[0-9][0-9]|2[0-4][0-9]|250)(-([2-9]|[1-9][0-9]{1,2}|1000))?)\s*$";

/// One cell by the trade's code, or by that of IEC 61960 with its height of 5 to 250 mm.
const DESIGNATION: &str = r"^\s*1?I([CNMVT]|Fp?)R([1-9][0-9](0[1-9]|[1-9][0-9]|00[1-9]|0[1-9][0-9]|[1-9][0-9][0-9])|([5-9]|[1-9][0-9])/([5-9]|[1-9][0-9]|1[0-9][0-9]|2[0-4][0-9]|250))\s*$";

/// The size of a cell by the trade's code, or by that of IEC 61960.
const SIZE_CODE: &str = r"^\s*([1-9][0-9](0[1-9]|[1-9][0-9]|00[1-9]|0[1-9][0-9]|[1-9][0-9][0-9])|([5-9]|[1-9][0-9])/([5-9]|[1-9][0-9]|1[0-9][0-9]|2[0-4][0-9]|250))\s*$";

/// The schema of a proposal file.
#[must_use]
pub fn proposal() -> Value {
    let facts = SectionSchemas {
        catalogue: catalogue(),
    };
    let mut parts = Parts::new();
    let mut properties = top();
    for (subject, name, meaning) in facts.single() {
        properties.insert(
            name.to_owned(),
            described(facts.section(subject, &mut parts), format!("{meaning}.")),
        );
    }
    properties.insert("cells".to_owned(), cells(&facts, &mut parts));
    properties.insert("packs".to_owned(), packs(&facts, &mut parts));
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "proposal.schema.json",
        "title": "A proposal",
        "description": "One proposed use of rescued cells in a light, to be checked against rulesets of trade cautions.",
        "type": "object",
        "properties": properties,
        "required": ["format", "arrangement"],
        "additionalProperties": false,
        "$defs": parts,
    })
}

/// The keys at the top that are no sections.
fn top() -> Map<String, Value> {
    let mut keys = Map::new();
    let mut add = |key: &str, schema: Value| keys.insert(key.to_owned(), schema);
    add(
        "format",
        json!({ "description": "The version of the format: 1.", "enum": [1, "1"] }),
    );
    let title = "What the use is, in one line; the file's name if left out.";
    add(
        "title",
        json!({ "description": title, "type": ["string", "number", "boolean"], "pattern": NOT_BLANK, "examples": ["Helmet lamp, two rescued cells in series"] }),
    );
    let arrangement = format!(
        "Groups in series and cells in parallel in each, at most {MOST_CELLS} cells: `2S1P`, or short `2S` or `3P`."
    );
    add(
        "arrangement",
        json!({ "description": arrangement, "type": "string", "pattern": spaced(ARRANGEMENT), "examples": ["1S1P", "2S1P", "1S2P", "2S2P"] }),
    );
    let notes = "What is to be told with a report. It decides nothing.";
    add(
        "notes",
        json!({ "description": notes, "type": "array", "items": { "type": ["string", "number", "boolean"], "pattern": NOT_BLANK, "maxLength": MOST_WORDING } }),
    );
    add("meters", meters());
    keys
}

fn meters() -> Value {
    let kinds = Kind::ALL.iter().filter(|kind| **kind != Kind::Count);
    let meters: Map<String, Value> = kinds
        .map(|kind| (kind.name().to_owned(), meter(*kind)))
        .collect();
    let description = "The meters the readings were taken with, by kind. A reading without a tolerance is as good as its meter or its digits, whichever is wider.";
    json!({ "description": description, "type": "object", "properties": meters, "additionalProperties": false })
}

fn cells(facts: &SectionSchemas, parts: &mut Parts) -> Value {
    let description = "The cells. One that the arrangement calls for and that is not listed counts as a cell of which nothing is known.";
    listed(
        facts,
        CELL,
        "cell",
        "One cell. What is not known of it is left out.",
        description,
        parts,
    )
}

fn packs(facts: &SectionSchemas, parts: &mut Parts) -> Value {
    let description = "The packs that cells were taken out of, as far as their labels can be read. `pack` of a cell names one.";
    listed(
        facts,
        PACK,
        "pack",
        "One pack, as its label reads. What cannot be read is left out.",
        description,
        parts,
    )
}

/// A list of what there are many of; each has a name.
fn listed(
    facts: &SectionSchemas,
    subject: SubjectId,
    name: &str,
    one: &str,
    all: &str,
    parts: &mut Parts,
) -> Value {
    let mut section = described(facts.section(subject, parts), one);
    if let Some(keywords) = section.as_object_mut() {
        keywords.insert("required".to_owned(), json!(["id"]));
    }
    parts.insert(name.to_owned(), section);
    json!({ "description": all, "type": "array", "items": { "$ref": format!("#/$defs/{name}") }, "maxItems": MOST_CELLS })
}

/// The sections, by the table of facts.
struct SectionSchemas {
    catalogue: &'static Catalogue,
}

impl SectionSchemas {
    /// The subjects that have a section of their own.
    fn single(&self) -> Vec<(SubjectId, &'static str, &'static str)> {
        let subjects = self
            .catalogue
            .subjects()
            .iter()
            .filter(|subject| subject.plural.is_none());
        let known = subjects.filter_map(|subject| {
            Some((
                self.catalogue.subject_named(&subject.name)?,
                &*subject.name,
                &*subject.meaning,
            ))
        });
        known
            .filter(|(subject, ..)| self.keyed(*subject).next().is_some())
            .collect()
    }

    /// The facts of a subject with their places in its section.
    fn keyed(&self, subject: SubjectId) -> impl Iterator<Item = (&str, &FactDef)> {
        let facts = self
            .catalogue
            .facts()
            .map(|(_, fact)| fact)
            .filter(move |fact| fact.subject == subject);
        facts.filter_map(|fact| Some((fact.key.as_deref()?, fact)))
    }

    fn section(&self, subject: SubjectId, parts: &mut Parts) -> Value {
        let mut properties = Map::new();
        for (key, fact) in self.keyed(subject) {
            let value = self.value(key, fact, parts);
            match key.split_once('.') {
                None => drop(properties.insert(key.to_owned(), value)),
                Some((outer, inner)) => nest(&mut properties, outer, inner, value),
            }
        }
        repeated(&mut properties);
        let summaries = self.catalogue.summaries().iter();
        for summary in summaries.filter(|one| one.subject == subject) {
            properties.insert(summary.key.clone(), words(summary));
        }
        if subject == LIGHT {
            properties.insert("draw".to_owned(), self.draw(parts));
        }
        properties.insert(
            "extra".to_owned(),
            described(
                part(parts, "extra", extra),
                "Facts that a ruleset declares.",
            ),
        );
        json!({ "type": "object", "properties": properties, "additionalProperties": false })
    }

    fn value(&self, key: &str, def: &FactDef, parts: &mut Parts) -> Value {
        if def.subject == CELL && key == "designation" {
            let examples = json!(["ICR18650", "INR18650", "INR21700", "INR19/66"]);
            return json!({ "description": format!("{}.", def.meaning), "type": "string", "pattern": spaced(DESIGNATION), "examples": examples });
        }
        if def.subject == CELL && key == "size.code" {
            let examples = json!(["18650", "21700", "19/66"]);
            // A number is a code as well: YAML reads `18650` without quotes as one.
            return json!({ "description": format!("{}.", def.meaning), "anyOf": [{ "type": "string", "pattern": spaced(SIZE_CODE) }, { "type": "integer", "minimum": 1001, "maximum": 9999, "not": { "multipleOf": 100 } }, { "type": "integer", "minimum": 10_001, "maximum": 99_999, "not": { "multipleOf": 1000 } }], "examples": examples });
        }
        if def.subject == PACK && key == "designation" {
            let examples = json!(["3INR19/66-2", "4ICR19/66"]);
            return json!({ "description": format!("{}.", def.meaning), "type": "string", "pattern": spaced(PACK_DESIGNATION), "examples": examples });
        }
        match def.kind {
            FactKind::Number(kind) if def.none_is_zero => {
                json!({ "description": meaning(def), "anyOf": [{ "const": "none" }, quantity(kind, parts)] })
            }
            _ => fact(def, parts),
        }
    }

    /// `draw` fills the fact of its kind.
    fn draw(&self, parts: &mut Parts) -> Value {
        let either = json!([quantity(Kind::Current, parts), quantity(Kind::Power, parts)]);
        let description = "Highest current or power the light takes from the battery. Stated.";
        json!({ "description": description, "anyOf": either })
    }
}

/// The words of a summary.
fn words(summary: &SummaryDef) -> Value {
    let words: Vec<&str> = summary.words.iter().map(|one| one.word.as_str()).collect();
    let description = format!("{}, in one word for several keys.", summary.meaning);
    json!({ "description": description, "enum": words })
}

/// Puts a value under a key of a map under a key.
fn nest(properties: &mut Map<String, Value>, outer: &str, inner: &str, value: Value) {
    let empty = || json!({ "type": "object", "properties": {}, "additionalProperties": false });
    let map = properties.entry(outer.to_owned()).or_insert_with(empty);
    if let Some(inside) = map.get_mut("properties").and_then(Value::as_object_mut) {
        inside.insert(inner.to_owned(), value);
        let names = inside
            .keys()
            .map(|key| format!("`{key}`"))
            .collect::<Vec<_>>()
            .join(", ");
        *map = described(map.take(), format!("A map of {names}."));
    }
}

/// Facts that a ruleset declares.
fn extra() -> Value {
    let description =
        "Facts that a ruleset in use declares under `facts`, by the second part of their name.";
    json!({
        "description": description,
        "type": "object",
        "patternProperties": { format!("^{WORD}$"): { "type": ["string", "number", "boolean"] } },
        "additionalProperties": false,
    })
}

/// What may be given several times, at numbered places, is a map or a list of maps: capacity tests.
fn repeated(properties: &mut Map<String, Value>) {
    let keys: Vec<String> = properties
        .keys()
        .filter(|key| properties.contains_key(&format!("{key}_2")))
        .cloned()
        .collect();
    for key in keys {
        if let Some(one) = properties.remove(&key) {
            let description = "Several: those that are not set aside have a place each, in order.";
            let several =
                json!({ "description": description, "type": "array", "items": one, "minItems": 1 });
            let all = "A discharge test from full, or a list of them; the first is the one that rules go by.";
            properties.insert(key, json!({ "description": all, "anyOf": [one, several] }));
        }
    }
}
