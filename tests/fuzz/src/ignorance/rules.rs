//! The rules that plans are judged by: the shipped ones, and these with local practice on top that
//! asks for every figure of the library and folds over every subject with many.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rules_core::check::{Options, figures};
use rules_core::document::Syntax;
use rules_core::facts::Catalogue;
use rules_core::quantity::Kind;
use rules_core::ruleset::{Rules, Texts};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;
use serde_json::{Value, json};

use super::plans::PLANS;

pub(super) static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(rulesets::catalogue);

/// The shipped rules alone.
pub(super) static SHIPPED: LazyLock<Rules> = LazyLock::new(|| load(&["rescued-cells"], ""));

/// The shipped rules with local practice on top.
pub(super) static LOCAL: LazyLock<Rules> = LazyLock::new(|| {
    let figures = of_figures().to_string();
    load(&["local.yaml", "figures.json"], &figures)
});

/// Loads files of local practice; what they extend is shipped.
fn load(names: &[&str], figures: &str) -> Rules {
    let files = [
        ("local.yaml", include_str!("local.yaml")),
        ("figures.json", figures),
    ];
    Rules::load(names, &Texts::of(files).or(Shipped), &CATALOGUE)
        .unwrap_or_else(|problems| panic!("{names:?}: {problems:?}"))
}

/// A ruleset with cautions about every figure of the library: from both sides, at values that the
/// figure has in some plan.
fn of_figures() -> Value {
    let mut cautions = Vec::new();
    for ((subject, name, kind), values) in in_the_plans() {
        let many = ["cell", "group", "pack"].contains(&subject.as_str());
        let about = if many {
            format!("each {subject}")
        } else {
            subject
        };
        for (at, value) in spread_out(values).into_iter().enumerate() {
            for (side, sign) in [("low", ">="), ("high", "<=")] {
                cautions.push(json!({
                    "id": format!("{}-{side}-{at}", name.replace(['.', '_'], "-")),
                    "title": name, "about": about, "reason": format!("{{{name}}}"),
                    "refuse_unless": format!("{name} {sign} {value} {}", unit(kind)),
                    "if_unmeasured": if at % 2 == 0 { "refuse" } else { "warn" },
                }));
            }
        }
    }
    json!({ "format": 1, "ruleset": "figures", "version": "1.0.0", "title": "Every figure", "cautions": cautions })
}

/// A figure: its subject, its name in formulas and its kind.
type Figure = (String, String, Kind);

/// The ends and middles of every figure in the plans.
fn in_the_plans() -> BTreeMap<Figure, Vec<f64>> {
    let mut values: BTreeMap<Figure, Vec<f64>> = BTreeMap::new();
    for plan in PLANS.iter() {
        let proposal = Proposal::read("plan", plan.written().into(), Syntax::Yaml);
        let sheet = proposal.and_then(|read| figures(&SHIPPED, &read, Options::default()));
        let sheet = sheet.unwrap_or_else(|problems| panic!("{problems:?}"));
        for def in CATALOGUE.worked() {
            let subject = CATALOGUE.subject_name(def.subject).to_owned();
            let name = CATALOGUE.full_name(def.subject, def.name);
            let here = sheet.figures.iter().filter(|figure| figure.name == name);
            let into = values.entry((subject, name.clone(), def.kind)).or_default();
            for value in here.filter_map(|figure| figure.value.as_ref()) {
                let measure = value.number.value;
                into.extend([
                    measure.range().lo(),
                    measure.nominal(),
                    measure.range().hi(),
                ]);
            }
        }
    }
    values
}

/// Six of them at most, from the least to the greatest.
fn spread_out(mut values: Vec<f64>) -> Vec<f64> {
    const MOST: usize = 6;
    values.retain(|value| value.abs() < 1e6);
    values.sort_by(f64::total_cmp);
    values.dedup();
    let last = values.len().saturating_sub(1);
    let mut places: Vec<usize> = (0..MOST).map(|at| at * last / (MOST - 1)).collect();
    places.dedup();
    places
        .iter()
        .filter_map(|at| values.get(*at).copied())
        .collect()
}

/// The unit of a kind in which its values are kept.
const fn unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Voltage => "V",
        Kind::Current => "A",
        Kind::Charge => "Ah",
        Kind::Resistance => "ohm",
        Kind::Power => "W",
        Kind::Energy => "Wh",
        Kind::Time => "h",
        Kind::Rate => "C",
        _ => "",
    }
}
