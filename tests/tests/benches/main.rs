//! A proposal that takes from a bench comes to what it comes to written out: the demos, the plans of
//! experts and the proposals of the conformance suite, each taken apart into a bench, its table of
//! cells and what is left, in several ways.
#![cfg(test)]

mod apart;
mod over_time;

use std::fs;
use std::path::Path;

use rules_core::check::{Options, Report, check};
use rules_core::document::{ProblemList, Syntax};
use rules_core::ruleset::{Library, NoOthers, Rules, Texts};
use rules_tests::conformance::{Expect, cases};
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::Shipped;
use serde_json::Value;

use apart::{Apart, Way};

fn plan(name: &str, text: &str, library: &dyn Library) -> Result<Plan, ProblemList> {
    Plan::read(name, text.into(), Syntax::Yaml, &mut Benches::of(library))
}

fn report(rules: &Rules, plan: &Plan) -> Result<Report, ProblemList> {
    check(rules, &plan.proposal(Some(rules))?, Options::default())
}

/// A report without the places in it and without notes.
fn without_places(report: &Report) -> Value {
    let mut value = serde_json::to_value(report).expect("a report prints");
    let facts = value["facts"].as_array_mut().expect("facts");
    for fact in facts.iter_mut().filter_map(Value::as_object_mut) {
        for key in ["file", "line", "column"] {
            fact.remove(key);
        }
    }
    let remarks = value["remarks"].as_array_mut().expect("remarks");
    remarks.retain(|remark| remark["remark"] != "noted");
    value
}

/// Whether a proposal comes to the same taken apart, in each way, and then written out again.
fn assert_same(name: &str, text: &str, rules: &Rules) {
    let own = plan("plan.yaml", text, &NoOthers).expect(name);
    let wanted = without_places(&report(rules, &own).expect(name));
    let value = own.plain_value(rules).expect(name);
    for way in Way::ALL {
        let Apart {
            bench,
            cells,
            plan: rest,
        } = apart::apart(&value, way);
        let files = Texts::of([("bench.yaml", bench.as_str()), ("cells.csv", &cells)]);
        let shown = || format!("{name}, {way:?}\n{bench}\n{cells}\n{rest}");
        let taken = plan("plan.yaml", &rest, &files);
        let taken = taken.unwrap_or_else(|problems| panic!("{problems}\n{}", shown()));
        let came =
            report(rules, &taken).unwrap_or_else(|problems| panic!("{problems}\n{}", shown()));
        assert_eq!(without_places(&came), wanted, "{}", shown());
        let plain = taken.plain_yaml(rules).expect(name);
        let plain = plan("plan.yaml", &plain, &NoOthers).expect(name);
        let mut again = report(rules, &plain).expect(name);
        let notes = |report: &Report| report.remarks.clone();
        assert_eq!(notes(&again), notes(&came), "{}", shown());
        again.title = came.title.clone();
        assert_eq!(without_places(&again), wanted, "{}", shown());
    }
}

fn shipped() -> Rules {
    Rules::load(
        &["rescued-cells", "rescued-cells-measured"],
        &Shipped,
        &rulesets::catalogue(),
    )
    .expect("the shipped rules")
}

/// The proposals in a folder.
fn proposals(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("..")
        .join(folder);
    let entries = fs::read_dir(folder).expect("the folder");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let yaml = paths.filter(|path| path.extension().is_some_and(|ending| ending == "yaml"));
    let mut all: Vec<(String, String)> = yaml
        .map(|path| {
            let text = fs::read_to_string(&path).expect("a text");
            (path.display().to_string(), text)
        })
        .collect();
    all.sort();
    all
}

#[test]
fn the_demos_come_to_the_same() {
    let (rules, demos) = (shipped(), proposals("rules-cli/demo"));
    assert!(demos.len() >= 3, "{}", demos.len());
    for (name, text) in demos {
        assert_same(&name, &text, &rules);
    }
}

#[test]
fn the_proposals_of_the_suite_come_to_the_same() {
    let mut count = 0;
    for case in cases().expect("the suite") {
        let is_report = matches!(case.expect, Expect::Outcome(_)) && case.beside.is_none();
        let rules = Rules::load(
            &case.given(),
            &Texts::of(case.files()).or(Shipped),
            &rulesets::catalogue(),
        );
        if let (true, Ok(rules)) = (is_report, rules) {
            assert_same(&case.name, &case.proposal, &rules);
            count += 1;
        }
    }
    println!(
        "{count} proposals, each taken apart in {} ways",
        Way::ALL.len()
    );
    assert!(count >= 600, "{count}");
}
