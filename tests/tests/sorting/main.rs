//! Cells of a bench are graded as the texts of the rules have it: the club's by hand, others at, just
//! inside and just outside the bounds of each grade; and who knows less of a cell has no better grade.
#![cfg(test)]

mod bounds;
mod club;
mod lasting;
mod less;
mod lights;
mod local;
mod tags;
mod written;

use std::sync::{Arc, LazyLock};

use rules_core::document::ProblemList;
use rules_core::ruleset::{Rules, Texts};
use rulesets::bench::Bench;
use rulesets::jobs::sort::{Grade, SortReport, SortedCell, Sorting, sort};
use rulesets::shipped_rules;
use serde_json::{Value, json};

/// The shipped rules, which many tests sort by.
static RULES: LazyLock<Rules> = LazyLock::new(|| shipped_rules().expect("rules"));

/// A torch of one cell, of which all is known that its fit asks for.
fn torch() -> Value {
    json!({
        "bays": 1, "made_for": 1, "drive": "buck-boost", "draw": "2.8 W",
        "input": { "min": "2.8 V", "max": "4.5 V" },
        "cut_off": "3.0 V", "standby": "none",
        "bay": { "length": "68.0 mm", "diameter": "19.5 mm" },
        "contacts": "springs", "spacer": "none", "polarity_guard": "mechanical",
        "lockout": "yes", "cell_temperature": "33 degC", "vented": "yes",
        "arrangement": "1S1P", "protection": { "kind": "none" },
    })
}

/// A cell of which all is known that sorting asks for, and nothing is wrong. The numbers are invented,
/// and well inside the limits of the rules.
fn good_cell(id: &str) -> Value {
    json!({
        "id": id,
        "mark": "NR-22 2200mAh",
        "class": "ICR",
        "class_from": "sheet",
        "size": { "code": "18650", "length": "65.1 mm ± 0.2 mm", "diameter": "18.3 mm ± 0.1 mm" },
        "origin": "salvaged",
        "protected": "no",
        "rated": { "capacity": "2500 mAh", "full": "4.20 V" },
        "quarantined_for": "30 d",
        "card": "yes",
        "ends_with": "in-use",
        "look": "sound",
        "past": "uneventful",
        "found": { "voltage": "3.60 V" },
        "rest": { "voltage": "3.85 V", "after": "24 h" },
        "drift": { "from": "4.100 V", "to": "4.099 V", "over": "28 d" },
        "idle_rise": "0 K ± 1 K",
        "capacity": { "value": "2300 mAh", "at": "0.5 A", "to": "2.8 V", "by": "discharge", "stop": "automatic" },
        "tested_ago": "12 d",
        "resistance": { "value": "57 mΩ", "method": "ac-1khz" },
        "charge": { "rise": "3 K ± 1 K", "taken": "2320 mAh" },
    })
}

/// The same with a field changed; `null` takes it away.
fn with(mut cell: Value, path: &str, value: impl Into<Value>) -> Value {
    let value = value.into();
    let (parents, last) = path.rsplit_once('.').unwrap_or(("", path));
    let mut at = &mut cell;
    for key in parents.split('.').filter(|key| !key.is_empty()) {
        at = &mut at[key];
    }
    if value.is_null() {
        at.as_object_mut().expect("a map").remove(last);
    } else {
        at[last] = value;
    }
    cell
}

fn bench(cells: &[Value], lights: Value) -> Result<Arc<Bench>, ProblemList> {
    let text = json!({
        "format": 1,
        "bench": "Clubhouse of the night relay",
        "meters": {
            "voltage": "± 1 mV",
            "resistance": "± (3 % + 1 mΩ)",
            "charge": "± 3 %",
            "length": "± 0.1 mm",
        },
        "lights": lights,
        "cells": cells,
    });
    let texts = Texts::of([("bench.json", text.to_string())]);
    Bench::load("bench.json", &texts).map(Arc::new)
}

fn sorted(cells: &[Value], lights: Value) -> Result<SortReport, ProblemList> {
    sort(&bench(cells, lights)?, &RULES, Sorting::default())
}

/// The only cell, sorted.
fn one(cell: Value) -> SortedCell {
    let report = sorted(&[cell], json!({})).unwrap_or_else(|problems| panic!("{problems}"));
    report.cells.into_iter().next().expect("a cell")
}

fn grade(cell: Value) -> Grade {
    one(cell).grade
}

/// The club's bench of the demo.
fn club() -> (Arc<Bench>, Rules) {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../rules-cli/demo/club/");
    let bench = Bench::load(&format!("{folder}bench.yaml"), &rulesets::shipped::FILES);
    let bench = bench.unwrap_or_else(|problems| panic!("{problems}"));
    (Arc::new(bench), shipped_rules().expect("rules"))
}
