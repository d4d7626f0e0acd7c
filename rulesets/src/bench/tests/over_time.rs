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

#[test]
fn a_test_that_is_better_than_an_earlier_one_is_told() {
    let told = |rows: &str| {
        let readings = format!("id,date,what,value,at,to,temperature,method\n{rows}");
        let bench =
            "{ format: 1, bench: b, cells: [{ id: K4 }], tables: { readings: readings.csv } }";
        let text = "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4] }";
        let (_, notes) = plain_of(text, &texts(bench, "", &readings));
        notes.iter().any(|note| note.contains("another cell"))
    };
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
