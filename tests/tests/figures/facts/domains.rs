//! What a missing fact counts as is never narrower than what may be written for it: the figures of
//! a proposal without it enclose those with any value of its domain.

use std::collections::BTreeMap;

use rules_core::check::{FigureReport, Options, figures};
use rules_core::document::Syntax;
use rules_core::facts::{FactDef, FactKind};
use rules_core::quantity::Nature;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use serde_json::Value;

use super::setting::{encloses, rules, whole};

type Figures = BTreeMap<(String, String), FigureReport>;

/// All library figures; none of a proposal that is an error.
fn figures_of(rules: &Rules, proposal: &Value) -> Option<Figures> {
    let text = proposal.to_string();
    let proposal = Proposal::read("p.json", text.into(), Syntax::Json).ok()?;
    let sheet = figures(rules, &proposal, Options::default()).ok()?;
    let own = sheet.figures.into_iter().filter(|one| one.is.is_none());
    Some(
        own.map(|one| ((one.subject.to_string(), one.name.clone()), one))
            .collect(),
    )
}

/// The place of a fact (of a subject with many, in the first entry): its map and its key there.
fn pointer(rules: &Rules, def: &FactDef) -> Option<(String, String)> {
    let subject = rules.catalogue().subject(def.subject)?;
    let section = match &subject.plural {
        Some(many) => format!("/{many}/0"),
        None => format!("/{}", subject.name),
    };
    let place = def.key.as_ref()?;
    Some(match place.split_once('.') {
        Some((map, key)) => (format!("{section}/{map}"), key.to_owned()),
        None => (section, place.to_string()),
    })
}

/// Values all over the domain of a fact, as written.
fn values(def: &FactDef) -> Vec<String> {
    let FactKind::Number(kind) = &def.kind else {
        return match &def.kind {
            FactKind::Choice(options) => options.clone(),
            _ => Vec::new(),
        };
    };
    let (unit, (low, high)) = ((*kind).base_unit(), (def.domain.lo(), def.domain.hi()));
    let even = [0.0, 0.03, 0.3, 1.0].map(|part| low + part * (high - low));
    let usual = [1e-3, 0.02, 2.5, 3.7, 25.0, 200.0];
    let exact = |value: f64| {
        let tolerance = match def.nature {
            Nature::Stated => String::new(),
            _ => format!(" ± 0 {unit}"),
        };
        format!("{value} {unit}{tolerance}").trim().to_owned()
    };
    let inside = |value: &f64| (low..=high).contains(value);
    let mut values: Vec<f64> = even.into_iter().chain(usual).filter(inside).collect();
    if kind.name() == "count" {
        values.retain(|value| value.fract() == 0.0);
    }
    values.into_iter().map(exact).collect()
}

fn without(proposal: &Value, (map, key): &(String, String)) -> Value {
    let mut less = proposal.clone();
    if let Some(Value::Object(found)) = less.pointer_mut(map) {
        found.remove(key);
    }
    less
}

/// Compares a proposal without a key with those that have a value there; how many there were, and
/// in how many something was narrower for it.
fn compare(
    rules: &Rules,
    base: &Value,
    place: &(String, String),
    values: &[String],
) -> (usize, usize) {
    let missing = without(base, place);
    let Some(wide) = figures_of(rules, &missing) else {
        return (0, 0);
    };
    let (mut compared, mut narrowed) = (0, 0);
    for value in values {
        let mut written = missing.clone();
        let Some(Value::Object(map)) = written.pointer_mut(&place.0) else {
            continue;
        };
        map.insert(place.1.clone(), Value::from(value.as_str()));
        let Some(narrow) = figures_of(rules, &written) else {
            continue;
        };
        compared += 1;
        for (name, narrow) in &narrow {
            let wide = &wide[name];
            assert!(
                encloses(wide, narrow),
                "{place:?} missing: {name:?} is {:?}, and {value} gives {:?}\n{missing}",
                wide.value,
                narrow.value
            );
        }
        narrowed += usize::from(narrow.iter().any(|(name, one)| !encloses(one, &wide[name])));
    }
    (compared, narrowed)
}

/// A whole proposal, and such as lack a reading already.
fn bases() -> Vec<Value> {
    let one = whole("1S1P", "1 A");
    let lacking = ["loaded", "resistance", "capacity_2", "designation"]
        .map(|key| without(&one, &("/cells/0".to_owned(), key.to_owned())));
    let power = [whole("1S1P", "3 W"), whole("2S2P", "7.5 W")];
    [vec![one], lacking.to_vec(), power.to_vec()].concat()
}

#[test]
fn a_missing_fact_is_all_that_may_be_written_for_it() {
    let rules = rules();
    let catalogue = rules.catalogue();
    let (mut compared, mut narrowed) = (0, 0);
    for base in bases() {
        for (_, def) in catalogue.facts() {
            let Some(place) = pointer(&rules, def) else {
                continue;
            };
            // A reading that tells no temperature says that it was taken in a room.
            if place.1 == "temperature" {
                continue;
            }
            // A label that contradicts itself is no error, and its figures are open: it is printed so.
            let is_label = place.0.starts_with("/packs");
            if !is_label && base.pointer(&place.0).is_some() {
                let (some, less) = compare(&rules, &base, &place, &values(def));
                compared += some;
                narrowed += less;
            }
        }
        let draws = ["1 mA", "0.3 A", "1000 A", "1 mW", "5 W", "10 kW"].map(str::to_owned);
        let classes =
            ["ICR", "INR", "IMR", "IFR", "IVR", "ITR"].map(|class| format!("{class}18650"));
        for (map, key, values) in [
            ("/light", "draw", draws.as_slice()),
            ("/cells/0", "designation", &classes),
        ] {
            let place = (map.to_owned(), key.to_owned());
            let (some, less) = compare(&rules, &base, &place, values);
            compared += some;
            narrowed += less;
        }
    }
    println!("{compared} proposals with a value were compared; {narrowed} knew more for it");
    assert!(compared > 1000 && narrowed > 200);
}
