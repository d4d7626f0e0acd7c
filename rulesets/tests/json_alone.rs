//! What is promised of a build without the feature `yaml`: JSON is read whatever it is called, the
//! shipped rules are there, and YAML is refused with a way out. With the feature, both are read.

#![cfg(test)]

use rulesets::{
    Options, ProblemList, Proposal, Texts, Verdict, check, rules_from_texts, shipped_rules,
};

const JSON: &str = r#"{"format": 1, "title": "A torch", "arrangement": "1S1P",
    "cells": [{"id": "K4", "rest": {"voltage": "1.87 V", "after": "24 h"}}]}"#;

const YAML: &str = "format: 1\ntitle: A torch\narrangement: 1S1P\n";

#[test]
fn the_shipped_rules_check_json_by_any_name() {
    let rules = shipped_rules().expect("rules");
    for name in ["torch.json", "torch.yaml"] {
        let proposal = Proposal::from_text(name, JSON).expect("a proposal");
        let report = check(&rules, &proposal, Options::default()).expect("a report");
        // A cell that was found this deeply discharged goes to recycling: common practice.
        assert_eq!(report.verdict(), Some(Verdict::Refuse));
    }
}

#[test]
fn rules_of_ones_own_may_be_json() {
    let ours = r#"{"format": 1, "ruleset": "night-relay-club", "version": "1.0.0",
        "title": "The night relay's own", "extends": ["rescued-cells"]}"#;
    let rules = rules_from_texts(&["club.json"], Texts::of([("club.json", ours)])).expect("rules");
    assert_eq!(rules.layers().len(), 2);
}

#[test]
fn yaml_is_read_or_refused_with_a_way_out() {
    let read = Proposal::from_text("torch.yaml", YAML);
    if cfg!(feature = "yaml") {
        assert!(read.is_ok());
    } else {
        told(read, "this build reads no YAML", "feature `yaml`");
    }
}

#[test]
fn json_with_a_fault_is_told_as_json() {
    if cfg!(not(feature = "yaml")) {
        let read = Proposal::from_text("torch.yaml", "{\"format\": 1,}");
        told(read, "not JSON", "correct it");
    }
}

fn told<T>(read: Result<T, ProblemList>, message: &str, help: &str) {
    let problems = read.err().expect("problems");
    let first = problems.first().expect("a problem");
    assert!(first.message.contains(message), "{}", first.message);
    let said = first.help.as_deref().unwrap_or_default();
    assert!(said.contains(help), "{said}");
}
