//! What a question could be answered with: each word, and numbers between the limits of the cautions
//! that read it.

use std::collections::BTreeSet;

use rules_core::facts::{FactDef, FactId, FactKind};
use rules_core::quantity::{Kind, Measure, Nature, Quantity};
use rules_core::report::{Answers, Question};
use rules_core::ruleset::Rules;

use crate::jobs::reads::Reads;

/// Of a range that spans more than this as a ratio the middle is taken by ratio.
const WIDE: f64 = 20.0;
/// So many digits has a reading that is tried, and it is known to this part: somebody reads it well.
const DIGITS: i32 = 4;
const KNOWN: f64 = 0.001;
/// So many values of a number are tried.
const MOST_VALUES: usize = 12;

/// What could be written, what is tried first coming first.
pub(super) fn values(
    question: &Question<'_>,
    facts: &BTreeSet<FactId>,
    rules: &Rules,
    reads: &Reads,
) -> Vec<String> {
    match &question.answers {
        Answers::OneOf(words) => words.to_vec(),
        Answers::InOneWord(word) => word.words.clone(),
        Answers::Quantity { .. } => {
            let def = facts.iter().find_map(|fact| rules.catalogue().fact(*fact));
            def.map_or_else(Vec::new, |def| numbers(def, facts, rules, reads))
        }
        Answers::Like(example) => vec![(*example).to_owned()],
        _ => Vec::new(),
    }
}

/// Numbers in the middle between limits of its kind and ends of its range, from the middle outwards;
/// then the limits and the ends themselves.
fn numbers(def: &FactDef, facts: &BTreeSet<FactId>, rules: &Rules, reads: &Reads) -> Vec<String> {
    let FactKind::Number(kind) = def.kind else {
        return Vec::new();
    };
    let (low, high) = (def.domain.lo(), def.domain.hi());
    let limits = reads.limits(&reads.of_any(facts)).into_iter();
    let limits = limits.filter_map(|limit| {
        let text = &rules.limit(limit)?.written.value;
        Some(
            Quantity::read(text, kind, Nature::Stated, None)
                .ok()?
                .nominal(),
        )
    });
    let mut steps: Vec<f64> = limits.filter(|value| def.domain.contains(*value)).collect();
    steps.extend([low, high].into_iter().filter(|end| end.is_finite()));
    steps.sort_by(f64::total_cmp);
    steps.dedup();
    let between = steps.windows(2).filter_map(|pair| match pair {
        [one, other] => Some(middle(*one, *other)),
        _ => None,
    });
    let between = outwards(between.collect());
    let mut texts: Vec<String> = Vec::new();
    for value in between.into_iter().chain(outwards(steps)) {
        let text = written(value, kind, def.nature);
        if !texts.contains(&text) && texts.len() < MOST_VALUES {
            texts.push(text);
        }
    }
    texts
}

fn middle(low: f64, high: f64) -> f64 {
    match low > 0.0 && high / low > WIDE {
        true => (low * high).sqrt(),
        false => low.midpoint(high),
    }
}

/// The one in the middle first, then those beside it.
fn outwards(sorted: Vec<f64>) -> Vec<f64> {
    let middle = sorted.len().saturating_sub(1) / 2;
    let mut order: Vec<(usize, f64)> = sorted.into_iter().enumerate().collect();
    order.sort_by_key(|(at, _)| at.abs_diff(middle));
    order.into_iter().map(|(_, value)| value).collect()
}

/// A value as it is written in a plan. The digits of a reading say how well it is known.
fn written(value: f64, kind: Kind, nature: Nature) -> String {
    if kind == Kind::Count {
        return format!("{}", value.round());
    }
    if nature == Nature::Stated {
        let places = places_of(value, 2);
        let rounded = format!("{value:.places$}").parse().unwrap_or(value);
        return Measure::exact(rounded).shown(kind).to_string();
    }
    let places = places_of(value, DIGITS);
    let (unit, half) = (kind.base_unit(), value.abs() * KNOWN);
    match kind {
        Kind::Voltage | Kind::Current | Kind::Charge | Kind::Resistance | Kind::Length
            if half > 0.0 =>
        {
            format!("{value:.places$} {unit} ± {half:.places$} {unit}")
        }
        _ => format!("{value:.places$} {unit}"),
    }
}

/// How many decimal places make so many digits.
fn places_of(value: f64, digits: i32) -> usize {
    let before = match value == 0.0 {
        true => 1,
        false => value.abs().log10().floor() as i32 + 1,
    };
    usize::try_from(digits - before).unwrap_or(0)
}
