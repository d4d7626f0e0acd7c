//! Rest voltages: those of worn cells against the curves of the classes, and measured rests, which are
//! not part of this repository.
//!
//! `MEASURED=<folder> cargo test -p rules-tests --test figures rests -- --nocapture` reads every CSV of
//! the folder that has the columns `V_first_sample_of_rest`, `rest_s` and `V_end_of_rest`, and compares
//! what the first sample says of the last, and what the last says of the charge: by `Ah_given` since full
//! and the slowest discharge of the same cell.

use std::collections::BTreeMap;

use rules_core::quantity::Interval;
use rulesets::class::{Class, Classes};
use rulesets::figures::margin::{CURVE_WIDTHS, Width, settling};
use rulesets::figures::ocv::{Curve, voltage};
use rulesets::figures::rest;

use super::aged::{KEPT_OUT, ODD};
use super::table::{Coverage, Row, number, parsed, rows, sets};

fn point(value: f64) -> Interval {
    Interval::point(value)
}

/// Down and up, of a class.
fn allowed(width: &Width, class: Class) -> (f64, f64) {
    match class {
        Class::Icr => width.icr,
        Class::Ifr => width.ifr,
        Class::Inr | Class::Imr => width.inr,
    }
}

/// How far curves lie outside of those of the class, down and up, of new and of worn cells that set the
/// widths, and of those kept out.
type Excursions = BTreeMap<(String, usize, bool), (f64, f64)>;

fn excursions() -> Excursions {
    let sets = sets();
    let mut found = Excursions::new();
    for row in rows("curves") {
        let name = format!("{} {}", row["set"], row["age"]);
        if row["age"] != "new" && ODD.contains(&row["set"].as_str()) {
            continue;
        }
        let class = sets[&row["set"]].class;
        let (charge, volts) = (
            number(&row, "charge").unwrap(),
            number(&row, "ocv_v").unwrap(),
        );
        let band = CURVE_WIDTHS
            .iter()
            .position(|width| charge <= width.up_to)
            .unwrap();
        let is_kept_out = KEPT_OUT.iter().any(|part| name.contains(part));
        let key = (format!("{class:?}").to_uppercase(), band, is_kept_out);
        let most = found.entry(key).or_default();
        most.0 = most.0.max(voltage(class, Curve::Lowest, charge) - volts);
        most.1 = most.1.max(volts - voltage(class, Curve::Highest, charge));
        let (below, above) = allowed(&CURVE_WIDTHS[band], class);
        assert!(
            most.0 <= below && most.1 <= above,
            "{name} at {charge}: {most:?}"
        );
    }
    found
}

/// The widths are the largest excursions and a quarter more: of two thirds of the sets and half of the
/// worn cells they would often be too narrow for the others, which is printed.
#[test]
fn rest_curves_of_worn_cells_lie_within() {
    let found = excursions();
    println!(
        "{:<4} {:>6} {:>15} {:>15} {:>15}",
        "", "to", "allowed", "fitted", "kept out"
    );
    for (class, name) in [
        (Class::Icr, "ICR"),
        (Class::Inr, "INR"),
        (Class::Ifr, "IFR"),
    ] {
        for (band, width) in CURVE_WIDTHS.iter().enumerate() {
            let of = |is_kept_out: bool| {
                let key = (name.to_owned(), band, is_kept_out);
                let (down, up) = found.get(&key).copied().unwrap_or_default();
                format!("{down:.3} / {up:.3}")
            };
            let (below, above) = allowed(width, class);
            let allowed = format!("{below:.3} / {above:.3}");
            println!(
                "{name:<4} {:>6} {allowed:>15} {:>15} {:>15}",
                width.up_to,
                of(false),
                of(true)
            );
        }
    }
    assert!(found.len() >= 50, "{}", found.len());
}

/// The tables of a folder.
fn tables(folder: &str) -> Vec<Row> {
    let entries = std::fs::read_dir(folder).expect("the folder is there");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let tables = paths.filter(|path| path.extension().is_some_and(|ext| ext == "csv"));
    tables
        .flat_map(|path| parsed(&std::fs::read_to_string(path).expect("a text")))
        .collect()
}

/// What a cell gave in its slowest discharge, to where the curve of its class is empty.
fn whole(all: &[Row], cell: &str) -> Option<f64> {
    let of = |row: &&Row| {
        row.get("cell").is_some_and(|one| one == cell) && row.contains_key("Ah_to_2.75")
    };
    let slowest = all.iter().filter(of).min_by(|one, other| {
        let current = |row: &Row| number(row, "current_A").unwrap_or(f64::INFINITY);
        current(one).total_cmp(&current(other))
    });
    number(slowest?, "Ah_to_2.75")
}

#[test]
fn measured_rests_lie_within() {
    let Ok(folder) = std::env::var("MEASURED") else {
        println!("no folder is named by MEASURED; nothing was compared");
        return;
    };
    let all = tables(&folder);
    let (mut settles, mut charges) = (Coverage::default(), Coverage::default());
    let mut rises: Vec<f64> = Vec::new();
    for row in all
        .iter()
        .filter(|row| row.contains_key("V_first_sample_of_rest"))
    {
        let of = |column: &str| number(row, column).unwrap();
        let (first, last) = (of("V_first_sample_of_rest"), of("V_end_of_rest"));
        let what = format!("{} after {} Ah", row["cell"], row["Ah_given"]);
        let at_once = settling(Class::Inr, None);
        let stated = Interval::new(first - at_once.falls, first + at_once.rises).unwrap();
        settles.add(
            "first sample, to the end of the rest",
            &what,
            stated,
            last,
            1.0,
        );
        rises.push(last - first);
        let hours = of("rest_s") / 3600.0;
        let Some(whole) = whole(&all, &row["cell"]) else {
            continue;
        };
        let state = rest::charge_state(Classes::of(Class::Inr), point(last), Some(point(hours)));
        let left = 1.0 - of("Ah_given") / whole;
        charges.add("end of the rest", &what, state.charge(), left, 1.0);
    }
    rises.sort_by(f64::total_cmp);
    println!(
        "rises in a rest: {:?} to {:?} V",
        rises.first(),
        rises.last()
    );
    settles.finish("measured rests: how far they still rise (V)", 1);
    charges.finish("measured rests: charge state (parts of the charge)", 1);
}
