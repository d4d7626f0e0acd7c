//! Cells of which no constant knows: wear, thickness of the electrodes and whether they warm
//! themselves are drawn at random (`drawn.csv`, by `make_drawn.py`).
//!
//! Each row is predicted from each other row of the same cell. What was known of the cell is told
//! apart: one test, one with the voltages on its way or with its whole curve, or one with a slow test
//! beside.

use std::collections::BTreeMap;

use rules_core::quantity::Interval;
use rulesets::figures::discharge::{CellModel, Discharge, MOST_LEVELS, Shown, discharge};

use super::aged::{ODD, cell, duty};
use super::discharge::band;
use super::table::{Coverage, Row, Set, number, rows, sets};

/// What is compared of a row, in the order of the tables printed.
const TITLES: [&str; 4] = [
    "charge (parts of it)",
    "voltage half way (V)",
    "voltage near the end (V)",
    "voltage in the first minute (V)",
];

pub(super) const STARTS: [&str; 4] = ["v_at_0p1s_v", "v_at_1s_v", "v_at_10s_v", "v_at_60s_v"];

/// Draws of which rows lay outside when they were first compared: then margins were widened by half as
/// much again, so that these draws confirm nothing any more. Others were drawn afterwards.
const WIDENED: [&str; 7] = [
    "drawn-1", "drawn-2", "drawn-3", "drawn-6", "drawn-7", "drawn-8", "drawn-10",
];

/// To 2 C of its own charge, at any temperature of the table.
fn is_stated(row: &Row) -> bool {
    number(row, "current_a").unwrap() / number(row, "capacity_ah").unwrap() <= 2.0
}

pub(super) fn drawn() -> BTreeMap<String, Vec<Row>> {
    let mut cells: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows("drawn").into_iter().filter(is_stated) {
        let name = format!("{} {}", row["set"], row["age"]);
        if !ODD.iter().any(|odd| name.starts_with(odd)) {
            cells.entry(name).or_default().push(row);
        }
    }
    cells
}

/// The cell as a test shows it, by what was known.
fn known(set: &Set, test: &Row, all: &[Row]) -> Vec<(&'static str, CellModel)> {
    let one = cell(set, test);
    let volts = |column: &str| number(test, column).map(Interval::point);
    let mut noted = one;
    noted.shown[0] = Shown {
        half: volts("v_at_50pct_v"),
        late: volts("v_at_90pct_v"),
        ..Shown::default()
    };
    let is_slow = |row: &&Row| row["c_rate"] == "0.2" && row["cutoff_v"] == test["cutoff_v"];
    let both = all.iter().find(is_slow).map(|slow| {
        let mut both = one;
        both.further[0] = Some(cell(set, slow).capacity);
        ("and a slow test", both)
    });
    let mut curve = noted;
    curve.shown[0].by = came_down(test, all);
    [
        ("one test", one),
        ("voltages noted", noted),
        ("a curve", curve),
    ]
    .into_iter()
    .chain(both)
    .collect()
}

/// The charge that the discharge of a test had given by the higher ends of the table.
fn came_down(test: &Row, all: &[Row]) -> [Option<(Interval, f64)>; MOST_LEVELS] {
    let end = number(test, "cutoff_v").unwrap();
    let alike = |row: &&Row| {
        ["temperature_c", "c_rate"]
            .iter()
            .all(|column| row[*column] == test[*column])
            && number(row, "cutoff_v").unwrap() > end
    };
    let mut by = [None; MOST_LEVELS];
    for (level, row) in by.iter_mut().zip(all.iter().filter(alike)) {
        let charge = Interval::point(number(row, "capacity_ah").unwrap());
        *level = Some((charge, number(row, "cutoff_v").unwrap()));
    }
    by
}

/// The rate that a band is of: the faster of test and use, by the charge of the cell.
fn faster(test: &Row, row: &Row) -> f64 {
    let rate = |row: &Row| number(row, "current_a").unwrap() / number(row, "capacity_ah").unwrap();
    rate(test).max(rate(row))
}

fn compare(found: &mut [Coverage; 4], (group, what): (&str, &str), row: &Row, stated: &Discharge) {
    let of = |column: &str| number(row, column).unwrap();
    let [charges, mids, lates, starts] = found;
    let charge = of("capacity_ah");
    charges.add(group, what, stated.delivered, charge, charge);
    mids.add(group, what, stated.mid, of("v_at_50pct_v"), 1.0);
    lates.add(group, what, stated.late, of("v_at_90pct_v"), 1.0);
    for volts in STARTS.iter().filter_map(|column| number(row, column)) {
        starts.add(group, what, stated.start, volts, 1.0);
    }
}

#[test]
fn cells_that_set_no_constant_lie_within() {
    let sets = sets();
    let mut found: [Coverage; 4] = Default::default();
    for (name, all) in drawn() {
        let set = &sets[&all[0]["set"]];
        for test in &all {
            for (what, cell) in known(set, test, &all) {
                for row in &all {
                    let warmth = number(row, "temperature_c").unwrap();
                    let is_before = WIDENED.contains(&all[0]["age"].as_str());
                    let confirms = if is_before { ", widened" } else { "" };
                    let band = band(set.class, warmth, faster(test, row));
                    let group = format!("{band}, {what}{confirms}");
                    let stated = discharge(&cell, &duty(row));
                    let what = format!(
                        "{name}: {}C at {} degC to {} V from {}C at {} degC to {} V",
                        row["c_rate"],
                        row["temperature_c"],
                        row["cutoff_v"],
                        test["c_rate"],
                        test["temperature_c"],
                        test["cutoff_v"]
                    );
                    compare(&mut found, (&group, &what), row, &stated);
                }
            }
        }
    }
    for (coverage, title) in found.into_iter().zip(TITLES) {
        coverage.finish(&format!("drawn.csv: {title}"), 5_000);
    }
}
