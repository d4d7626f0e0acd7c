//! Every report says it where none of the shipped rulesets takes part, and only there.

use rules_core::check::{Options, RemarkKind, Report, check};
use rules_core::report::{Lean, LeanRecord, Prose};
use rules_core::ruleset::{Rules, Texts};
use rulesets::{Plain, Proposal, Ways, first_page, rules_from_texts};

const OWN: &str = "format: 1
ruleset: night-relay
version: 1.0.0
title: Night relay lamps
cautions:
  - id: body-bad
    title: A caution of the suite
    about: each cell
    refuse_unless: cell.body == sound
    reason: it is not
";

const PLAN: &str = "format: 1
arrangement: 1S1P
cells: [{ id: K4, body: sound }]
notes: [one, two, three, four, five]
";

const SAID: &str = "None of the shipped rulesets takes part (`rescued-cells`, `rescued-cells-measured`): \
                    nothing that they ask for was checked.";

fn rules(names: &[&str], text: &str) -> Rules {
    let texts = Texts::of([("own.yaml", text.to_owned())]);
    rules_from_texts(names, texts).unwrap_or_else(|problems| panic!("{problems}"))
}

fn report(rules: &Rules) -> Report {
    let proposal = Proposal::from_text("plan.yaml", PLAN).expect("a plan");
    check(rules, &proposal, Options::default()).unwrap_or_else(|problems| panic!("{problems}"))
}

fn said(rules: &Rules) -> Vec<String> {
    let remarks = report(rules).remarks.into_iter();
    let of_rules = remarks.filter(|remark| remark.remark == RemarkKind::WithoutShipped);
    of_rules.map(|remark| remark.says).collect()
}

fn extending(names: &str) -> String {
    OWN.replace("cautions:\n", &format!("extends: [{names}]\ncautions:\n"))
}

#[test]
fn a_forgotten_extends_is_told() {
    assert_eq!(said(&rules(&["own.yaml"], OWN)), [SAID]);
}

#[test]
fn a_shipped_ruleset_below_or_beside_is_one() {
    let none: [&str; 0] = [];
    let extends = extending("rescued-cells");
    assert_eq!(said(&rules(&["own.yaml"], &extends)), none);
    let measured = extending("rescued-cells-measured");
    assert_eq!(said(&rules(&["own.yaml"], &measured)), none);
    assert_eq!(said(&rules(&["own.yaml", "rescued-cells"], OWN)), none);
    assert_eq!(said(&rules(&["rescued-cells"], OWN)), none);
}

/// A report names what a merged file says that it is made of.
#[test]
fn a_merged_file_counts_as_what_it_says() {
    let merged = |from: &str| {
        let from = format!("merged: {{ from: [{{ ruleset: {from}, version: 1.0.0 }}] }}\n");
        said(&rules(&["own.yaml"], &(OWN.to_owned() + &from)))
    };
    assert_eq!(merged("rescued-cells"), [""; 0]);
    assert_eq!(merged("some-other-club"), [SAID]);
}

/// However many remarks there are and however little room.
#[test]
fn it_stands_under_the_verdict() {
    let report = report(&rules(&["own.yaml"], OWN));
    for lines in [1, 12, 40] {
        let page = first_page(&report, (200, lines), Ways::NONE, &Plain);
        let third = page.lines().nth(2).expect("a third line");
        assert_eq!(third.trim(), SAID, "{page}");
        assert_eq!(page.matches("None of the shipped").count(), 1, "{page}");
    }
}

#[test]
fn a_lean_record_keeps_it() {
    let rules = rules(&["own.yaml"], OWN);
    let report = report(&rules);
    let lean = serde_json::to_string(&Lean(&report)).expect("JSON");
    let read: LeanRecord = serde_json::from_str(&lean).expect("a record");
    let read = read.report(&Prose::of(&rules)).expect("a report");
    assert_eq!(read.remarks, report.remarks);
    assert_eq!(read.remarks[0].says, SAID);
}
