//! What readings over time say of a cell.

use super::{plain_of, texts};

fn drift_of(rows: &str) -> Option<String> {
    let readings = format!("id,date,what,value,after\n{rows}");
    let bench = "{ format: 1, bench: b, cells: [{ id: K4 }], tables: { readings: readings.csv } }";
    let text = "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4] }";
    let (own, _) = plain_of(text, &texts(bench, "", &readings));
    let line = own
        .lines()
        .find_map(|line| line.trim().strip_prefix("drift: "));
    line.map(str::to_owned)
}

#[test]
fn a_fall_is_of_one_charge_and_from_a_rest_of_a_day_on() {
    let rest = |day: &str, voltage: &str, after: &str| {
        format!("K4,2026-{day},rest.voltage,{voltage} V,{after}\n")
    };
    let moved = |day: &str, what: &str| format!("K4,2026-{day},{what},,\n");
    let watched = "{ from: 4.15 V, to: 4.14 V, over: 13..15 d }";
    let (first, last) = (rest("03-02", "4.15", "24 h"), rest("03-16", "4.14", ""));
    let both = format!("{first}{last}");
    assert_eq!(drift_of(&both).as_deref(), Some(watched));
    assert_eq!(
        drift_of(&format!("{last}{first}")).as_deref(),
        Some(watched),
        "in any order"
    );
    let early = rest("03-02", "4.15", "23 h");
    assert_eq!(
        drift_of(&format!("{early}{last}")),
        None,
        "not rested a day"
    );
    let unsaid = rest("03-02", "4.15", "");
    assert_eq!(
        drift_of(&format!("{unsaid}{last}")),
        None,
        "a rest that nothing tells"
    );
    for (day, wanted) in [
        ("02-28", Some(watched)),
        ("03-01", None),
        ("03-02", None),
        ("03-17", None),
    ] {
        let rows = format!("{unsaid}{last}{}", moved(day, "charged"));
        assert_eq!(drift_of(&rows).as_deref(), wanted, "charged on {day}");
    }
    for (day, wanted) in [
        ("03-01", Some(watched)),
        ("03-02", None),
        ("03-09", None),
        ("03-16", None),
        ("03-17", Some(watched)),
    ] {
        for what in ["charged", "discharged"] {
            let rows = format!("{both}{}", moved(day, what));
            assert_eq!(drift_of(&rows).as_deref(), wanted, "{what} on {day}");
        }
        let rows = format!("{both}K4,2026-{day},capacity.value,2 Ah,\n");
        assert_eq!(drift_of(&rows).as_deref(), wanted, "tested on {day}");
    }
    let middle = rest("03-09", "4.149", "");
    assert_eq!(
        drift_of(&format!("{both}{middle}")).as_deref(),
        Some(watched),
        "the longest watch"
    );
    let after = format!("{}{}", moved("03-20", "charged"), rest("03-22", "4.19", ""));
    assert_eq!(
        drift_of(&format!("{both}{after}")).as_deref(),
        Some(watched),
        "the newest watch"
    );
}

/// What is told of tests that are better than an earlier one.
fn better(rows: &str) -> Option<String> {
    let readings = format!("id,date,what,value,at,to,temperature,method\n{rows}");
    let bench = "{ format: 1, bench: b, cells: [{ id: K4 }], tables: { readings: readings.csv } }";
    let text = "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4] }";
    let (_, notes) = plain_of(text, &texts(bench, "", &readings));
    let mut notes = notes.into_iter();
    notes.find(|note| note.contains("another cell"))
}

/// Of what, a month and what was read: rows of 2026.
fn rows(what: &str, values: &[&str]) -> String {
    let rows = values.iter().enumerate();
    let rows = rows.map(|(at, value)| format!("K4,2026-{:02}-01,{what},{value}\n", at + 1));
    rows.collect()
}

/// The bounds are those of LANGUAGE.md, section 10: less than 0.9 of it, 0.97 where both tell a
/// temperature, is surely more; 2000 mAh reaches to 2000.5 mAh.
#[test]
fn every_test_is_compared_with_every_earlier_one() {
    let capacities = |values: &[&str]| better(&rows("capacity.value", values));
    // The one in the middle, though the newest is as the first.
    let middle = |middle: &str| capacities(&["2000 mAh,,,,", middle, "2000 mAh,,,,"]);
    assert_eq!(middle("2223 mAh,,,,"), None);
    let told = middle("2224 mAh,,,,").expect("0.9 of 2223.5 mAh is 2001.15 mAh");
    assert!(told.contains("2224 mAh of 2026-02-01 is more than the 2000 mAh of 2026-01-01"));
    // Each is within the scatter of the one before it, and not of the first.
    let creeping = ["2000 mAh,,,,", "2150 mAh,,,,", "2224 mAh,,,,"];
    assert!(capacities(&creeping).is_some());
    assert_eq!(capacities(&creeping[1..]), None);
    // A gentler test between does not hide the first, nor does one that was taken otherwise.
    let between = ["2000 mAh,1 A,,,", "2600 mAh,0.2 A,,,", "2224 mAh,1 A,,,"];
    let told = capacities(&between).expect("by the first");
    assert!(told.contains("2224 mAh of 2026-03-01 is more than the 2000 mAh of 2026-01-01"));
    assert_eq!(capacities(&between[..2]), None);
    // Of several the newest is told, with the worst that it beats, and the others are counted.
    let several = [
        "2000 mAh,,,,",
        "1900 mAh,,,,",
        "2300 mAh,,,,",
        "2400 mAh,,,,",
        "1900 mAh,,,,",
    ];
    let told = capacities(&several).expect("two are better");
    assert!(told.contains("2400 mAh of 2026-04-01 is more than the 1900 mAh of 2026-02-01"));
    assert!(told.ends_with("So is 1 test before it."), "{told}");
}

/// Below 0.8 of it by no other method: 100 mΩ begins at 99.5 mΩ, of which 0.8 is 79.6 mΩ, and 79 mΩ
/// ends at 79.5 mΩ.
#[test]
fn every_resistance_is_compared_with_every_earlier_one() {
    let resistances = |values: &[&str]| better(&rows("resistance.value", values));
    let between = |middle: &str| resistances(&["100 mΩ,,,,dc-10s", middle, "100 mΩ,,,,dc-10s"]);
    assert!(between("79 mΩ,,,,dc-10s").is_some());
    assert_eq!(between("80 mΩ,,,,dc-10s"), None);
    assert_eq!(between("50 mΩ,,,,ac-1khz"), None);
    assert!(
        between("79 mΩ,,,,").is_some(),
        "by a method that nothing tells"
    );
    let first = ["100 mΩ,,,,dc-10s", "50 mΩ,,,,ac-1khz", "79 mΩ,,,,dc-10s"];
    assert!(resistances(&first).is_some());
}

#[test]
fn a_test_that_is_better_than_an_earlier_one_is_told() {
    let told = |rows: &str| better(rows).is_some();
    let pair = |what: &str, first: &str, second: &str| {
        told(&format!(
            "K4,2026-03-01,{what},{first}\nK4,2026-09-01,{what},{second}\n"
        ))
    };
    // 0.9 of 2222.4 is 2000.16, of 2222.6 less half a digit 2000.2: below and above 2000.5.
    assert!(!pair("capacity.value", "2000 mAh,,,,", "2223 mAh,,,,"));
    assert!(pair("capacity.value", "2000 mAh,,,,", "2224 mAh,,,,"));
    assert!(
        !pair("capacity.value", "2224 mAh,,,,", "2000 mAh,,,,"),
        "cells wear"
    );
    // Both at one temperature: 0.97.
    assert!(!pair(
        "capacity.value",
        "2000 mAh,,,23 degC,",
        "2062 mAh,,,23 degC,"
    ));
    assert!(pair(
        "capacity.value",
        "2000 mAh,,,23 degC,",
        "2064 mAh,,,23 degC,"
    ));
    // A gentler test gives more.
    assert!(!pair(
        "capacity.value",
        "2000 mAh,1 A,,,",
        "2300 mAh,0.2 A,,,"
    ));
    assert!(!pair(
        "capacity.value",
        "2000 mAh,,3.0 V,,",
        "2300 mAh,,2.5 V,,"
    ));
    assert!(!pair(
        "capacity.value",
        "2000 mAh,,,5 degC,",
        "2300 mAh,,,23 degC,"
    ));
    assert!(pair(
        "resistance.value",
        "100 mΩ,,,,dc-10s",
        "79 mΩ,,,,dc-10s"
    ));
    assert!(!pair(
        "resistance.value",
        "100 mΩ,,,,dc-10s",
        "80 mΩ,,,,dc-10s"
    ));
    assert!(
        !pair("resistance.value", "100 mΩ,,,,dc-10s", "50 mΩ,,,,ac-1khz"),
        "another method"
    );
}
