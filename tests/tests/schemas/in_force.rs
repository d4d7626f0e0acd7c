//! Schemas for the rulesets in force: they know the names that these define.

use rules_core::ruleset::Rules;
use rulesets::schema::{NAMES_IN_FORCE, in_force};
use serde_json::{Value, json};

use super::agreement::{every_key, load_ruleset};
use super::setting::{as_yaml_reads, objections, rules, validator};

const LOCAL: &str = include_str!("../../../rulesets/local-practice-example.yaml");

fn usual() -> Rules {
    rules([].into(), &["rescued-cells"]).expect("the shipped rules load")
}

#[test]
fn they_are_schemas() {
    let rules = usual();
    for name in NAMES_IN_FORCE {
        let schema = in_force(name, &rules).expect("a schema");
        assert!(jsonschema::draft202012::meta::is_valid(&schema), "{name}");
        validator(&schema);
    }
    assert_eq!(in_force("report", &rules), None);
}

/// What rests on the shipped rules conforms, and a name that they do not have is seen.
#[test]
fn a_ruleset_that_rests_on_others_names_what_is_there() {
    let validator = validator(&in_force("ruleset", &usual()).expect("a schema"));
    let local = as_yaml_reads(LOCAL);
    assert_eq!(objections(&validator, &local), Vec::<String>::new());
    let with = |adjust: Value| {
        let mut local = local.clone();
        local["adjust"] = adjust;
        validator.is_valid(&local)
    };
    assert!(with(
        json!({ "limits": { "rest_match": { "to": "5 mV" } } })
    ));
    assert!(!with(
        json!({ "limits": { "rest_mach": { "to": "5 mV" } } })
    ));
    assert!(!with(
        json!({ "limits": { "rest_match": { "to": "5 A" } } })
    ));
    for caution in usual().cautions() {
        let dropped = json!({ "drop": "yes", "because": "why" });
        assert!(
            with(json!({ "cautions": { &*caution.id: dropped } })),
            "{}",
            caution.id
        );
    }
    assert!(!with(
        json!({ "cautions": { "no-such-caution": { "drop": "yes", "because": "why" } } })
    ));
}

/// What rulesets declare is known by name, kind and options.
#[test]
fn a_proposal_gives_what_is_declared() {
    let vetting = load_ruleset(&every_key()).expect("it loads");
    let validator = validator(&in_force("proposal", vetting.rules()).expect("a schema"));
    let with = |extra: Value| {
        let cells = json!([{ "id": "A", "extra": extra }]);
        validator.is_valid(&json!({ "format": 1, "arrangement": "1S1P", "cells": cells }))
    };
    assert!(with(json!({ "lamp_colour": "blue", "case_rise": "3.5 K" })));
    assert!(!with(json!({ "lamp_colour": "mauve" })));
    assert!(!with(json!({ "lamp_color": "blue" })));
    assert!(!with(json!({ "case_rise": "3.5 V" })));
}
