//! A proposal in memory is judged as its text is: taken as a value, or written field by field.

use rules_core::check::{Options, check};
use rules_core::document::Syntax;
use rules_core::ruleset::Rules;
use rules_tests::law::{Seen, law};
use rulesets::{Draft, Proposal};
use serde_json::{Value, json};

use crate::generate::choices::{broken, words};
use crate::generate::document::Style;
use crate::generate::setting::load_files;
use crate::generate::sound::near;

/// What came of a check, without the places, which are in another text.
fn outcome(rules: &Rules, proposal: &Proposal) -> Value {
    let came = check(rules, proposal, Options::default());
    let mut told = match came {
        Ok(report) => serde_json::to_value(report).unwrap(),
        Err(problems) => return problems.iter().map(|one| one.fault.code()).collect(),
    };
    for fact in told["facts"].as_array_mut().into_iter().flatten() {
        fact.as_object_mut()
            .unwrap()
            .retain(|key, _| key != "line" && key != "column");
    }
    told
}

/// The paths of all values and the values, but for those that a draft has from the start.
fn fields(value: &Value, path: &str, all: &mut Vec<(String, Value)>) {
    match value {
        Value::Object(entries) if !entries.is_empty() => {
            let dot = if path.is_empty() { "" } else { "." };
            for (key, value) in entries {
                fields(value, &format!("{path}{dot}{key}"), all);
            }
        }
        Value::Array(items) if ["cells", "packs"].contains(&path) => {
            for item in items {
                let id = item["id"].as_str().expect("each has an id");
                all.push((format!("{path}[{id}]"), json!({ "id": id })));
                fields(item, &format!("{path}[{id}]"), all);
            }
        }
        value => all.push((path.to_owned(), value.clone())),
    }
}

fn written_field_by_field(value: &Value) -> Draft {
    let mut draft = Draft::of("proposal", json!({}));
    let mut all = Vec::new();
    fields(value, "", &mut all);
    for (path, value) in all {
        draft.set(&path, value).unwrap();
    }
    draft
}

#[test]
fn a_proposal_in_memory_is_judged_as_its_text() {
    let rules = load_files(&[], &["rescued-cells"]).unwrap();
    law(
        "a proposal in memory is judged as its text",
        40,
        words(900),
        |chances, seen: &Seen| {
            let text = near(&chances).doc().write(Style::Json);
            let value: Value = serde_json::from_str(&text).unwrap();
            let read = Proposal::read("proposal", text.clone().into(), Syntax::Json).unwrap();
            let taken = Proposal::from_value("proposal", &value).unwrap();
            let draft = written_field_by_field(&value);
            let built = draft.proposal(&rules).unwrap();
            let meant = outcome(&rules, &read);
            seen.count(meant["findings"].as_array().map_or(0, Vec::len));
            for came in [outcome(&rules, &taken), outcome(&rules, &built)] {
                if came != meant {
                    return Err(broken(
                        "in memory it comes to another",
                        &[("proposal", &text)],
                    ));
                }
            }
            Ok(())
        },
    );
}

/// The problems are the same too, with places that a person can read.
#[test]
fn faults_of_a_value_are_those_of_its_text() {
    let value = json!({
        "format": 1, "arrangement": "1S1P",
        "cells": [{ "id": "K4", "rest": { "voltage": "3.7 A" }, "wrapp": "torn" }],
    });
    let read = Proposal::read("form", value.to_string().into(), Syntax::Json).unwrap_err();
    let taken = Proposal::from_value("form", &value).unwrap_err();
    let said = |problems: &rulesets::ProblemList| -> Vec<(String, Option<String>)> {
        let said = problems
            .iter()
            .map(|one| (one.message.clone(), one.help.clone()));
        said.collect()
    };
    assert_eq!(said(&taken), said(&read));
    let lines: Vec<&str> = taken.iter().map(|one| &*one.line).collect();
    assert_eq!(
        lines,
        [
            "cells[K4].rest.voltage: \"3.7 A\"",
            "cells[K4].wrapp: \"torn\""
        ]
    );
    let mut marked = taken.iter().map(|one| {
        let column = one.place.as_ref().unwrap().column;
        let marked = one.line.chars().skip(column - 1).take(one.width);
        marked.collect::<String>()
    });
    assert_eq!(marked.next().as_deref(), Some("3.7 A"));
    assert_eq!(marked.next().as_deref(), Some("wrapp"));
}
