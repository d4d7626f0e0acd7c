//! What is worth a second look in a ruleset and may be right all the same: it is told apart, and no
//! ruleset fails by it.

use std::collections::{BTreeMap, BTreeSet};

use super::adjusted::lax_by_adjusting;
use super::unused::used;
use crate::document::{Fault, Problems, SetAside, quoted};
use crate::facts::{SubjectId, metered};
use crate::formula::{Condition, LimitId, Number, Operand, Test, Uses};
use crate::quantity::Kind;
use crate::ruleset::{Basis, Caution, CautionCondition, HowRead, Layer, Rules};

/// All that is worth a look in one file.
pub(super) fn worth_a_look(layer: &Layer, rules: &Rules) -> SetAside {
    let mut found = Problems::new(&layer.source);
    let first_to_ask = first_to_ask(rules);
    for named in &layer.cautions {
        let mut all = rules.cautions().iter();
        let Some(caution) = all.find(|caution| *caution.id == *named.name) else {
            continue;
        };
        let mut advise =
            |fault, message: String, help: &str| found.advise(fault, named.span, message, help);
        let literals = literals(caution);
        if !literals.is_empty() {
            let all: Vec<&str> = literals.into_iter().collect();
            let message = format!("{} in the caution `{}`: no name", quoted(&all), caution.id);
            let help = "make it a limit, which has a basis and can be adjusted";
            advise(Fault::LiteralQuantity, message, help);
        }
        if let Some(other) = alike_before(caution, &first_to_ask) {
            let message = format!("the cautions `{other}` and `{}` ask the same", caution.id);
            advise(Fault::SameCondition, message, "make one of the two");
        }
        if lacks_stage(caution, rules) {
            let message = format!("the caution `{}` refuses and names no stage", caution.id);
            advise(Fault::NoStage, message, &stages_to_name(rules));
        }
    }
    remembered_alone(layer, rules, &mut found);
    lax_by_adjusting(layer, rules, &mut found);
    unused_facts(layer, rules, &mut found);
    without_meter(layer, rules, &mut found);
    without_shipped(layer, rules, &mut found);
    found.set_aside()
}

/// Whether a caution refuses one of many, and says neither in which stage nor what becomes of it,
/// though the rules have stages.
fn lacks_stage(caution: &Caution, rules: &Rules) -> bool {
    let says_nothing = caution.stage.is_none() && caution.refused.is_none();
    let refuses_one = caution.refuse_unless.is_some() && rules.catalogue().is_many(caution.about);
    says_nothing && refuses_one && !rules.stages().is_empty()
}

fn stages_to_name(rules: &Rules) -> String {
    let stages: Vec<&str> = rules.stages().iter().map(|stage| &*stage.id).collect();
    format!(
        "add `stage`, in which a person can still act on it: {}",
        quoted(&stages)
    )
}

fn conditions(caution: &Caution) -> impl Iterator<Item = &CautionCondition> {
    let rungs = caution.refuse_unless.iter().chain(&caution.warn_unless);
    caution.applies_when.iter().chain(rungs)
}

/// The quantities that the conditions of a caution compare with and that are no limits, as written.
fn literals(caution: &Caution) -> BTreeSet<&str> {
    let mut found = BTreeSet::new();
    for one in conditions(caution) {
        let mut operands = Vec::new();
        compared(&one.condition, &mut operands);
        let texts = operands
            .into_iter()
            .filter_map(|operand| one.text.get(operand.span.clone()));
        found.extend(texts);
    }
    found
}

/// The sides of comparisons in which a quantity stands for itself.
fn compared<'c>(condition: &'c Condition, found: &mut Vec<&'c Operand>) {
    match &condition.form {
        Test::And(parts) | Test::Or(parts) => parts.iter().for_each(|part| compared(part, found)),
        Test::Not(inner) | Test::Every(_, inner) | Test::Any(_, inner) => compared(inner, found),
        Test::Compare {
            left, right, sort, ..
        } if sort.kind != Some(Kind::Count) => {
            let sides = [left, right].into_iter();
            found.extend(sides.filter(|side| is_literal(&side.number)));
        }
        _ => {}
    }
}

/// Whether a number is a quantity as written, or has one as a term. Nothing and the whole are no
/// thresholds that somebody chose, and a factor is none.
fn is_literal(number: &Number) -> bool {
    match number {
        Number::Constant(value) => {
            let range = value.range();
            !range.is_point() || ![0.0, 1.0].contains(&range.lo())
        }
        Number::Sum(terms) => terms.iter().any(|(_, term)| is_literal(term)),
        Number::Least(list) | Number::Greatest(list) => list.iter().any(is_literal),
        Number::Negative(inner) | Number::Abs(inner) => is_literal(inner),
        _ => false,
    }
}

/// What a rung of a caution asks: of what, in which case and what, in words with one space between
/// them. A refusal and a warning may ask the same.
type Asked = (SubjectId, Option<String>, Rung, String);

/// Which rung it is.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Rung {
    Refuse,
    Warn,
}

/// What each rung of a caution asks.
fn asked(caution: &Caution) -> impl Iterator<Item = Asked> {
    let words = |of: &CautionCondition| {
        let words = of.text.split_whitespace();
        words.collect::<Vec<_>>().join(" ")
    };
    let case = caution.applies_when.as_ref().map(words);
    let refuse = caution
        .refuse_unless
        .as_ref()
        .map(|rung| (Rung::Refuse, words(rung)));
    let warn = caution
        .warn_unless
        .as_ref()
        .map(|rung| (Rung::Warn, words(rung)));
    let rungs = refuse.into_iter().chain(warn);
    let about = caution.about;
    rungs.map(move |(rung, what)| (about, case.clone(), rung, what))
}

/// The first caution by name to ask each thing.
fn first_to_ask(rules: &Rules) -> BTreeMap<Asked, &str> {
    let mut first = BTreeMap::new();
    for caution in rules.cautions() {
        for what in asked(caution) {
            first.entry(what).or_insert(&*caution.id);
        }
    }
    first
}

/// The first caution before this one, by name, that asks the same of the same in the same case.
fn alike_before<'r>(caution: &Caution, first: &BTreeMap<Asked, &'r str>) -> Option<&'r str> {
    let others = asked(caution).filter_map(|what| first.get(&what).copied());
    others.min().filter(|other| *other < &*caution.id)
}

/// Limits that decide a refusal and rest on one thing that somebody remembers.
fn remembered_alone(layer: &Layer, rules: &Rules, found: &mut Problems<'_>) {
    let mut refusing = Uses::default();
    for rung in rules.cautions().iter().flat_map(|one| &one.refuse_unless) {
        refusing.add_condition(&rung.condition, rules.program(), rules.catalogue());
    }
    let is_remembered = |basis: &Basis| match basis {
        Basis::FromMemory { .. } => true,
        Basis::Source { source, .. } => {
            let source = rules.sources().get(&**source);
            source.is_some_and(|source| source.read == HowRead::FromMemory)
        }
        Basis::CommonPractice { .. } | Basis::WorkedOut { .. } => false,
    };
    for limit in &layer.limits {
        let position = rules.limits().iter().position(|one| one.name == limit.name);
        let decides = position.is_some_and(|at| refusing.limits.contains(&LimitId(at)));
        let [only] = limit.body.written.basis.as_slice() else {
            continue;
        };
        if decides && is_remembered(only) {
            let message = format!(
                "the limit `{}` decides a refusal and rests on one thing from memory",
                limit.name
            );
            let help = "look it up, or add what else it rests on";
            found.advise(Fault::RememberedAlone, limit.span, message, help);
        }
    }
}

/// Facts that the ruleset declares and no caution uses.
fn unused_facts(layer: &Layer, rules: &Rules, found: &mut Problems<'_>) {
    let used = used(rules);
    for fact in &layer.facts {
        let id = rules.catalogue().fact_named(&fact.name).map(|(id, _)| id);
        if id.is_some_and(|id| !used.facts.contains(&id) && !used.asked.contains(&id)) {
            let message = format!("no caution uses the fact `{}`", fact.name);
            let help = "use it, or take it out: everybody who reads it looks for it";
            found.advise(Fault::Unused, fact.span, message, help);
        }
    }
}

/// Kinds of readings on which cautions rest, and for which no meter is assumed: who states a coarse
/// one is then worse off than who states none.
fn without_meter(layer: &Layer, rules: &Rules, found: &mut Problems<'_>) {
    let assumed = |kind: Kind| rules.meters().iter().any(|meter| meter.kind == kind);
    let catalogue = rules.catalogue();
    let mut first: BTreeMap<&str, &str> = BTreeMap::new();
    for id in used(rules).facts {
        let kind = catalogue.fact(id).and_then(metered);
        if let Some(kind) = kind.filter(|kind| !assumed(*kind)) {
            first.entry(kind.name()).or_insert(catalogue.fact_name(id));
        }
    }
    let Some(span) = layer.name_span.filter(|_| !layer.cautions.is_empty()) else {
        return;
    };
    for (kind, fact) in first {
        let message = format!("no meter is assumed for `{kind}`, of which `{fact}` is a reading");
        let help =
            format!("add `meters: {{ {kind}: {{ is: ... }} }}`, the worst that is good enough");
        found.advise(Fault::NoMeter, span, message, help);
    }
}

/// Rules in which nothing takes part that is shipped.
fn without_shipped(layer: &Layer, rules: &Rules, found: &mut Problems<'_>) {
    if let (Some(span), [usual, ..]) = (layer.name_span, rules.shipped_left_out().as_slice()) {
        let message = format!("`{}` extends none of the shipped rulesets", layer.name);
        let help = format!("write `extends: [{usual}]`, or nothing that it asks for is checked");
        found.advise(Fault::WithoutShipped, span, message, help);
    }
}
