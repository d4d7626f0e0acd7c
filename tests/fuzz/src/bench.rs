//! Any bench with its tables, and a proposal that takes from it: the bytes up to a line `---cells---`
//! are the bench, up to `---readings---` its table of cells, up to `---proposal---` that of readings,
//! and the rest is the proposal.

use std::sync::LazyLock;

use rules_core::check::Report;
use rules_core::document::Syntax;
use rules_core::ruleset::{NoOthers, Rules, Texts};
use rulesets::bench::{Benches, Plan};
use serde_json::Value;

use super::loaded::{checked, is_small, rules, say_why};

/// What begins each part after the first.
const MARKERS: [&[u8]; 3] = [
    b"\n---cells---\n",
    b"\n---readings---\n",
    b"\n---proposal---\n",
];

/// Rules that look at every subject and fold over cells.
static RULES: LazyLock<Rules> = LazyLock::new(|| {
    rules("rules.yaml", include_bytes!("rules.yaml")).unwrap_or_else(|| panic!("they load"))
});

/// A bench is refused with its reasons, or what takes from it comes to what it comes to written out.
pub fn any(bytes: &[u8]) {
    reports(bytes);
}

/// The same; returns whether the bytes gave a report.
pub fn reports(bytes: &[u8]) -> bool {
    let Some([bench, cells, readings, proposal]) = parts(bytes) else {
        return false;
    };
    let files = Texts::of([
        ("bench.yaml", bench),
        ("cells.csv", cells),
        ("readings.csv", readings),
    ]);
    let Some(taken) = read(proposal, &files) else {
        return false;
    };
    let Some(report) = report(&taken) else {
        return false;
    };
    for (form, text) in written(&taken) {
        let plain = read(text.as_bytes(), &Texts::<NoOthers>::default());
        let plain =
            plain.unwrap_or_else(|| panic!("what is written out is read, as {form}: {text}"));
        let again = self::report(&plain).unwrap_or_else(|| panic!("it is checked: {text}"));
        assert_eq!(
            without_places(&again),
            without_places(&report),
            "written out as {form} it comes to the same: {text}"
        );
    }
    true
}

fn parts(bytes: &[u8]) -> Option<[&[u8]; 4]> {
    let mut parts = [bytes; 4];
    for (at, marker) in MARKERS.iter().enumerate() {
        let rest = parts[at];
        let found = rest
            .windows(marker.len())
            .position(|part| part == *marker)?;
        parts[at] = &rest[..found];
        parts[at + 1] = &rest[found + marker.len()..];
    }
    Some(parts)
}

fn read(proposal: &[u8], files: &Texts) -> Option<Plan> {
    let benches = &mut Benches::of(files);
    Plan::read("plan.yaml", proposal.to_vec(), Syntax::Yaml, benches)
        .map_err(|problems| say_why(&problems))
        .ok()
}

fn report(plan: &Plan) -> Option<Report> {
    match plan.proposal(Some(&RULES)) {
        Ok(proposal) if is_small(&proposal) => checked(&RULES, &proposal),
        Ok(_) => None,
        Err(problems) => {
            say_why(&problems);
            None
        }
    }
}

/// The plain proposal, in both forms. JSON is YAML too.
fn written(plan: &Plan) -> [(&'static str, String); 2] {
    let yaml = plan.plain_yaml(&RULES);
    let json = plan.plain_value(&RULES).map(|value| value.to_string());
    [("YAML", yaml), ("JSON", json)].map(|(form, text)| {
        let text = text.unwrap_or_else(|problems| panic!("it is written as {form}: {problems:?}"));
        (form, text)
    })
}

/// A report without the places in it.
fn without_places(report: &Report) -> Value {
    let mut value = serde_json::to_value(report).unwrap_or_default();
    let facts = value["facts"].as_array_mut().into_iter().flatten();
    for fact in facts.filter_map(Value::as_object_mut) {
        for key in ["file", "line", "column"] {
            fact.remove(key);
        }
    }
    value
}
