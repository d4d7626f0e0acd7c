//! Reports in JSON conform to their schema.

use std::fs;

use jsonschema::Validator;
use rules_core::check::{Options, check};
use rules_core::facts::Proposed;
use rules_core::report::{Lean, ProblemRecord, Prose, changes};
use rules_core::ruleset::{Acceptance, Rules};
use rules_tests::conformance::cases;
use rulesets::jobs::Trial;
use rulesets::jobs::range::{Vary, map, range};
use rulesets::proposal::Proposal;
use serde_json::{Value, json};

use super::setting::{
    file_name, files, library_validator, objections, proposal, rules, strict_validator,
};

fn assert_reports_conform(validator: &Validator, rules: &Rules, proposal: &Proposal) -> usize {
    let ways = [None, Some(Acceptance::Simple)];
    let reports = ways.iter().filter_map(|acceptance| {
        check(
            rules,
            proposal,
            Options {
                acceptance: *acceptance,
                ..Options::default()
            },
        )
        .ok()
    });
    let reports: Vec<Value> = reports
        .map(|report| serde_json::to_value(report).expect("JSON"))
        .collect();
    for report in &reports {
        assert_eq!(
            objections(validator, report),
            Vec::<String>::new(),
            "{}",
            proposal.title()
        );
    }
    reports.len()
}

#[test]
fn those_of_the_demos_conform() {
    let validator = strict_validator("report");
    let ruleset =
        fs::read_to_string(super::setting::project().join("rulesets/local-practice-example.yaml"))
            .expect("it can be read");
    let rules = rules([("main.yaml", ruleset.as_str())].into(), &["main.yaml"]).expect("it loads");
    let mut seen = 0;
    for path in files("rules-cli/demo", &["yaml", "json"]) {
        let text = fs::read_to_string(&path).expect("it can be read");
        if let Ok(proposal) = proposal(file_name(&path), &text) {
            seen += assert_reports_conform(&validator, &rules, &proposal);
        }
    }
    assert!(seen >= 6, "{seen}");
}

#[test]
fn those_of_the_suite_conform() {
    let validator = strict_validator("report");
    let mut seen = 0;
    for case in cases().expect("the suite") {
        let (Ok(rules), Ok(proposal)) = (
            rules(case.files(), &case.given()),
            proposal("proposal", &case.proposal),
        ) else {
            continue;
        };
        seen += assert_reports_conform(&validator, &rules, &proposal);
    }
    assert!(seen > 1000, "{seen}");
}

/// The schema is strict enough to notice a change of a report.
#[test]
fn a_changed_report_does_not_conform() {
    let validator = strict_validator("report");
    let rules = rules(
        [(
            "rescued-cells",
            include_str!("../../../rulesets/rescued-cells.yaml"),
        )]
        .into(),
        &["rescued-cells"],
    )
    .expect("it loads");
    let proposal = proposal(
        "torch",
        "{ format: 1, title: Marshal's torch, arrangement: 1S1P, cells: [{ id: K4 }] }",
    )
    .expect("it loads");
    let report =
        serde_json::to_value(check(&rules, &proposal, Options::default()).expect("a report"))
            .expect("JSON");
    assert!(validator.is_valid(&report));
    let changes: [(&str, Value); 8] = [
        ("/verdict", json!("fine")),
        ("/format", json!("1")),
        ("/findings/0/status", json!("in doubt")),
        ("/findings/0/remedy", json!(null)),
        ("/findings/0/subjects", json!("cell K4")),
        ("/sets/0/0", json!("cell K4")),
        (
            "/cautions/body-damaged/rungs/refuse_unless/line",
            json!("12"),
        ),
        ("/counts", json!({})),
    ];
    for (at, value) in changes {
        let mut changed = report.clone();
        *changed
            .pointer_mut(at)
            .unwrap_or_else(|| panic!("{at} is there")) = value;
        assert!(!validator.is_valid(&changed), "{at}");
    }
    // A later version may write more.
    let mut more = report;
    more["findings"][0]["colour"] = json!("red");
    assert!(!validator.is_valid(&more) && library_validator("report").is_valid(&more));
}

/// Lean records, the words that belong to them, and what stands in place of a report.
#[test]
fn what_goes_with_reports_conforms() {
    let text = include_str!("../../../rulesets/rescued-cells.yaml");
    let rules = rules([("rescued-cells", text)].into(), &["rescued-cells"]).expect("it loads");
    let of = |text| proposal("torch", text);
    let all = [
        "{ format: 1, arrangement: 1S1P }",
        "{ format: 1, arrangement: 2S2P, cells: [{ id: K4, rest: { voltage: 3.87 V } }, { id: k4 }] }",
    ];
    for text in all {
        let report = check(&rules, &of(text).expect("it loads"), Options::default());
        let lean = serde_json::to_value(Lean(&report.expect("a report"))).expect("JSON");
        assert_eq!(objections(&strict_validator("lean"), &lean), [""; 0]);
    }
    let reports = all.map(|text| {
        let proposal = of(text).expect("it loads");
        check(&rules, &proposal, Options::default()).expect("a report")
    });
    let [few, more] = &reports;
    let stages = Options {
        stages: &["sorting"],
        ..Options::default()
    };
    let part = check(&rules, &of(all[0]).expect("it loads"), stages).expect("a report");
    for (old, new) in [
        (few, more),
        (more, few),
        (few, few),
        (few, &part),
        (&part, more),
    ] {
        let changes = serde_json::to_value(changes(old, new)).expect("JSON");
        assert_eq!(objections(&strict_validator("changes"), &changes), [""; 0]);
    }
    let prose = serde_json::to_value(Prose::of(&rules)).expect("JSON");
    assert_eq!(objections(&strict_validator("prose"), &prose), [""; 0]);
    let problems = of("{ format: 1, arrangement: 1S1P, hue: 3 }").expect_err("a key is unknown");
    let record = ProblemRecord::of_proposal("torch", problems);
    let record = serde_json::to_value(record).expect("JSON");
    assert_eq!(objections(&strict_validator("problems"), &record), [""; 0]);
}

/// Every kind of piece, and a map, conforms; a change of one is noticed.
#[test]
fn ranges_and_maps_conform() {
    let rules = rules(std::collections::BTreeMap::new(), &["rescued-cells"]).expect("it loads");
    let text =
        fs::read_to_string(super::setting::project().join("rules-cli/demo/marshal-torch.yaml"));
    let value = super::setting::as_text_only("torch.yaml", &text.expect("it can be read"));
    let draft = rulesets::Draft::of("torch", value);
    let trial = Trial::beside(None, draft, &rules, Options::default());
    let vary = |fact| Vary {
        fact,
        from: None,
        to: None,
        resolution: None,
    };
    let validator = strict_validator("range");
    let facts = [
        "light.draw",
        "light.drive",
        "light.bays",
        "cells[M2].capacity.value",
    ];
    for (fact, most) in facts.into_iter().zip([1000, 1000, 1000, 20]) {
        let report = range(&trial, &vary(fact), most).expect("a range");
        let report = serde_json::to_value(report).expect("JSON");
        assert_eq!(
            objections(&validator, &report),
            Vec::<String>::new(),
            "{fact}"
        );
        let mut changed = report.clone();
        changed["fact"]["path"] = json!(1);
        assert!(!validator.is_valid(&changed));
    }
    let report = map(
        &trial,
        &vary("light.draw"),
        &vary("conditions.ambient"),
        300,
    );
    let report = serde_json::to_value(report.expect("a map")).expect("JSON");
    let validator = strict_validator("map");
    assert_eq!(objections(&validator, &report), Vec::<String>::new());
    assert!(!report["areas"].as_array().expect("areas").is_empty());
}
