//! Numbers outside of what can be, as regular expressions.
//!
//! They see plain numbers: without an exponent and a tolerance. Whatever they match is wrong; what they
//! do not match is for the reader to say.

use serde_json::{Value, json};

use super::digits::{above, below};
use super::keywords::{Parts, described, part, told};
use super::patterns::{self, unit_spelling};
use super::quantities::{part_name, quantity, quantity_under};
use super::range::forward;
use crate::facts::FactDef;
use crate::quantity::{Interval, Kind, Measure, Nature, Unit};

/// A quantity of a fact: for one that is stated, and so exact, within what can be at all. A reading
/// is as wide as its meter, which stands elsewhere.
pub fn within(fact: &FactDef, kind: Kind, parts: &mut Parts) -> Value {
    let Some(bounds) = bounds(fact, kind) else {
        return quantity(kind, parts);
    };
    let (lo, hi) = (fact.domain.lo(), fact.domain.hi());
    let conditions = json!([forward(parts), bounds]);
    part(
        parts,
        &format!("{}-from-{lo}-to-{hi}", part_name(kind)),
        || {
            let range = possible(fact, kind);
            let description = format!("{} within {range}.", capital(&kind.with_article()));
            // Without a reference: an editor would show what is said of the kind.
            described(quantity_under(conditions, kind), description)
        },
    )
}

/// What refuses numbers of a stated fact outside of what can be; nothing for others.
fn bounds(fact: &FactDef, kind: Kind) -> Option<Value> {
    let outside = outside(fact.domain, kind);
    if fact.nature != Nature::Stated || outside.is_empty() {
        return None;
    }
    let range = possible(fact, kind);
    let message = format!("the possible values are {range}: check the unit and the decimal point");
    let then = json!({ "pattern": "^$", "patternErrorMessage": message });
    Some(json!({ "if": { "pattern": outside }, "then": then }))
}

fn possible(fact: &FactDef, kind: Kind) -> String {
    Measure::of(fact.domain).shown(kind).as_range().to_string()
}

/// A quantity of one of several facts, or one of a few words: as one schema, so that an editor has one
/// thing to show.
pub fn one_of(facts: &[(&FactDef, Kind)], words: &[&str], parts: &mut Parts) -> Value {
    let patterns = facts.iter().map(|(_, kind)| patterns::quantity(*kind));
    let patterns = words.iter().map(|word| format!("^{word}$")).chain(patterns);
    let patterns: Vec<String> = patterns.collect();
    let bounds = facts.iter().filter_map(|(fact, kind)| bounds(fact, *kind));
    let all: Vec<Value> = std::iter::once(forward(parts)).chain(bounds).collect();
    let examples = facts.iter().map(|(_, kind)| kind.example());
    let examples: Vec<&str> = examples.chain(words.iter().copied()).collect();
    let wanted: Vec<String> = examples.iter().map(|one| format!("`{one}`")).collect();
    let schema = json!({ "type": "string", "pattern": patterns.join("|"), "allOf": all, "examples": examples });
    told(schema, &format!("write it as {}", wanted.join(" or ")))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    first.into_iter().chain(letters).collect()
}

/// Numbers outside of a domain, in each unit of a kind whose zero is that of the base unit; empty if
/// there are none.
fn outside(domain: Interval, kind: Kind) -> String {
    let units = kind.unit_names().iter().filter(|name| match kind {
        Kind::Temperature => **name != "K",
        Kind::Drift | Kind::Rate => false,
        _ => true,
    });
    let mut ways: Vec<String> = Vec::new();
    for name in units {
        let Some(unit) = Unit::parse(name) else {
            continue;
        };
        let ends = (unit.from_base(domain.lo()), unit.from_base(domain.hi()));
        let numbers = beyond(ends);
        if !numbers.is_empty() {
            ways.push(format!(
                "({}) *({})",
                numbers.join("|"),
                unit_spelling(name)
            ));
        }
    }
    if ways.is_empty() {
        return String::new();
    }
    format!("^ *({}) *$", ways.join("|"))
}

/// Numbers below the one end or above the other.
fn beyond((lo, hi): (f64, f64)) -> Vec<String> {
    let mut numbers = Vec::new();
    if hi.is_finite() && hi >= 0.0 {
        numbers.push(format!(r"\+?({})", above(&outward(hi))));
    }
    if lo.is_finite() && lo <= 0.0 {
        numbers.push(format!("[-−]({})", above(&outward(-lo))));
    } else if lo.is_finite() {
        numbers.push(format!("[-−]({})", above("0")));
        numbers.push(format!(r"\+?({})", below(&inward(lo))));
    }
    numbers
}

/// Digits that tell an end: more are rounded, so that no number inside counts as outside.
const DIGITS: i32 = 6;

fn outward(end: f64) -> String {
    rounded(end, f64::ceil)
}

fn inward(end: f64) -> String {
    rounded(end, f64::floor)
}

fn rounded(end: f64, way: fn(f64) -> f64) -> String {
    if end == 0.0 {
        return "0".to_owned();
    }
    #[allow(
        clippy::cast_possible_truncation,
        reason = "a logarithm of a double is small"
    )]
    let decimals = (DIGITS - 1 - end.abs().log10().floor() as i32).max(0);
    let scale = 10_f64.powi(decimals);
    let (near, scaled) = ((end * scale).round(), end * scale);
    let kept = if (near - scaled).abs() <= near.abs() * 1e-9 {
        near
    } else {
        way(scaled)
    };
    let text = format!(
        "{:.*}",
        usize::try_from(decimals).unwrap_or(0),
        kept / scale
    );
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}
