//! Quantities and meters by kind.

use serde_json::{Value, json};

use super::keywords::{Parts, part, titled, told};
use super::patterns;
use super::range::forward;
use crate::quantity::Kind;

/// A quantity of a kind.
pub fn quantity(kind: Kind, parts: &mut Parts) -> Value {
    let conditions = json!([forward(parts)]);
    part(parts, &part_name(kind), || {
        titled(quantity_under(conditions, kind), kind.name())
    })
}

/// A quantity of a kind that meets conditions.
pub(super) fn quantity_under(conditions: Value, kind: Kind) -> Value {
    let types = match kind {
        Kind::Count => json!(["integer", "string"]),
        Kind::Ratio => json!(["number", "string"]),
        _ => json!("string"),
    };
    let quantity = json!({ "description": how(kind), "type": types, "pattern": patterns::quantity(kind), "allOf": conditions, "examples": examples(kind) });
    told(quantity, &how(kind))
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
    let wanted = format!(
        "write how far a reading may be off, as `{}`",
        examples.get(0).and_then(Value::as_str).unwrap_or_default()
    );
    let meter = json!({ "description": description, "type": "string", "pattern": patterns::meter(kind), "examples": examples });
    told(meter, &wanted)
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
