//! Proposals with every fact that a figure can use, and with less; the figures that come of them.

use std::collections::BTreeMap;

use rules_core::check::{FigureReport, Options, figures};

use rules_core::document::Syntax;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;
use serde_json::{Value, json};

/// A build in which every fact that figures look at is given.
pub(crate) fn whole(arrangement: &str, draw: &str) -> Value {
    let cells: Vec<Value> = [("A", 3.87, 2310, 61), ("A", 3.86, 2250, 64), ("B", 3.88, 2400, 58), ("B", 3.87, 2290, 66)]
        .iter()
        .enumerate()
        .map(|(at, (group, rest, capacity, resistance))| {
            json!({
                "id": format!("K{at}"), "group": group, "designation": "ICR18650", "pack": "P",
                "rest": { "voltage": format!("{rest} V"), "after": "24 h" },
                "capacity": { "value": format!("{capacity} mAh"), "at": "1 A", "to": "3.0 V", "temperature": "22 degC", "half": "3.66 V", "late": "3.45 V", "energy": format!("{} mWh", capacity * 370 / 100), "by_3300mv": format!("{} mAh", capacity - 90), "by_3000mv": format!("{capacity} mAh"), "by_2750mv": format!("{capacity} mAh"), "by_2500mv": format!("{capacity} mAh") },
                "capacity_2": { "value": format!("{} mAh", capacity + 40), "at": "0.4 A", "to": "3.0 V", "temperature": "22 degC", "half": "3.72 V", "late": "3.55 V", "energy": format!("{} mWh", (capacity + 40) * 374 / 100) },
                "rated": { "capacity": "2600 mAh" },
                "resistance": { "value": format!("{resistance} mΩ"), "method": if at % 2 == 0 { "dc-10s" } else { "charger-display" }, "temperature": "21 degC" },
                "loaded": { "open": "4.000 V", "closed": "3.950 V", "resistor": "5 ohm" },
                "drift": { "from": "3.876 V", "to": "3.870 V", "fall": "6 mV", "over": "14 d" },
            })
        })
        .collect();
    let count = if arrangement == "2S2P" { 4 } else { 1 };
    json!({
        "format": 1,
        "light": { "draw": draw, "input": { "min": "2.6 V" }, "cut_off": if count == 4 { "5.8 V" } else { "2.9 V" }, "standby": "50 uA" },
        "arrangement": arrangement,
        "meters": {
            "voltage": "± 0 V", "charge": "± 0 Ah", "energy": "± 0 Wh", "resistance": "± 0 ohm", "length": "± 0 mm",
            "temperature": "± 0 K", "temperature difference": "± 0 K",
        },
        "cells": cells[..count],
        "packs": [{ "id": "P", "voltage": "11.1 V", "capacity": "5.2 Ah", "energy": "58 Wh", "designation": "3ICR19/66-2", "cells": 6 }],
        "charging": { "current": "1 A" },
        "conditions": { "ambient": "20 degC", "run_since_full": "25 min", "stored_at": "3.80 V" },
    })
}

pub(crate) fn rules() -> Rules {
    Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue())
        .expect("the shipped rules load")
}

/// All library figures by subject and name.
pub(crate) fn worked(rules: &Rules, proposal: &Value) -> BTreeMap<(String, String), FigureReport> {
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
pub(crate) const ROUNDING: f64 = 1e-12;

pub(crate) fn encloses(wide: &FigureReport, narrow: &FigureReport) -> bool {
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
pub(crate) fn places(value: &Value, here: &str, into: &mut Vec<String>) {
    // A reading that tells no temperature says that it was taken in a room.
    const KEPT: [&str; 5] = ["/format", "/arrangement", "id", "group", "temperature"];
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

pub(crate) fn without(proposal: &Value, place: &str) -> Value {
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
pub(crate) fn widened(proposal: &Value, place: &str) -> Option<Value> {
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

pub(crate) const BUILDS: [(&str, &str); 4] = [
    ("1S1P", "2 A"),
    ("1S1P", "7 W"),
    ("2S2P", "1.5 A"),
    ("2S2P", "9 W"),
];
