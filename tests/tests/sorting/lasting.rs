//! A reading that retires a cell retires it whatever is read after it, for sorting and for a check.

use std::sync::Arc;

use rules_core::check::{Finding, Options, Verdict, check};
use rules_core::document::Syntax;
use rules_core::ruleset::Texts;
use rulesets::bench::{Bench, Benches, Plan};
use rulesets::jobs::sort::{Grade, Sorting, sort};
use serde_json::Value;

use super::{RULES, good_cell, with};

/// The bench of a good cell of which readings say the rest.
fn texts(gone: &[&str], rows: &str) -> Texts {
    // Its capacity is known well, so that the limit of what it takes in is too.
    let cell = with(good_cell("A1"), "capacity.value", "2300 mAh ± 0 mAh");
    let gone = gone.iter().chain(&["rest", "drift"]);
    let cell = gone.fold(cell, |cell, path| with(cell, path, Value::Null));
    let bench = serde_json::json!({
        "format": 1,
        "bench": "Clubhouse of the night relay",
        "meters": { "voltage": "± 1 mV", "resistance": "± (3 % + 1 mΩ)", "charge": "± 3 %", "length": "± 0.1 mm" },
        "cells": [cell],
        "tables": { "readings": "readings.csv" },
    });
    let readings = format!("id,date,what,value,after\n{WATCHED}{rows}");
    let (bench, readings) = (bench.to_string(), readings.as_str());
    Texts::of([("bench.json", bench.as_str()), ("readings.csv", readings)])
}

/// The cell is charged and watched after whatever was read before.
const WATCHED: &str = "\
A1,2026-09-28,charged,,
A1,2026-10-01,rest.voltage,4.100 V,24 h
A1,2026-10-29,rest.voltage,4.099 V,24 h
";

fn grade(texts: &Texts) -> Grade {
    let bench = Bench::load("bench.json", texts).map(Arc::new);
    let bench = bench.unwrap_or_else(|problems| panic!("{problems}"));
    let report = sort(&bench, &RULES, Sorting::default());
    let report = report.unwrap_or_else(|problems| panic!("{problems}"));
    report.cells.first().expect("a cell").grade
}

/// Whether a plan with the cell is refused by a caution, decidedly or not.
fn is_refused(texts: &Texts, caution: &str) -> bool {
    let plan =
        "{ format: 1, bench: bench.json, arrangement: 1S1P, as_of: 2026-10-29, cells: [A1] }";
    let plan = Plan::read("p", plan.into(), Syntax::Yaml, &mut Benches::of(texts));
    let proposal = plan.and_then(|plan| plan.proposal(Some(&RULES)));
    let proposal = proposal.unwrap_or_else(|problems| panic!("{problems}"));
    let report = check(&RULES, &proposal, Options::default()).expect("a report");
    let refuses = |one: &&Finding| *one.caution == *caution && one.verdict == Verdict::Refuse;
    report.findings.iter().any(|one| refuses(&one))
}

/// What is read, the key of the cell that it takes the place of, the good reading, what is at and just
/// over the limit, and the caution.
const RETIRING: [(&str, &str, &str, [&str; 2], &str); 3] = [
    (
        "idle_rise",
        "idle_rise",
        "0 K ± 1 K",
        ["2.0 K ± 0 K", "2.1 K ± 0 K"],
        "warm-by-itself",
    ),
    (
        "found.voltage",
        "found",
        "3.60 V",
        ["2.00 V ± 0 V", "1.99 V ± 0 V"],
        "found-deeply-discharged",
    ),
    (
        "charge.rise",
        "charge",
        "3 K ± 1 K",
        ["10.0 K ± 0 K", "10.1 K ± 0 K"],
        "case-warms-in-charge",
    ),
];

fn row(day: &str, what: &str, value: &str) -> String {
    format!("A1,2026-{day},{what},{value},\n")
}

/// The other reading that stands under the same key of the cell.
fn beside(what: &str) -> String {
    if what == "charge.rise" {
        row("09-20", "charge.taken", "2320 mAh")
    } else {
        String::new()
    }
}

#[test]
fn a_good_reading_does_not_take_back_a_bad_one() {
    for (what, key, good, [at, over], caution) in RETIRING {
        let of = |bad: &str, day: &str| {
            let rows = beside(what) + &row("09-25", what, good) + &row(day, what, bad);
            let texts = texts(&[key], &rows);
            (grade(&texts), is_refused(&texts, caution))
        };
        let sound = of(good, "10-20");
        assert_eq!(sound, (Grade::Sound, false), "{what} is good");
        for day in ["09-24", "10-20", "10-29"] {
            assert!(!of(at, day).1, "{what} at its limit on {day}");
            let (grade, refused) = of(over, day);
            assert!(refused, "{what} over its limit on {day}");
            assert!(grade > Grade::Sound, "{what} on {day}: {grade:?}");
        }
    }
}

/// A cell that fell under 2.00 V in the drawer is retired, one under 2.50 V needs a watch. The meter is
/// good to 1 mV.
#[test]
fn a_charge_does_not_mend_a_cell_that_fell_in_the_drawer() {
    let fell = |voltage: &str| {
        let texts = texts(&[], &row("09-25", "rest.voltage", voltage));
        let refused = is_refused(&texts, "found-deeply-discharged");
        (grade(&texts), refused)
    };
    assert_eq!(fell("3.600 V"), (Grade::Sound, false));
    assert_eq!(fell("2.001 V"), (Grade::Sound, false));
    assert_eq!(fell("1.998 V"), (Grade::Retire, true));
    assert_eq!(fell("1.20 V"), (Grade::Retire, true));
}
