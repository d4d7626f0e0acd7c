//! A logged discharge (`log.csv`, by `make_log.py`) is reduced to facts that hold what
//! `constant_current.csv` says of the same set, rate and temperature: that table was made by another
//! script, with its own steps. Both are model output, so that this shows arithmetic alone.

use rules_core::quantity::{Interval, Kind, Nature, Quantity};
use rulesets::{Benches, Plan, Syntax, Texts, shipped_rules};
use serde_json::Value;

use super::table::{Row, number, rows, sets};

const LOG: &str = include_str!("../../../reference/discharge/log.csv");

/// A perfect meter, of which the digits are left, and a hobby one.
const METERS: [&str; 2] = [
    "{ voltage: ± 0 V, current: ± 0 A }",
    "{ voltage: ± (0.5 % + 5 mV), current: ± 1 % }",
];

/// The cell of the plain proposal.
fn plain(meters: &str) -> Value {
    let bench = format!(
        "{{ format: 1, bench: b, meters: {meters}, cells: [{{ id: K1, capacity: {{ curve: log.csv }} }}] }}"
    );
    let library = Texts::of([("bench.yaml", bench.as_str()), ("log.csv", LOG)]);
    let plan = "{ format: 1, bench: ./bench.yaml, arrangement: 1S1P, cells: [K1] }";
    let plan = Plan::read(
        "plan",
        plan.into(),
        Syntax::Yaml,
        &mut Benches::of(&library),
    );
    let rules = shipped_rules().expect("rules");
    let plan = plan.expect("a plan");
    plan.proposal(Some(&rules)).expect("a proposal");
    plan.plain_value(&rules).expect("a value")["cells"][0].clone()
}

fn value(cell: &Value, path: [&str; 2], kind: Kind) -> Interval {
    let text = cell[path[0]][path[1]].as_str().expect(path[1]);
    let read = Quantity::read(text, kind, Nature::Stated, None);
    read.expect("a quantity").range()
}

fn to(end: &str) -> Row {
    let is_it = |row: &Row| {
        let of = ["set", "temperature_c", "c_rate", "cutoff_v"].map(|column| row[column].as_str());
        of == ["Chen2020", "25", "1.0", end]
    };
    rows("constant_current")
        .into_iter()
        .find(is_it)
        .expect("a row")
}

#[test]
fn a_log_shows_what_the_table_of_the_same_discharge_says() {
    let whole = to("2.5");
    for meters in METERS {
        let cell = plain(meters);
        let mut found = Vec::new();
        let mut holds = |key: &str, kind: Kind, actual: f64| {
            let stated = value(&cell, ["capacity", key], kind);
            assert!(
                stated.contains(actual),
                "{meters}: {key} {stated:?} {actual}"
            );
            found.push(format!(
                "{key} {:.4}..{:.4} ({actual})",
                stated.lo(),
                stated.hi()
            ));
        };
        // The last row is a fiftieth of a volt below the end of the table.
        let charge = number(&whole, "capacity_ah").expect("a charge");
        holds(
            "half",
            Kind::Voltage,
            number(&whole, "v_at_50pct_v").expect("volts"),
        );
        holds(
            "late",
            Kind::Voltage,
            number(&whole, "v_at_90pct_v").expect("volts"),
        );
        for (key, end) in [("by_3000mv", "3.0"), ("by_2750mv", "2.75")] {
            holds(
                key,
                Kind::Charge,
                number(&to(end), "capacity_ah").expect("a charge"),
            );
        }
        let stated = value(&cell, ["capacity", "value"], Kind::Charge);
        assert!(
            (stated.middle() / charge - 1.0).abs() < 0.004,
            "{stated:?} {charge}"
        );
        assert!(stated.width() / charge < 0.025, "{stated:?}");
        let r10 = value(&cell, ["resistance", "value"], Kind::Resistance);
        let at_half = r10 * Interval::new(0.65, 1.06).expect("a range");
        assert!(at_half.contains(sets()["Chen2020"].r10), "{r10:?}");
        println!(
            "{meters}: {}; value {stated:?}; R10 {r10:?}",
            found.join(", ")
        );
    }
}
