//! The values of facts, for schemas of rulesets and of plans.

use serde_json::{Map, Value, json};

use super::patterns;
pub use super::patterns::spaced;
use crate::bounds::{MOST_TEXT, MOST_WORDING};
use crate::facts::{FactDef, FactKind};
use crate::quantity::{Kind, Nature};

/// Parts that schemas refer to by name.
pub type Parts = Map<String, Value>;

/// A text of a proposal: characters that can be seen, and spaces between them.
const TEXT: &str = r"^ *[^\p{Cc}\p{Z}\p{Default_Ignorable_Code_Point}](([^\p{Cc}\p{Z}\p{Default_Ignorable_Code_Point}]| )*[^\p{Cc}\p{Z}\p{Default_Ignorable_Code_Point}])? *$";

/// An id: letters, marks after the first, digits, a few signs, and spaces between them. A pattern
/// that every engine knows cannot say that a mark stands on a letter, that none of them shows
/// nothing, and that they are of one script and in form NFC.
const ID: &str = r"^ *[0-9_./#+\p{L}-]([ 0-9_./#+\p{L}\p{M}-]*[0-9_./#+\p{L}\p{M}-])? *$";

/// Text of a ruleset: not blank, without control characters other than tabs and line ends, and
/// without those that turn its direction.
const PRINTING: &str = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*[^\s\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff][^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*$";

/// The same on one line, with space around it.
const LINE: &str = r"^[ \t\r\n]*[^\t\r\n\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*[^\s\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff][^\t\r\n\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ufeff]*[ \t\r\n]*$";
/// Text of which something shows (`characters::shows_nothing`). Characters past U+FFFF all count as
/// seen: engines that go by UTF-16 have no ranges of them.
pub const NOT_BLANK: &str = r"[^\x00-\x20\x7f-\xa0\xad\u034f\u061c\u115f\u1160\u1680\u17b4\u17b5\u180b-\u180f\u2000-\u200f\u2028-\u202f\u205f-\u206f\u2800\u3000\u3164\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufff8]";

/// A word of formulas.
pub const WORD: &str = "[A-Za-z][A-Za-z0-9_]{0,63}";

/// A part by name, made once.
pub fn part(parts: &mut Parts, name: &str, make: impl FnOnce() -> Value) -> Value {
    if !parts.contains_key(name) {
        parts.insert(name.to_owned(), make());
    }
    json!({ "$ref": format!("#/$defs/{name}") })
}

/// The value of a fact, with what it means.
pub fn fact(fact: &FactDef, parts: &mut Parts) -> Value {
    let mut schema = described(value(&fact.kind, parts), meaning(fact));
    if let (FactKind::Number(Kind::Count), Some(keywords)) = (&fact.kind, schema.as_object_mut()) {
        keywords.insert("minimum".to_owned(), whole(fact.domain.lo()));
        keywords.insert("maximum".to_owned(), whole(fact.domain.hi()));
    }
    schema
}

/// A bound of a count as JSON writes whole numbers.
fn whole(bound: f64) -> Value {
    format!("{bound:.0}")
        .parse::<i64>()
        .map_or(Value::Null, Value::from)
}

/// A schema with a description.
pub fn described(mut schema: Value, description: impl Into<String>) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert("description".to_owned(), description.into().into());
    }
    schema
}

/// What a fact means, and for a number how it is taken and where it lies.
pub fn meaning(fact: &FactDef) -> String {
    let FactKind::Number(kind) = fact.kind else {
        return format!("{}.", fact.meaning);
    };
    let nature = match fact.nature {
        Nature::Measured => "Measured",
        Nature::Printed => "Printed on a label",
        Nature::Stated => "Stated",
    };
    let unit = if kind == Kind::Count {
        String::new()
    } else {
        format!(" {}", kind.base_unit())
    };
    format!(
        "{}. {nature}, within {}..{}{unit}.",
        fact.meaning,
        fact.domain.lo(),
        fact.domain.hi()
    )
}

fn value(kind: &FactKind, parts: &mut Parts) -> Value {
    match kind {
        FactKind::Number(kind) => quantity(*kind, parts),
        FactKind::Choice(options) => json!({ "enum": options }),
        FactKind::YesNo => yes_no(parts),
        FactKind::Id => id(parts),
        FactKind::Text => text(parts),
    }
}

/// Yes or no.
pub fn yes_no(parts: &mut Parts) -> Value {
    part(
        parts,
        "yes-no",
        || json!({ "description": "Yes or no.", "enum": ["yes", "no", true, false, "true", "false"] }),
    )
}

/// A text by which things are told apart.
fn id(parts: &mut Parts) -> Value {
    let description = "A name of 1 to 200 characters: letters of one script in form NFC, digits, spaces and `- _ . / # +`. Spaces around it are left out, and several count as one. A number that is not quoted is kept as it is written.";
    part(
        parts,
        "id",
        || json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": ID, "maxLength": MOST_TEXT, "examples": ["K4", "P-drill-3"] }),
    )
}

/// The text of a fact.
pub fn text(parts: &mut Parts) -> Value {
    let description = "A text of 1 to 200 characters on one line. A number or a word that is not quoted is kept as it is written.";
    part(
        parts,
        "text",
        || json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": TEXT, "maxLength": MOST_TEXT }),
    )
}

/// Any text of a ruleset.
pub(super) fn wording(parts: &mut Parts) -> Value {
    let description = "A text without characters that act on what stands around them. A number or a word that is not quoted is kept as it is written.";
    part(
        parts,
        "wording",
        || json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": PRINTING, "allOf": [{ "pattern": NOT_BLANK }], "maxLength": MOST_WORDING }),
    )
}

/// A text of a ruleset that is one line.
pub(super) fn line(parts: &mut Parts) -> Value {
    let description = "A text on one line; the space around it is left out.";
    part(
        parts,
        "line",
        || json!({ "description": description, "type": ["string", "number", "boolean"], "pattern": LINE, "allOf": [{ "pattern": NOT_BLANK }], "maxLength": MOST_WORDING }),
    )
}

/// A quantity of a kind.
pub fn quantity(kind: Kind, parts: &mut Parts) -> Value {
    part(parts, &part_name(kind), || {
        let types = match kind {
            Kind::Count => json!(["integer", "string"]),
            Kind::Ratio => json!(["number", "string"]),
            _ => json!("string"),
        };
        json!({ "description": how(kind), "type": types, "pattern": patterns::quantity(kind), "examples": examples(kind) })
    })
}

/// What a meter is said to be good for, by kind.
pub fn meter(kind: Kind) -> Value {
    let examples = match kind {
        Kind::Temperature => json!([format!("± {}", width(kind))]),
        _ => json!([
            "± 1 %",
            format!("± (0.5 % + {})", width(kind)),
            "± (0.5 % + 2 digits)"
        ]),
    };
    let description = format!("How well the meter reads {}.", kind.with_article());
    json!({ "description": description, "type": "string", "pattern": patterns::meter(kind), "examples": examples })
}

/// The name of a kind's part.
pub fn part_name(kind: Kind) -> String {
    kind.name().replace(' ', "-")
}

fn how(kind: Kind) -> String {
    let (article, way) = (kind.with_article(), kind.how_to_write());
    let article = article.strip_prefix('a').unwrap_or(&article);
    match kind {
        Kind::Count => format!("A{article}; {way}."),
        _ => format!("A{article}; {way}. A tolerance may follow, or it may be a range."),
    }
}

fn examples(kind: Kind) -> Value {
    let example = kind.example();
    match kind {
        Kind::Count => json!([2]),
        _ => json!([
            example,
            format!("{example} ± {}", width(kind)),
            format!("0..{example}")
        ]),
    }
}

/// A width for examples.
const fn width(kind: Kind) -> &'static str {
    match kind {
        Kind::Voltage => "10 mV",
        Kind::Current => "0.1 A",
        Kind::Charge => "50 mAh",
        Kind::Resistance => "2 mohm",
        Kind::Power => "0.1 W",
        Kind::Energy => "0.5 Wh",
        Kind::Temperature | Kind::TemperatureDifference => "1 K",
        Kind::Time => "5 min",
        Kind::Length => "0.2 mm",
        Kind::Ratio => "1 %",
        Kind::Rate => "0.1 C",
        Kind::Drift => "0.1 mV/d",
        Kind::Count => "0",
    }
}
