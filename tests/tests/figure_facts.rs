//! Figures follow the facts of a proposal: knowing less never gives a narrower figure, and one that
//! is not asked for is not worked.
#![cfg(test)]

use std::collections::BTreeMap;

use rules_core::check::{Options, figures};
use rules_core::document::Syntax;
use rules_core::proposal::Proposal;
use rules_core::report::FigureReport;
use rules_core::ruleset::{Rules, Shipped};
use serde_json::{Value, json};

/// A build in which every fact that figures look at is given.
fn whole(arrangement: &str, draw: &str) -> Value {
    let cells: Vec<Value> = [("A", 3.87, 2310, 61), ("A", 3.86, 2250, 64), ("B", 3.88, 2400, 58), ("B", 3.87, 2290, 66)]
        .iter()
        .enumerate()
        .map(|(at, (group, rest, capacity, resistance))| {
            json!({
                "id": format!("K{at}"), "group": group, "designation": "ICR18650", "pack": "P",
                "rest": { "voltage": format!("{rest} V"), "after": "24 h" },
                "capacity": { "value": format!("{capacity} mAh"), "at": "1 A", "to": "3.0 V" },
                "slow_capacity": { "value": format!("{} mAh", capacity + 40), "at": "0.4 A", "to": "3.0 V" },
                "rated": { "capacity": "2600 mAh" },
                "resistance": { "value": format!("{resistance} mΩ"), "method": "dc-10s" },
                "drift": { "fall": "6 mV", "over": "14 d" },
            })
        })
        .collect();
    let count = if arrangement == "2S2P" { 4 } else { 1 };
    json!({
        "format": 1,
        "light": { "draw": draw, "input": { "min": "2.6 V" }, "cut_off": if count == 4 { "5.8 V" } else { "2.9 V" }, "standby": "50 uA" },
        "arrangement": arrangement,
        "cells": cells[..count],
        "packs": [{ "id": "P", "voltage": "11.1 V", "capacity": "5.2 Ah", "energy": "58 Wh", "designation": "3ICR19/66-2", "cells": 6 }],
        "charging": { "current": "1 A" },
        "conditions": { "ambient": "20 degC" },
    })
}

fn rules() -> Rules {
    Rules::load(&["rescued-cells"], &Shipped, &rules_core::catalogue())
        .expect("the shipped rules load")
}

/// All library figures by subject and name.
fn worked(rules: &Rules, proposal: &Value) -> BTreeMap<(String, String), FigureReport> {
    let text = proposal.to_string();
    let proposal = Proposal::read("p.json", text.clone().into(), Syntax::Json)
        .unwrap_or_else(|problems| panic!("{problems:?}\n{text}"));
    let sheet = figures(rules, &proposal, Options::default()).expect("its facts are known");
    sheet
        .figures
        .into_iter()
        .filter(|figure| figure.is.is_none())
        .map(|figure| ((figure.subject.to_string(), figure.name.clone()), figure))
        .collect()
}

/// The model's arithmetic is not rounded outward: ends may cross by their last bits.
const ROUNDING: f64 = 1e-12;

fn encloses(wide: &FigureReport, narrow: &FigureReport) -> bool {
    let (wide, narrow) = (wide.value.as_ref().unwrap(), narrow.value.as_ref().unwrap());
    let slack = |end: f64| ROUNDING * end.abs().max(1.0);
    let low = match (wide.low(), narrow.low()) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(wide), Some(narrow)) => wide <= narrow + slack(narrow),
    };
    let high = match (wide.high(), narrow.high()) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(wide), Some(narrow)) => wide >= narrow - slack(narrow),
    };
    low && high
}

/// Places of everything that may be left out.
fn places(value: &Value, here: &str, into: &mut Vec<String>) {
    const KEPT: [&str; 4] = ["/format", "/arrangement", "id", "group"];
    let mut visit = |key: &str, inner: &Value| {
        let place = format!("{here}/{key}");
        if !KEPT.iter().any(|kept| place.ends_with(kept))
            && !inner.is_array()
            && inner.get("id").is_none()
        {
            into.push(place.clone());
        }
        places(inner, &place, into);
    };
    match value {
        Value::Object(map) => map.iter().for_each(|(key, inner)| visit(key, inner)),
        Value::Array(items) => items
            .iter()
            .enumerate()
            .for_each(|(at, inner)| visit(&at.to_string(), inner)),
        _ => {}
    }
}

fn without(proposal: &Value, place: &str) -> Value {
    let mut changed = proposal.clone();
    let (outer, key) = place.rsplit_once('/').unwrap();
    changed
        .pointer_mut(outer)
        .unwrap()
        .as_object_mut()
        .unwrap()
        .remove(key);
    changed
}

/// The same with a tolerance on a number that is wider than its digits, if it is one with a unit.
fn widened(proposal: &Value, place: &str) -> Option<Value> {
    let mut changed = proposal.clone();
    let text = changed.pointer(place)?.as_str()?.to_owned();
    let (number, unit) = text.split_once(' ')?;
    number.parse::<f64>().ok()?;
    let tolerance = if unit == "degC" {
        "7 K".to_owned()
    } else {
        "9 %".to_owned()
    };
    *changed.pointer_mut(place)? = json!(format!("{text} ± {tolerance}"));
    Some(changed)
}

const BUILDS: [(&str, &str); 4] = [
    ("1S1P", "2 A"),
    ("1S1P", "7 W"),
    ("2S2P", "1.5 A"),
    ("2S2P", "9 W"),
];

#[test]
fn knowing_less_never_gives_a_narrower_figure() {
    let rules = rules();
    let mut compared = 0;
    for (arrangement, draw) in BUILDS {
        let proposal = whole(arrangement, draw);
        let known = worked(&rules, &proposal);
        let mut all = Vec::new();
        places(&proposal, "", &mut all);
        for place in all {
            let changed =
                std::iter::once(without(&proposal, &place)).chain(widened(&proposal, &place));
            for less in changed {
                let wide = worked(&rules, &less);
                // A pack or a light that is left out whole has no figures of its own.
                for (key, narrow) in known.iter().filter(|(key, _)| wide.contains_key(*key)) {
                    compared += 1;
                    assert!(
                        encloses(&wide[key], narrow),
                        "{arrangement} {draw}: {key:?} at {place}\n{:?}\n{:?}",
                        wide[key].value,
                        narrow.value
                    );
                }
            }
        }
    }
    println!("{compared} figures of proposals that say less were compared");
    assert!(compared > 10_000);
}

#[test]
fn with_everything_given_every_figure_is_known() {
    let rules = rules();
    for (arrangement, draw) in BUILDS {
        for (key, figure) in worked(&rules, &whole(arrangement, draw)) {
            let value = figure.value.unwrap();
            assert!(!value.number.missing, "{arrangement} {draw}: {key:?}");
            assert!(
                value.low().is_some(),
                "{arrangement} {draw}: {key:?} {value:?}"
            );
        }
    }
}

/// What is missing is named, of the cell that lacks it.
#[test]
fn what_is_missing_is_named() {
    let rules = rules();
    let worked = worked(
        &rules,
        &without(&whole("2S2P", "9 W"), "/cells/2/capacity/at"),
    );
    let missing = |subject: &str, name: &str| {
        let facts = &worked[&(subject.to_owned(), name.to_owned())].facts;
        let missing = facts.iter().filter(|fact| fact.value.is_none());
        missing
            .map(|fact| (fact.subject.to_string(), fact.name.clone()))
            .collect::<Vec<_>>()
    };
    let expected = [("cell K2".to_owned(), "cell.capacity_at".to_owned())];
    assert_eq!(missing("group B", "group.start_voltage"), expected);
    assert_eq!(missing("build", "build.run_time"), expected);
    assert_eq!(missing("group A", "group.start_voltage"), []);
}

/// A slow capacity test narrows the upper end of what a gentle use gives. Half of one is as good as
/// none, and takes no part.
#[test]
fn a_slow_test_takes_part_whole_or_not_at_all() {
    let rules = rules();
    for arrangement in ["1S1P", "2S2P"] {
        let proposal = whole(arrangement, "0.5 A");
        let time = |proposal: &Value| {
            worked(&rules, proposal)[&("build".to_owned(), "build.run_time".to_owned())].clone()
        };
        let facts = |figure: &FigureReport| figure.facts.len() + figure.more_facts;
        let (twice, once) = (
            time(&proposal),
            time(&without(&proposal, "/cells/0/slow_capacity")),
        );
        let (narrow, wide) = (twice.value.as_ref().unwrap(), once.value.as_ref().unwrap());
        assert!(
            narrow.high().unwrap() < 0.99 * wide.high().unwrap() && narrow.low() == wide.low(),
            "{narrow:?} {wide:?}"
        );
        assert_eq!(facts(&twice), facts(&once) + 3);
        for part in ["value", "at", "to"] {
            let half = time(&without(
                &proposal,
                &format!("/cells/0/slow_capacity/{part}"),
            ));
            assert_eq!(half.value, once.value, "{part}");
            // Beside one cell with half a test, those of the others count.
            assert!(
                arrangement != "1S1P" || facts(&half) == facts(&once),
                "{part}"
            );
            assert!(half.facts.iter().all(|fact| fact.value.is_some()), "{part}");
        }
    }
}

/// The ratio of the two tests names what it lacks.
#[test]
fn the_ratio_of_tests_names_what_is_missing() {
    let rules = rules();
    let proposal = whole("1S1P", "2 A");
    let ratio = |proposal: &Value| {
        worked(&rules, proposal)[&("cell K0".to_owned(), "cell.capacity_ratio".to_owned())].clone()
    };
    let known = ratio(&proposal).value.unwrap();
    assert!(
        known.low().unwrap() > 0.95 && known.high().unwrap() < 1.05,
        "{known:?}"
    );
    let half = ratio(&without(&proposal, "/cells/0/slow_capacity/to"));
    let missing: Vec<&str> = half
        .facts
        .iter()
        .filter(|fact| fact.value.is_none())
        .map(|fact| fact.name.as_str())
        .collect();
    assert_eq!(missing, ["cell.slow_capacity_to"]);
    assert!(half.value.unwrap().number.missing);
}

/// A resistance read in two ways is what both allow; all that either allows, if they contradict
/// each other. A load that does not surely lower the voltage tells nothing.
#[test]
fn two_readings_of_a_resistance_are_taken_together() {
    let rules = rules();
    let read = |resistance: Option<&str>, closed: Option<&str>| {
        let mut cell = json!({ "id": "K0", "designation": "ICR18650" });
        if let Some(value) = resistance {
            cell["resistance"] = json!({ "value": value, "method": "dc-10s" });
        }
        if let Some(closed) = closed {
            cell["loaded"] =
                json!({ "open": "4.000 V", "closed": closed, "resistor": "5 ohm ± 1 %" });
        }
        let proposal = json!({ "format": 1, "arrangement": "1S1P", "cells": [cell] });
        let figure = worked(&rules, &proposal)
            [&("cell K0".to_owned(), "cell.dc_resistance".to_owned())]
            .clone();
        let missing: Vec<String> = figure
            .facts
            .iter()
            .filter(|fact| fact.value.is_none())
            .map(|fact| fact.name.clone())
            .collect();
        (figure.value.unwrap().number.value.range(), missing)
    };
    // 4.000 V to 3.950 V across 5 ohm is 63 mohm; to 3.500 V, 714 mohm.
    let (by_method, near, far) = (
        read(Some("60 mΩ"), None).0,
        read(None, Some("3.950 V")).0,
        read(None, Some("3.500 V")).0,
    );
    assert!(near.contains(0.063) && far.contains(0.714) && by_method.meets(far).is_none());
    assert_eq!(
        read(Some("60 mΩ"), Some("3.950 V")),
        (by_method.meets(near).unwrap(), Vec::new())
    );
    assert_eq!(
        read(Some("60 mΩ"), Some("3.500 V")),
        (by_method.hull(far), Vec::new())
    );
    for closed in ["4.000 V", "4.100 V"] {
        assert_eq!(read(Some("60 mΩ"), Some(closed)), (by_method, Vec::new()));
        assert_eq!(read(None, Some(closed)).1, ["cell.resistance"]);
    }
}
