//! Two readings of one thing are taken together, or are an error.

use rules_core::check::{Options, brief, check, figures};
use rules_core::document::{Problem, Syntax};
use rules_core::ruleset::{Acceptance, Rules};
use rulesets::proposal::Proposal;
use serde_json::{Value, json};

use super::setting::{rules, without, worked};

/// One cell with a resistance in two ways.
fn read_twice(resistance: Option<Value>, loaded: Option<Value>) -> Value {
    let mut cell = json!({ "id": "K0", "designation": "ICR18650" });
    for (key, reading) in [("resistance", resistance), ("loaded", loaded)] {
        if let Some(reading) = reading {
            cell[key] = reading;
        }
    }
    json!({ "format": 1, "arrangement": "1S1P", "cells": [cell] })
}

/// 4.000 V before, and so much across 5 ohm.
fn across(closed: &str) -> Value {
    json!({ "open": "4.000 V", "closed": closed, "resistor": "5 ohm ± 1 %" })
}

/// A resistance read in two ways is what both allow. A load that does not surely lower the voltage
/// tells nothing.
#[test]
fn two_readings_of_a_resistance_are_taken_together() {
    let rules = rules();
    let read = |resistance: Option<&str>, closed: Option<&str>| {
        let by_method = resistance.map(|value| json!({ "value": value, "method": "dc-10s" }));
        let proposal = read_twice(by_method, closed.map(across));
        let figure = worked(&rules, &proposal)
            [&("cell K0".to_owned(), "cell.dc_resistance".to_owned())]
            .clone();
        let missing: Vec<String> = figure
            .facts
            .iter()
            .filter(|fact| fact.value.is_none())
            .map(|fact| fact.name.to_string())
            .collect();
        (figure.value.unwrap().number.value.range(), missing)
    };
    // 4.000 V to 3.950 V across 5 ohm is 63 mohm.
    let (by_method, near) = (read(Some("60 mΩ"), None).0, read(None, Some("3.950 V")).0);
    assert!(near.contains(0.063));
    assert_eq!(
        read(Some("60 mΩ"), Some("3.950 V")),
        (by_method.meets(near).unwrap(), Vec::new())
    );
    for closed in ["4.000 V", "4.010 V"] {
        assert_eq!(read(Some("60 mΩ"), Some(closed)), (by_method, Vec::new()));
        assert_eq!(read(None, Some(closed)).1, ["cell.resistance"]);
    }
}

/// The problems of a proposal in every way that it is used: all ways must say the same.
fn problems(rules: &Rules, proposal: &Value) -> Vec<Problem> {
    let proposal = Proposal::read("p.json", proposal.to_string().into(), Syntax::Json).unwrap();
    let mut all = Vec::new();
    for acceptance in [Acceptance::Guarded, Acceptance::Simple] {
        let options = Options {
            acceptance: Some(acceptance),
            ..Options::default()
        };
        all.push(check(rules, &proposal, options).err());
        all.push(brief(rules, &proposal, options).err());
        all.push(figures(rules, &proposal, options).err());
    }
    assert!(all.iter().all(|one| *one == all[0]), "{all:?}");
    all.swap_remove(0).unwrap_or_default().into_vec()
}

/// Vagueness does not pay: what refuses, or is an error, does not pass for being known less well.
/// 3.90 V that fall to 1.00 V across 1 ohm are 2.9 ohm, and at least a fifth of that is the cell's.
#[test]
fn readings_that_contradict_each_other_are_an_error() {
    let rules = rules();
    let by_method = json!({ "value": "61 mΩ ± 0.5 mΩ", "method": "dc-10s" });
    let of =
        |closed: &str| json!({ "open": "3.90 V ± 5 mV", "closed": closed, "resistor": "1 ohm" });
    let both = read_twice(Some(by_method.clone()), Some(of("1.00 V ± 5 mV")));
    let found = problems(&rules, &both);
    let [problem] = found.as_slice() else {
        panic!("{found:?}")
    };
    assert_eq!(problem.fault.code(), "contradiction");
    // Both places: that of the reading across the load, and in words that of the other.
    let text = both.to_string();
    let column = |value: &str| {
        let (before, _) = text.split_once(&format!("\"{value}\"")).unwrap();
        before.chars().count() + 1
    };
    let place = problem.place.as_ref().unwrap();
    let (first, second) = {
        let places = [column("61 mΩ ± 0.5 mΩ"), column("1.00 V ± 5 mV")];
        (places[0].min(places[1]), places[0].max(places[1]))
    };
    assert_eq!((place.line, place.column), (1, second));
    // 60.5 mΩ times 0.65 and 61.5 mΩ times 1.06; 3.895/1.005 - 1 times 0.2 and 3.905/0.995 - 1
    // times 1.3.
    for said in [
        "39.32..65.19 mΩ".to_owned(),
        "0.5751..3.803 Ω".to_owned(),
        format!("line 1, column {first}"),
        "`resistance`".to_owned(),
        "`loaded`".to_owned(),
        "`K0`".to_owned(),
    ] {
        assert!(problem.message.contains(&said), "{said}: {problem}");
    }
    let (alone, less) = (
        read_twice(Some(by_method.clone()), None),
        [
            read_twice(Some(by_method.clone()), Some(of("1.00 V ± 3 V"))),
            without(&both, "/cells/0/loaded/resistor"),
        ],
    );
    let figure = |proposal: &Value| {
        worked(&rules, proposal)[&("cell K0".to_owned(), "cell.dc_resistance".to_owned())]
            .value
            .clone()
    };
    for proposal in less {
        assert_eq!(problems(&rules, &proposal), []);
        assert_eq!(figure(&proposal), figure(&alone));
    }
}

/// A slow capacity test that gives less than nine tenths of a faster one to no lower an end
/// contradicts it.
#[test]
fn capacity_tests_that_contradict_each_other_are_an_error() {
    let rules = rules();
    let tested = |slow: Value| {
        let cell = json!({
            "id": "K0",
            "capacity": [{ "value": "2.0..2.0 Ah", "at": "1 A", "to": "3.0 V" }, slow],
        });
        json!({ "format": 1, "arrangement": "1S1P", "cells": [cell] })
    };
    let slow =
        |value: &str, at: &str, to: &str| tested(json!({ "value": value, "at": at, "to": to }));
    for (proposal, words) in [
        (
            slow("1.79..1.799 Ah", "0.4 A", "3.0 V"),
            vec!["contradiction"],
        ),
        (
            slow("1.79..1.799 Ah", "1 A", "2.9 V"),
            vec!["contradiction"],
        ),
        (slow("1.79..1.8 Ah", "0.4 A", "3.0 V"), Vec::new()),
        (slow("1.79..1.799 Ah", "1.1 A", "3.0 V"), Vec::new()),
        (slow("1.79..1.799 Ah", "0.4 A", "3.1 V"), Vec::new()),
        (
            tested(json!({ "value": "1.5 Ah", "at": "0.4 A" })),
            Vec::new(),
        ),
    ] {
        let found: Vec<String> = problems(&rules, &proposal)
            .iter()
            .map(|problem| problem.fault.code().to_owned())
            .collect();
        assert_eq!(found, words, "{proposal}");
    }
}
