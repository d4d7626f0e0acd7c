//! The schema of a proposal, made from the table of facts.

use rules_core::bounds::MOST_WORDING;
use rules_core::schema::address;
use rules_core::schema::values::{
    NOT_BLANK, Parts, SAYS_NOTHING, WORD, described, fact, meaning, meter, one_of, part, spaced,
    titled, told,
};
use serde_json::{Map, Value, json};

use super::file::file;
use super::words::words;
use crate::bounds::MOST_CELLS;
use crate::facts::{CELL, LIGHT, PACK, catalogue};
use rules_core::facts::{Catalogue, FactDef, FactKind, SubjectId, SummaryDef, SummaryWord};
use rules_core::quantity::Kind;
use rules_core::ruleset::Rules;

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
    proposal_of(&SectionSchemas {
        catalogue: catalogue(),
        knows_declared: false,
    })
}

/// The schema of a proposal file that is checked by rules: it knows the facts that these declare.
pub(super) fn proposal_for(rules: &Rules) -> Value {
    proposal_of(&SectionSchemas {
        catalogue: rules.catalogue(),
        knows_declared: true,
    })
}

fn proposal_of(facts: &SectionSchemas<'_>) -> Value {
    let mut parts = Parts::new();
    let mut properties = top();
    for (subject, name, meaning) in facts.single() {
        properties.insert(
            name.to_owned(),
            described(facts.section(subject, &mut parts), format!("{meaning}.")),
        );
    }
    properties.insert("cells".to_owned(), cells(facts, &mut parts));
    properties.insert("packs".to_owned(), packs(facts, &mut parts));
    file(
        "proposal",
        "A proposal",
        "One proposed use of rescued cells in a light, to be checked against rulesets of trade cautions.",
        &properties.into(),
        &["format", "arrangement"],
        &parts.into(),
    )
}

/// The keys at the top that are no sections.
fn top() -> Map<String, Value> {
    let mut keys = Map::new();
    let mut add = |key: &str, schema: Value| keys.insert(key.to_owned(), schema);
    add("$schema", address());
    add(
        "format",
        json!({ "description": "The version of the format: 1.", "enum": [1, "1"] }),
    );
    let title = "What the use is, in one line; the file's name if left out.";
    add(
        "title",
        with_examples(says(title), &["Helmet lamp, two rescued cells in series"]),
    );
    let arrangement = format!(
        "Groups in series and cells in parallel in each, at most {MOST_CELLS} cells: `2S1P`, or short `2S` or `3P`."
    );
    add(
        "arrangement",
        code(&arrangement, ARRANGEMENT, &["1S1P", "2S1P", "1S2P", "2S2P"]),
    );
    let mut note = says("One of them.");
    if let Some(keywords) = note.as_object_mut() {
        keywords.insert("maxLength".to_owned(), MOST_WORDING.into());
    }
    let notes = "What is to be told with a report. It decides nothing.";
    add(
        "notes",
        json!({ "description": notes, "type": "array", "items": note }),
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

fn cells(facts: &SectionSchemas<'_>, parts: &mut Parts) -> Value {
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

fn packs(facts: &SectionSchemas<'_>, parts: &mut Parts) -> Value {
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
    facts: &SectionSchemas<'_>,
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
    list_of(&json!({ "$ref": format!("#/$defs/{name}") }), all)
}

/// A list of cells or packs.
pub(super) fn list_of(one: &Value, all: &str) -> Value {
    // JSON Schema takes 1 and 1.0 as the same, which ids are not.
    let texts = json!({ "items": { "type": ["string", "object"], "properties": { "id": { "type": "string" }, "of": { "type": "string" } } } });
    json!({ "description": all, "type": "array", "items": one, "maxItems": MOST_CELLS, "if": texts, "then": { "uniqueItems": true } })
}

/// The sections, by the table of facts.
struct SectionSchemas<'c> {
    catalogue: &'c Catalogue,
    /// Whether the catalogue has the facts that the rulesets in force declare.
    knows_declared: bool,
}

impl<'c> SectionSchemas<'c> {
    /// The subjects that have a section of their own.
    fn single(&self) -> Vec<(SubjectId, &'c str, &'c str)> {
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
            let name = self.catalogue.full_name(subject, &fact.name);
            let mut value = titled(self.value(key, fact, parts), &name);
            words().add_to_options(&name, &mut value);
            match key.split_once('.') {
                None => drop(properties.insert(key.to_owned(), value)),
                Some((outer, inner)) => {
                    let map = properties.entry(outer.to_owned());
                    nest(
                        map.or_insert_with(|| self.map(subject, outer)),
                        inner,
                        value,
                    );
                }
            }
        }
        repeated(&mut properties);
        let summaries = self.catalogue.summaries().iter();
        for summary in summaries.filter(|one| one.subject == subject) {
            properties.insert(summary.key.clone(), self.summary(summary));
        }
        if subject == LIGHT {
            properties.insert("draw".to_owned(), self.draw(parts));
        }
        properties.insert("extra".to_owned(), self.extra(subject, parts));
        json!({ "type": "object", "properties": properties, "additionalProperties": false })
    }

    fn value(&self, key: &str, def: &FactDef, parts: &mut Parts) -> Value {
        if def.subject == CELL && key == "designation" {
            let examples = ["ICR18650", "INR18650", "INR21700", "INR19/66"];
            return code(&format!("{}.", def.meaning), DESIGNATION, &examples);
        }
        if def.subject == CELL && key == "size.code" {
            return size_code(&format!("{}.", def.meaning));
        }
        if def.subject == PACK && key == "designation" {
            let examples = ["3INR19/66-2", "4ICR19/66"];
            return code(&format!("{}.", def.meaning), PACK_DESIGNATION, &examples);
        }
        match def.kind {
            FactKind::Number(kind) if def.none_is_zero => {
                described(one_of(&[(def, kind)], &["none"], parts), meaning(def))
            }
            _ => fact(def, parts),
        }
    }

    /// Facts that rulesets declare.
    fn extra(&self, subject: SubjectId, parts: &mut Parts) -> Value {
        if !self.knows_declared {
            let any = part(parts, "extra", extra);
            return described(any, "Facts that a ruleset declares.");
        }
        let facts = self.catalogue.facts().map(|(_, fact)| fact);
        let declared =
            facts.filter(|one| one.subject == subject && one.key.is_none() && one.from.is_none());
        let declared: Map<String, Value> = declared
            .map(|one| (one.name.to_string(), fact(one, parts)))
            .collect();
        json!({ "description": "Facts that the rulesets in force declare.", "type": "object", "properties": declared, "additionalProperties": false })
    }

    /// A map of a section, without keys.
    fn map(&self, subject: SubjectId, key: &str) -> Value {
        let subject = self.catalogue.subject_name(subject);
        let is = words().map(subject, key).unwrap_or(key);
        json!({ "title": format!("{subject}.{key}"), "description": format!("{is}."), "type": "object", "properties": {}, "additionalProperties": false })
    }

    /// `draw` fills the fact of its kind.
    fn draw(&self, parts: &mut Parts) -> Value {
        let facts = [
            ("light.draw_current", Kind::Current),
            ("light.draw_power", Kind::Power),
        ];
        let facts = facts
            .iter()
            .filter_map(|(name, kind)| Some((self.catalogue.fact_named(name)?.1, *kind)));
        let facts: Vec<(&FactDef, Kind)> = facts.collect();
        let description = "Highest current or power the light takes from the battery. Stated.";
        titled(
            described(one_of(&facts, &[], parts), description),
            "light.draw",
        )
    }

    /// A key whose words say several facts.
    fn summary(&self, summary: &SummaryDef) -> Value {
        let words: Vec<&str> = summary.words.iter().map(|one| one.word.as_str()).collect();
        let said: Vec<String> = summary.words.iter().map(|one| self.says(one)).collect();
        let description = format!("{}, in one word for several keys.", summary.meaning);
        json!({ "description": description, "enum": words, "markdownEnumDescriptions": said })
    }

    /// What a word of a summary says.
    fn says(&self, word: &SummaryWord) -> String {
        let key = |fact| self.catalogue.fact(fact).and_then(|def| def.key.as_deref());
        let said = word.says.iter();
        let said = said.map(|(fact, given)| {
            format!("`{}: {}`", key(*fact).unwrap_or_default(), given.written)
        });
        said.collect::<Vec<_>>().join(", ")
    }
}

/// A code with a pattern of its own.
fn code(description: &str, pattern: &str, examples: &[&str]) -> Value {
    let code = json!({ "description": description, "type": "string", "pattern": spaced(pattern) });
    with_examples(told(code, &wanted(examples)), examples)
}

/// The code of a size; YAML reads `18650` without quotes as a number.
fn size_code(description: &str) -> Value {
    let examples = ["18650", "21700", "19/66"];
    let text = told(
        json!({ "type": "string", "pattern": spaced(SIZE_CODE) }),
        &wanted(&examples),
    );
    let of_four = json!({ "type": "integer", "minimum": 1001, "maximum": 9999, "not": { "multipleOf": 100 } });
    let of_five = json!({ "type": "integer", "minimum": 10_001, "maximum": 99_999, "not": { "multipleOf": 1000 } });
    let either = json!({ "description": description, "anyOf": [text, of_four, of_five] });
    with_examples(either, &examples)
}

fn wanted(examples: &[&str]) -> String {
    let examples: Vec<String> = examples.iter().map(|one| format!("`{one}`")).collect();
    format!("write it as {}", examples.join(", "))
}

fn with_examples(mut schema: Value, examples: &[&str]) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert("examples".to_owned(), json!(examples));
    }
    schema
}

/// A text that says something; YAML reads some without quotes as numbers.
pub(super) fn says(description: &str) -> Value {
    let text = json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": NOT_BLANK });
    told(text, SAYS_NOTHING)
}

/// Puts a value under a key of a map.
fn nest(map: &mut Value, key: &str, value: Value) {
    if let Some(inside) = map.get_mut("properties").and_then(Value::as_object_mut) {
        inside.insert(key.to_owned(), value);
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
            let all = "A discharge test from full, what it gave and how it was made, or a list of them; the first is the one that rules go by.";
            let title = one.get("title").cloned();
            properties.insert(
                key,
                json!({ "title": title, "description": all, "anyOf": [one, several] }),
            );
        }
    }
}
