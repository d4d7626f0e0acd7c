//! Gaps that the derives leave in the schema of a ruleset, to be filled by what a catalogue holds.
//!
//! A derive sees only types. A gap is an object whose `$comment` says what belongs there; filling it
//! puts the keywords of that in its place and keeps what else the derive said.

use schemars::{Schema, SchemaGenerator, json_schema};
use serde_json::{Map, Value, json};

use super::cases;
use super::values::{self, Parts};
use crate::facts::{Catalogue, SubjectDef};

/// What belongs in a gap.
#[derive(Clone, Copy)]
enum Gap {
    About,
    DottedWords,
    FactNames,
    Given,
    Rulesets,
}

impl Gap {
    const ALL: [Self; 5] = [
        Self::About,
        Self::DottedWords,
        Self::FactNames,
        Self::Given,
        Self::Rulesets,
    ];

    const fn name(self) -> &'static str {
        match self {
            Self::About => "gap: about",
            Self::DottedWords => "gap: dotted words",
            Self::FactNames => "gap: names of facts",
            Self::Given => "gap: given",
            Self::Rulesets => "gap: rulesets",
        }
    }

    fn schema(self) -> Schema {
        json_schema!({ "$comment": self.name() })
    }

    fn of(keywords: &Map<String, Value>) -> Option<Self> {
        let comment = keywords.get("$comment")?.as_str()?;
        Self::ALL.into_iter().find(|gap| gap.name() == comment)
    }
}

/// The subject of a caution or figure.
pub(crate) fn about(_: &mut SchemaGenerator) -> Schema {
    Gap::About.schema()
}

/// A list of dotted names of facts.
pub(crate) fn fact_names(_: &mut SchemaGenerator) -> Schema {
    Gap::FactNames.schema()
}

/// The facts of a case.
pub(crate) fn given(_: &mut SchemaGenerator) -> Schema {
    Gap::Given.schema()
}

/// Rulesets by name or path.
pub(crate) fn rulesets(_: &mut SchemaGenerator) -> Schema {
    Gap::Rulesets.schema()
}

/// Keys `subject.name`.
pub(crate) fn named_by_dotted_words(schema: &mut Schema) {
    schema.insert("propertyNames".to_owned(), Gap::DottedWords.schema().into());
}

/// Fills every gap of a schema. `named` are the rulesets that can be extended by name.
pub(crate) fn fill(schema: &mut Value, catalogue: &Catalogue, named: &[&str]) {
    let parts = schema.as_object_mut().and_then(|root| root.remove("$defs"));
    let Some(Value::Object(mut made)) = parts else {
        return;
    };
    let mut parts = Parts::new();
    for (name, mut part) in std::mem::take(&mut made) {
        fill_in(&mut part, catalogue, named, &mut parts);
        parts.insert(name, part);
    }
    fill_in(schema, catalogue, named, &mut parts);
    if let Some(root) = schema.as_object_mut() {
        root.insert("$defs".to_owned(), parts.into());
    }
}

fn fill_in(schema: &mut Value, catalogue: &Catalogue, named: &[&str], parts: &mut Parts) {
    match schema {
        Value::Object(keywords) => {
            if let Some(gap) = Gap::of(keywords) {
                keywords.remove("$comment");
                if let Value::Object(filling) = filling(gap, catalogue, named, parts) {
                    keywords.extend(filling);
                }
            }
            for (_, inner) in keywords.iter_mut() {
                fill_in(inner, catalogue, named, parts);
            }
        }
        Value::Array(items) => items
            .iter_mut()
            .for_each(|item| fill_in(item, catalogue, named, parts)),
        _ => {}
    }
}

fn filling(gap: Gap, catalogue: &Catalogue, named: &[&str], parts: &mut Parts) -> Value {
    match gap {
        Gap::About => {
            let subjects = catalogue.subjects();
            let words: Vec<String> = subjects.iter().map(subject).collect();
            let meanings: Vec<&str> = subjects.iter().map(|subject| &*subject.meaning).collect();
            json!({ "enum": words, "markdownEnumDescriptions": meanings })
        }
        Gap::DottedWords => cases::named_by_dots(catalogue, json!({})),
        Gap::FactNames => cases::fact_names(catalogue),
        Gap::Given => cases::given(catalogue, parts),
        Gap::Rulesets => {
            let path = values::wording(parts);
            json!({ "type": "array", "items": { "anyOf": [{ "enum": named }, path] } })
        }
    }
}

fn subject(subject: &SubjectDef) -> String {
    match subject.plural {
        Some(_) => format!("each {}", subject.name),
        None => subject.name.to_string(),
    }
}
