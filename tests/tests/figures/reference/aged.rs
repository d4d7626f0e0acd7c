//! Worn cells: less lithium and active material, slower electrolyte and particles, more resistance.
//!
//! Each row of `aged.csv` is predicted from each other row of the same cell. Half of the worn cells
//! and a third of the sets set no constant; they are told apart.

use std::collections::BTreeMap;

use rules_core::quantity::Interval;
use rulesets::class::Classes;
use rulesets::figures::discharge::{CapacityTest, CellModel, Draw, Duty, bounded, discharge};

use rulesets::figures::margin::{Mark, Run, shown_voltage};

use super::table::{Coverage, Row, Set, number, rows, sets};

/// Sets, and states of wear, of which no row set a constant.
pub(super) const KEPT_OUT: [&str; 6] = [
    "Chen2020",
    "Marquis2019",
    "Mohtat2020",
    "Prada2013",
    "worn-3",
    "worn-4",
];

/// A set whose resistance at full charge, when it is worn, is several times that at half: its curves
/// and voltages are outside what is stated.
pub(super) const ODD: [&str; 1] = ["Ramadass2004"];

fn point(value: f64) -> Interval {
    Interval::point(value)
}

pub(super) fn cell(set: &Set, row: &Row) -> CellModel {
    let of = |column: &str| number(row, column).unwrap();
    CellModel {
        classes: Classes::of(set.class),
        capacity: CapacityTest {
            charge: point(of("capacity_ah")),
            current: point(of("current_a")),
            cut_off: point(of("cutoff_v")),
            temperature: point(of("temperature_c")),
        },
        further: [None; 3],
        shown: Default::default(),
        joined: false,
        r10: point(of("r10_mohm") / 1000.0),
    }
}

pub(super) fn duty(row: &Row) -> Duty {
    let of = |column: &str| number(row, column).unwrap();
    Duty {
        draw: Draw::Current(point(of("current_a"))),
        start: point(1.0),
        temperature: point(of("temperature_c")),
        cut_off: point(of("cutoff_v")),
    }
}

/// The rows of a cell at rates and temperatures that are stated: to 2 C of its own charge, and from
/// 15 degC on.
pub(super) fn within_range(row: &Row) -> bool {
    let of = |column: &str| number(row, column).unwrap();
    of("current_a") / of("capacity_ah") <= 2.0 && of("temperature_c") >= 15.0
}

#[test]
fn charge_from_a_test_of_the_same_worn_cell() {
    let sets = sets();
    let mut cells: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows("aged").into_iter().filter(within_range) {
        let key = format!("{} {}", row["set"], row["age"]);
        cells.entry(key).or_default().push(row);
    }
    let mut found = Coverage::default();
    for (name, rows) in &cells {
        if ODD.iter().any(|odd| name.starts_with(odd)) {
            continue;
        }
        let set = &sets[&rows[0]["set"]];
        let apart = KEPT_OUT.iter().any(|part| name.contains(part));
        let class = format!("{:?}", set.class).to_uppercase();
        let group = format!("{class} {}", if apart { "kept out" } else { "fitted" });
        for test in rows {
            for row in rows {
                let charge = number(row, "capacity_ah").unwrap();
                let stated = discharge(&cell(set, test), &duty(row)).delivered;
                let what = format!("{name}: {test:?} to {row:?}");
                found.add(&group, &what, stated, charge, charge);
            }
        }
    }
    found.finish("aged.csv: charge from any other test (parts of it)", 5_000);
}

/// A charge on the way of a test is taken to be known to so much.
fn on_the_way() -> Interval {
    Interval::new(0.97, 1.03).unwrap()
}

/// A discharge that had been ended half way or near its end would have given that part, to the
/// voltage that it showed then: ends far above those of the table.
fn to_higher_ends(row: &Row) -> Vec<Row> {
    [
        ("v_at_50pct_v", 0.5),
        ("v_at_90pct_v", 0.9),
        ("cutoff_v", 1.0),
    ]
    .iter()
    .filter_map(|(column, part)| {
        let mut higher = row.clone();
        let charge = number(row, "capacity_ah")? * part;
        higher.insert("cutoff_v".into(), number(row, column)?.to_string());
        higher.insert("capacity_ah".into(), charge.to_string());
        higher.insert("part".into(), part.to_string());
        Some(higher)
    })
    .collect()
}

/// The discharges of each cell, worn ones and those of the tables, that have a value in a column.
fn cells_with(sets: &BTreeMap<String, Set>, column: &str) -> BTreeMap<String, Vec<Row>> {
    let mut cells: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows("aged").into_iter().filter(within_range) {
        let key = format!("{} {}", row["set"], row["age"]);
        cells.entry(key).or_default().push(row);
    }
    for mut row in rows("constant_current") {
        let r10 = sets[&row["set"]].r10 * 1000.0;
        row.insert("r10_mohm".into(), r10.to_string());
        if number(&row, column).is_some() && within_range(&row) {
            let key = format!("{} of the tables", row["set"]);
            cells.entry(key).or_default().push(row);
        }
    }
    cells
}

#[test]
fn charge_to_any_end_from_a_test_of_the_same_cell() {
    let sets = sets();
    let cells = cells_with(&sets, "capacity_ah");
    let mut found = Coverage::default();
    for (name, rows) in &cells {
        if ODD.iter().any(|odd| name.starts_with(odd)) {
            continue;
        }
        let set = &sets[&rows[0]["set"]];
        let class = format!("{:?}", set.class).to_uppercase();
        let all: Vec<Row> = rows.iter().flat_map(to_higher_ends).collect();
        for test in &all {
            for row in &all {
                let end = number(row, "cutoff_v").unwrap();
                let group = format!(
                    "{class} to {}",
                    if end > 3.3 {
                        "above 3.3 V"
                    } else {
                        "3.3 V or less"
                    }
                );
                let charge = number(row, "capacity_ah").unwrap();
                let mut cell = cell(set, test);
                if test["part"] != "1" {
                    cell.capacity.charge = cell.capacity.charge * on_the_way();
                }
                let stated = bounded(&cell, &duty(row));
                let what = if stated.contains(charge) {
                    String::new()
                } else {
                    format!("{name}: {test:?} to {row:?}")
                };
                found.add(&group, &what, stated, charge, charge);
            }
        }
    }
    found.finish(
        "charge that tests alone bound, to ends half way and near the end (parts of it)",
        5_000,
    );
}

/// What a test showed half way and near its end bounds what another discharge of the cell shows
/// there, without a model; both voltages of each row, from those of each other row.
#[test]
fn voltages_from_those_of_a_test_of_the_same_cell() {
    let sets = sets();
    let cells = cells_with(&sets, "v_at_50pct_v");
    let run = |row: &Row| {
        let of = |column: &str| point(number(row, column).unwrap());
        Run {
            current: of("current_a"),
            cut_off: of("cutoff_v"),
            temperature: of("temperature_c"),
        }
    };
    let mut found = [Coverage::default(), Coverage::default()];
    for (name, rows) in &cells {
        if ODD.iter().any(|odd| name.starts_with(odd)) {
            continue;
        }
        let set = &sets[&rows[0]["set"]];
        let apart = KEPT_OUT.iter().any(|part| name.contains(part));
        let class = format!("{:?}", set.class).to_uppercase();
        let group = format!("{class} {}", if apart { "kept out" } else { "fitted" });
        for test in rows {
            let of = |column: &str| point(number(test, column).unwrap());
            let tested = (&run(test), of("capacity_ah"));
            let r10 = point(number(test, "r10_mohm").unwrap() / 1000.0);
            for row in rows {
                for ((mark, column), found) in
                    [(Mark::Mid, "v_at_50pct_v"), (Mark::Late, "v_at_90pct_v")]
                        .into_iter()
                        .zip(&mut found)
                {
                    let (Some(shown), Some(truth)) = (number(test, column), number(row, column))
                    else {
                        continue;
                    };
                    let stated =
                        shown_voltage((set.class, mark), r10, tested, point(shown), &run(row));
                    if stated.is_bounded() {
                        let what = format!("{name}: {test:?} to {row:?}");
                        found.add(&group, &what, stated, truth, 1.0);
                    }
                }
            }
        }
    }
    let [mid, late] = found;
    mid.finish("voltage half way from that of a test (V)", 5_000);
    late.finish("voltage near the end from that of a test (V)", 5_000);
}
