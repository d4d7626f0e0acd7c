//! How many answers a plan takes that passes over all stages of the core rules. An answer is one leaf
//! that a person writes. What a workshop says once on its bench, for all plans, is counted apart.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use rules_core::check::{Options, StageOutcome, Verdict, check};
use rules_core::document::Syntax;
use rules_core::ruleset::{Rules, Texts};
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::Shipped;

/// The marshal's torch of the club: one rescued cell.
const CELL: &str = "M2";

/// The most answers of the plan with its cell, and those about the cell. Twelve of the cell were
/// aimed at; a rest voltage after the charge is the thirteenth.
const MOST: usize = 25;
const MOST_OF_CELL: usize = 13;

fn club() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../rules-cli/demo/club")
}

fn file(name: &str) -> String {
    fs::read_to_string(club().join(name)).expect("a file of the demo")
}

/// What the plan itself says, but for what it is called and where its bench is.
fn of_plan() -> usize {
    let plan: serde_json::Value = serde_yaml::from_str(&file("marshal-torch.yaml")).expect("YAML");
    let said = plan.as_object().expect("a map").iter();
    said.filter(|(key, _)| !["format", "title", "bench"].contains(&key.as_str()))
        .map(|(_, value)| leaves(value))
        .sum()
}

fn leaves(value: &serde_json::Value) -> usize {
    match value {
        serde_json::Value::Object(map) => map.values().map(leaves).sum(),
        serde_json::Value::Array(items) => items.iter().map(leaves).sum(),
        _ => 1,
    }
}

/// The fields of the cell's row but its id and the light that it is in, and the values that were
/// read of it, by column or by what was read.
fn of_cell() -> BTreeMap<String, usize> {
    let mut all = BTreeMap::new();
    let cells = file("cells.csv");
    let headings: Vec<&str> = cells.lines().next().expect("headings").split(';').collect();
    let row = cells
        .lines()
        .find(|line| line.starts_with(&format!("{CELL};")));
    for (heading, field) in headings.iter().zip(row.expect("its row").split(';')) {
        if !field.is_empty() && !["id", "in"].contains(heading) {
            *all.entry((*heading).to_owned()).or_default() += 1;
        }
    }
    for line in file("readings.csv").lines() {
        let fields: Vec<&str> = line.split(';').collect();
        if let [CELL, _, what, value, ..] = fields.as_slice()
            && !value.is_empty()
        {
            *all.entry((*what).to_owned()).or_default() += 1;
        }
    }
    all
}

#[test]
fn a_plan_for_one_cell_passes_with_few_answers() {
    let files = Texts::of([
        ("bench.yaml", file("bench.yaml").as_str()),
        ("cells.csv", &file("cells.csv")),
        ("readings.csv", &file("readings.csv")),
    ])
    .or(Shipped);
    let text = file("marshal-torch.yaml").into_bytes();
    let plan = Plan::read("plan.yaml", text, Syntax::Yaml, &mut Benches::of(&files));
    let plan = plan.unwrap_or_else(|problems| panic!("{problems}"));
    let rules = Rules::load(
        &["rescued-cells"],
        &rulesets::shipped::Shipped,
        &rulesets::catalogue(),
    );
    let rules = rules.unwrap_or_else(|problems| panic!("{problems}"));
    let proposal = plan.proposal(Some(&rules)).expect("a proposal");
    let report = check(&rules, &proposal, Options::default()).expect("a report");
    assert_eq!(report.verdict(), Some(Verdict::Pass));
    // With one cell there is nothing to build.
    let passes = |stage: &StageOutcome| stage.nothing_checked || stage.verdict == Verdict::Pass;
    assert!(report.stages.iter().all(passes), "{:?}", report.stages);
    let of_cell = of_cell();
    let (plan, cell) = (of_plan(), of_cell.values().sum::<usize>());
    println!("{plan} answers in the plan, {cell} about the cell: {of_cell:?}");
    assert!(cell <= MOST_OF_CELL, "{of_cell:?}");
    assert!(plan + cell <= MOST, "{plan} and {cell}");
}
