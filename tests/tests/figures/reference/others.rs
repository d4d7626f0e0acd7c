//! Open-circuit curves, rest voltages, resistance, parallel cells.

use rules_core::quantity::Interval;
use rulesets::class::Classes;
use rulesets::figures::parallel::{Joined, inrush};
use rulesets::figures::resistance::{Method, at, dc, from_other};
use rulesets::figures::{ocv, rest};

use super::table::{Coverage, number, rows, sets};

fn point(value: f64) -> Interval {
    Interval::point(value)
}

/// A set's own 0 % is not its class's: the charge is taken between the class's voltages, where the
/// set reaches them.
#[test]
fn open_circuit_voltages_and_charges_lie_within() {
    let table = rows("ocv");
    let (mut volts, mut charges) = (Coverage::default(), Coverage::default());
    for (name, set) in sets() {
        let curve: Vec<(f64, f64)> = table
            .iter()
            .filter(|row| row["set"] == name)
            .map(|row| {
                (
                    number(row, "soc_percent").unwrap() / 100.0,
                    number(row, "ocv_v").unwrap(),
                )
            })
            .collect();
        let ends = ocv::table_range(set.class);
        let reaches = |volts: f64| crossing(&curve, volts);
        let (Some(empty), Some(full)) = (reaches(ends.lo()), reaches(ends.hi())) else {
            continue;
        };
        // The ends are found on straight lines between points half a percent apart, where curves
        // are steepest: nearer to them than that nothing is compared.
        for (soc, voltage) in curve
            .iter()
            .filter(|(soc, _)| (empty + 0.005..=full - 0.005).contains(soc))
        {
            let charge = (soc - empty) / (full - empty);
            let group = format!("{:?}", set.class).to_uppercase();
            let what = format!("{name} at {charge:.3}");
            volts.add(
                &group,
                &what,
                ocv::voltages(Classes::of(set.class), point(charge)),
                *voltage,
                1.0,
            );
            let found =
                rest::charge_state(Classes::of(set.class), point(*voltage), Some(point(24.0)));
            charges.add(&group, &what, found.charge(), charge, 1.0);
        }
    }
    volts.finish("ocv.csv: voltage of a charge state (V)", 100);
    charges.finish(
        "ocv.csv: charge state of a rest voltage (parts of the charge)",
        100,
    );
}

/// Where a rising curve passes a voltage, on straight lines between its points.
fn crossing(curve: &[(f64, f64)], volts: f64) -> Option<f64> {
    let between = curve
        .windows(2)
        .find(|pair| (pair[0].1..=pair[1].1).contains(&volts))?;
    let ((from, low), (to, high)) = (between[0], between[1]);
    Some(from + (to - from) * (volts - low) / (high - low))
}

/// A reading taken early says as much as the settled one, and no less: its charge states hold all
/// of those of the reading after a day.
#[test]
fn a_rest_reading_taken_early_says_no_less_than_the_settled_one() {
    let mut found = Coverage::default();
    let sets = sets();
    for row in rows("relaxation") {
        let (Some(set), Some(settled)) = (sets.get(&row["set"]), number(&row, "v_24h_v")) else {
            continue;
        };
        for (column, hours) in [
            ("v_1min_v", 1.0 / 60.0),
            ("v_10min_v", 1.0 / 6.0),
            ("v_30min_v", 0.5),
            ("v_1h_v", 1.0),
            ("v_4h_v", 4.0),
        ] {
            let state = |volts: f64, hours: f64| {
                rest::charge_state(Classes::of(set.class), point(volts), Some(point(hours)))
                    .charge()
            };
            let (early, late) = (
                state(number(&row, column).unwrap(), hours),
                state(settled, 24.0),
            );
            let what = format!("{} {} {column}", row["set"], row["case"]);
            found.add(column, &what, early, late.middle(), 1.0);
        }
    }
    found.finish(
        "relaxation.csv: charge state of an early reading (parts of the charge)",
        100,
    );
}

/// The two-current method of IEC 61960-3 (from memory) against the 10-second resistance of the same
/// row.
#[test]
fn resistance_by_method_and_temperature() {
    let (mut methods, mut warm) = (Coverage::default(), Coverage::default());
    let sets = sets();
    for row in rows("resistance") {
        let Some(set) = sets.get(&row["set"]) else {
            continue;
        };
        let r10 = number(&row, "r_10s_mohm").unwrap() / 1000.0;
        let what = format!(
            "{} {} degC {} %",
            row["set"], row["temperature_c"], row["soc_percent"]
        );
        if row["temperature_c"] == "25" && row["soc_percent"] == "50" {
            let two = number(&row, "r_two_current_mohm").unwrap() / 1000.0;
            methods.add(
                "two currents",
                &what,
                dc(Method::DcTwoCurrent, point(two)),
                r10,
                r10,
            );
        }
        if row["soc_percent"] == "50" {
            let stated = at(
                point(set.r10),
                set.class,
                point(number(&row, "temperature_c").unwrap()),
            );
            warm.add(
                &format!("at {:>3} degC", row["temperature_c"]),
                &what,
                stated,
                r10,
                r10,
            );
        }
    }
    methods.finish(
        "resistance.csv: 10-second resistance from two currents (parts of it)",
        10,
    );
    warm.finish(
        "resistance.csv: resistance at a temperature from that at 25 degC (parts of it)",
        20,
    );
}

/// The current through a pair in the first ten seconds is at most what is stated for the moment of
/// joining.
/// The 10-second resistance at half charge, read at one temperature and used at another.
#[test]
fn a_resistance_read_at_any_temperature_holds_at_any_other() {
    let table = rows("resistance");
    let mut coverage = Coverage::default();
    let half = |row: &&super::table::Row| row["soc_percent"] == "50";
    for (name, set) in sets() {
        let own: Vec<_> = table.iter().filter(|row| row["set"] == name).collect();
        for (read, used) in own.iter().copied().filter(half).flat_map(|read| {
            own.iter()
                .copied()
                .filter(half)
                .map(move |used| (read, used))
        }) {
            let temperature = |row| point(number(row, "temperature_c").unwrap());
            let (ohms, truth) = (
                number(read, "r_10s_mohm").unwrap(),
                number(used, "r_10s_mohm").unwrap(),
            );
            let stated = from_other(point(ohms), temperature(read), temperature(used));
            let group = format!("{:?}", set.class).to_uppercase();
            coverage.add(
                &group,
                &format!("{name} {ohms} {truth}"),
                stated,
                truth,
                truth,
            );
        }
    }
    coverage.finish(
        "resistance.csv: read at one temperature, used at another",
        100,
    );
}

#[test]
fn the_inrush_of_two_cells_is_at_most_what_is_stated() {
    let mut found = Coverage::default();
    let sets = sets();
    for row in rows("parallel") {
        let Some(set) = sets.get(&row["set"]) else {
            continue;
        };
        let cell = |column: &str| Joined {
            rest: point(number(&row, column).unwrap()),
            r10: point(set.r10),
        };
        let stated = inrush(&[cell("ocv_1_v"), cell("ocv_2_v")]);
        let what = format!(
            "{} {} and {} %",
            row["set"], row["soc_1_percent"], row["soc_2_percent"]
        );
        let actual = number(&row, "current_0s_a").unwrap();
        found.add("in the first moment", &what, stated, actual, actual);
        let later = number(&row, "current_10s_a").unwrap().abs();
        assert!(later <= stated.hi(), "{what}: {later} A after 10 s");
    }
    found.finish("parallel.csv: inrush (parts of it)", 20);
}
