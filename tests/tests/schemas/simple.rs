//! What schemas say of numbers, ranges and lists as far as a pattern can: never more than the loader.

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use rules_core::document::Fault;
use rules_tests::law::always;
use serde_json::{Value, json};

use super::setting::{library_validator, proposal};

fn torch(section: &str, key: &str, value: &str) -> Value {
    json!({ "format": 1, "arrangement": "1S1P", section: { key: value } })
}

/// What the loader finds wrong with a document.
fn faults(document: &Value) -> Vec<Fault> {
    match proposal("proposal.json", &document.to_string()) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(|problem| problem.fault).collect(),
    }
}

/// Stated numbers at and beside the ends of what can be. `light.cut_off` is within 0..1000 V,
/// `conditions.ambient` within -60..60 degC, `light.input.max` within 0.1..1000 V.
#[test]
fn stated_numbers_outside_of_what_can_be_are_refused() {
    let validator = library_validator("proposal");
    for (section, key, value, fits) in [
        ("light", "cut_off", "1000 V", true),
        ("light", "cut_off", "1000.1 V", false),
        ("light", "cut_off", "1001 V", false),
        ("light", "cut_off", "1000000 mV", true),
        ("light", "cut_off", "1100000 mV", false),
        ("light", "cut_off", "1.1 kV", false),
        ("light", "cut_off", "-0.1 V", false),
        ("light", "cut_off", "−3 V", false),
        ("light", "cut_off", "-0 V", true),
        ("light", "draw", "0.001 A", true),
        ("light", "draw", "0.0001 A", false),
        ("light", "draw", "0 W", false),
        ("light", "draw", "10100 W", false),
        ("conditions", "ambient", "-60 degC", true),
        ("conditions", "ambient", "-61 degC", false),
        ("conditions", "ambient", "600 °C", false),
        ("conditions", "run_time", "1 s", true),
        ("charging", "current", "1100000 mA", false),
    ] {
        let document = torch(section, key, value);
        let found = faults(&document);
        assert_eq!(
            found.is_empty(),
            fits,
            "{section}.{key}: {value}: {found:?}"
        );
        assert_eq!(
            validator.is_valid(&document),
            fits,
            "{section}.{key}: {value}"
        );
    }
}

/// Where a number has a tolerance, an exponent or other units, the loader alone can say.
#[test]
fn what_is_not_plain_is_left_to_the_loader() {
    let validator = library_validator("proposal");
    for value in ["1e9 V", "900..1100 V", "2000..3000 V", "5000 V ± 1 V"] {
        assert!(
            validator.is_valid(&torch("light", "cut_off", value)),
            "{value}"
        );
    }
}

#[test]
fn ranges_that_go_backwards_are_refused() {
    let validator = library_validator("proposal");
    for (value, fits) in [
        ("3.6..3.8 V", true),
        ("3.6..3.6 V", true),
        ("3.8..3.6 V", false),
        ("3.8..3 V", false),
        ("4..3 V", false),
        ("4.1..3.9 V", false),
        ("12..9 V", false),
        ("12..9.5 V", false),
        ("12..10 V", true),
        ("30 .. 20 V", false),
        ("-3..-4 V", true),
        ("10..5e3 V", true),
        ("900 mV..3 V", true),
    ] {
        let document = torch("light", "cut_off", value);
        assert_eq!(validator.is_valid(&document), fits, "{value}");
        let backwards = faults(&document).contains(&Fault::LowAboveHigh);
        assert!(fits || backwards, "{value}");
    }
}

#[test]
fn what_is_listed_twice_is_refused() {
    let cells = |cells: Value| json!({ "format": 1, "arrangement": "2S1P", "cells": cells });
    let plain = library_validator("proposal");
    assert!(plain.is_valid(&cells(json!([{ "id": "A" }, { "id": "B" }]))));
    assert!(!plain.is_valid(&cells(json!([{ "id": "A" }, { "id": "A" }]))));
    // Two ids for the loader, and one number for a schema.
    assert!(plain.is_valid(&cells(json!([{ "id": 1 }, { "id": 1.0 }]))));
    let taken = library_validator("bench-proposal");
    let plan = |cells: Value| json!({ "format": 1, "bench": "./bench.yaml", "cells": cells });
    assert!(taken.is_valid(&plan(json!(["K4", "K7"]))));
    assert!(!taken.is_valid(&plan(json!(["K4", "K7", "K4"]))));
    assert!(taken.is_valid(&plan(json!([1, 1.0]))));
}

/// Numbers and ranges of all kinds of digits: what the schema refuses the loader refuses.
#[test]
fn the_loader_refuses_whatever_a_pattern_does() {
    let validator = library_validator("proposal");
    let number = || "-?[0-9]{1,7}(\\.[0-9]{1,4})?";
    let places = prop_oneof![
        Just(("light", "cut_off", "V")),
        Just(("light", "cut_off", "mV")),
        Just(("light", "draw", "W")),
        Just(("light", "draw", "mA")),
        Just(("conditions", "ambient", "degC")),
        Just(("conditions", "run_time", "d")),
        Just(("conditions", "run_time", "min")),
        Just(("charging", "current", "A")),
    ];
    let check =
        |((section, key, unit), low, high): ((&str, &str, &str), String, Option<String>)| {
            let range = high.map(|high| format!("..{high}")).unwrap_or_default();
            let document = torch(section, key, &format!("{low}{range} {unit}"));
            if !validator.is_valid(&document) && faults(&document).is_empty() {
                return Err(TestCaseError::fail(document.to_string()));
            }
            Ok(())
        };
    let values = (places, number(), prop::option::of(number()));
    always(
        "what a pattern refuses the loader refuses",
        4000,
        values,
        check,
    );
}
