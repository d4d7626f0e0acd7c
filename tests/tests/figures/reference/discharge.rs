//! Constant current, constant power and series strings.

use std::collections::BTreeMap;

use rules_core::quantity::Interval;
use rulesets::class::{Class, Classes};
use rulesets::figures::discharge::{
    CapacityTest, CellModel, Draw, Duty, MOST_LEVELS, Shown, discharge,
};
use rulesets::figures::string::{self, Member, StringDuty};

use super::table::{Coverage, Row, Set, number, rows, sets};

/// The rates of the capacity tests that rows are predicted from.
const TESTED: [&str; 3] = ["0.2", "0.5", "1.0"];

fn point(value: f64) -> Interval {
    Interval::point(value)
}

/// A row as a capacity test at 25 degC.
pub(super) fn test_of(row: &Row) -> Option<CapacityTest> {
    Some(CapacityTest {
        charge: point(number(row, "capacity_ah")?),
        current: point(number(row, "current_a")?),
        cut_off: point(number(row, "cutoff_v")?),
        temperature: point(25.0),
    })
}

/// The cells that one capacity test of a set each makes known: from every test at 25 degC.
pub(super) fn known(set: &Set, table: &[Row], name: &str) -> Vec<(String, CellModel, f64)> {
    let tests = table.iter().filter(|row| {
        row["set"] == name
            && row["temperature_c"] == "25"
            && TESTED.contains(&row["c_rate"].as_str())
    });
    let cell = |row: &Row| {
        let capacity = test_of(row)?;
        let label = format!("tested at {}C to {} V", row["c_rate"], row["cutoff_v"]);
        Some((
            label,
            CellModel {
                classes: Classes::of(set.class),
                capacity,
                further: [None; 3],
                shown: Default::default(),
                joined: false,
                r10: point(set.r10),
            },
            number(row, "c_rate")?,
        ))
    };
    tests.filter_map(cell).collect()
}

pub(super) fn band(class: Class, temperature: f64, rate: f64) -> String {
    let class = format!("{class:?}").to_uppercase();
    let temperature = match temperature {
        t if t < 0.0 => "below 0 degC",
        t if t < 15.0 => "0 to 15 degC",
        _ => "15 to 40 degC",
    };
    let rate = match rate {
        r if r <= 0.5 => "to 0.5C",
        r if r <= 1.0 => "to 1C",
        r if r <= 2.0 => "to 2C",
        _ => "to 3C",
    };
    format!("{class} {temperature} {rate}")
}

/// Compares one row with what is predicted.
fn compare(
    row: &Row,
    cell: &CellModel,
    draw: Draw,
    what: &str,
    group: &str,
    found: &mut [Coverage; 4],
) {
    let Some(actual) = number(row, "time_s").filter(|time| *time > 0.0) else {
        return;
    };
    let duty = Duty {
        draw,
        start: point(1.0),
        temperature: point(number(row, "temperature_c").unwrap()),
        cut_off: point(number(row, "cutoff_v").unwrap()),
    };
    let stated = discharge(cell, &duty);
    let [times, charges, mids, lates] = found;
    times.add(
        group,
        what,
        stated.run_time,
        actual / 3600.0,
        actual / 3600.0,
    );
    let charge = number(row, "capacity_ah").unwrap();
    charges.add(group, what, stated.delivered, charge, charge);
    mids.add(
        group,
        what,
        stated.mid,
        number(row, "v_at_50pct_v").unwrap(),
        1.0,
    );
    lates.add(
        group,
        what,
        stated.late,
        number(row, "v_at_90pct_v").unwrap(),
        1.0,
    );
}

fn finish(found: [Coverage; 4], table: &str, at_least: usize) {
    let titles = [
        "run time (parts of it)",
        "charge delivered (parts of it)",
        "voltage at half (V)",
        "voltage at nine tenths (V)",
    ];
    for (coverage, title) in found.into_iter().zip(titles) {
        coverage.finish(&format!("{table}: {title}"), at_least);
    }
}

#[test]
fn run_times_at_constant_current_lie_within() {
    let table = rows("constant_current");
    let mut found: [Coverage; 4] = Default::default();
    for (name, set) in sets() {
        let known = known(&set, &table, &name);
        for row in table.iter().filter(|row| row["set"] == name) {
            let (temperature, rate) = (
                number(row, "temperature_c").unwrap(),
                number(row, "c_rate").unwrap(),
            );
            for (test, cell, tested) in &known {
                let faster = if rate > 2.0 * tested {
                    ", faster than 2x the test"
                } else {
                    ""
                };
                let group = format!("{}{faster}", band(set.class, temperature, rate));
                let what = format!(
                    "{name} {temperature} degC {rate}C to {} V, {test}",
                    row["cutoff_v"]
                );
                compare(
                    row,
                    cell,
                    Draw::Current(point(number(row, "current_a").unwrap())),
                    &what,
                    &group,
                    &mut found,
                );
            }
        }
    }
    finish(found, "constant_current.csv", 5000);
}

#[test]
fn run_times_at_constant_power_lie_within() {
    let (table, tests) = (rows("constant_power"), rows("constant_current"));
    let mut found: [Coverage; 4] = Default::default();
    for (name, set) in sets() {
        let known = known(&set, &tests, &name);
        for row in table.iter().filter(|row| row["set"] == name) {
            let (temperature, factor) = (
                number(row, "temperature_c").unwrap(),
                number(row, "power_factor").unwrap(),
            );
            for (test, cell, _) in &known {
                let what = format!(
                    "{name} {temperature} degC {factor} x 1C to {} V, {test}",
                    row["cutoff_v"]
                );
                compare(
                    row,
                    cell,
                    Draw::Power(point(number(row, "power_w").unwrap())),
                    &what,
                    &band(set.class, temperature, factor),
                    &mut found,
                );
            }
        }
    }
    finish(found, "constant_power.csv", 1000);
}

/// What is stated of strings, against what came of them.
#[derive(Default)]
struct OfStrings {
    weak: Coverage,
    strong: Coverage,
    times: Coverage,
    /// Of strings whose weak cell truly ends 0.3 V or more away from the limit: how many are decided,
    /// and how many there are.
    decided: BTreeMap<String, (usize, usize)>,
}

/// The voltage under which a cell is taken to be over-discharged, and how far away from it a string
/// ought to be decided, in V.
fn over_discharged(class: Class) -> f64 {
    if class == Class::Ifr { 2.0 } else { 2.5 }
}
const AWAY: f64 = 0.3;

/// A cell with a part of another's electrode area: less capacity and more resistance in that ratio.
fn part_of(cell: &CellModel, part: f64) -> CellModel {
    let capacity = CapacityTest {
        charge: cell.capacity.charge * point(part),
        current: cell.capacity.current * point(part),
        ..cell.capacity
    };
    CellModel {
        capacity,
        further: cell.further.map(|test| {
            test.map(|test| CapacityTest {
                charge: test.charge * point(part),
                current: test.current * point(part),
                ..test
            })
        }),
        shown: cell.shown.map(|shown| Shown {
            by: shown
                .by
                .map(|level| level.map(|(charge, volts)| (charge * point(part), volts))),
            ..shown
        }),
        r10: cell.r10 / point(part),
        ..*cell
    }
}

/// The cells of a row's string, the weak one first.
fn members(row: &Row, cell: &CellModel) -> Vec<Member> {
    let count = number(row, "cells_in_series").unwrap();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "two to four cells"
    )]
    let mut members = vec![
        Member {
            cell: *cell,
            start: point(1.0)
        };
        count as usize
    ];
    members[0].cell = part_of(cell, number(row, "weak_fraction").unwrap());
    members
}

impl OfStrings {
    fn compare(&mut self, row: &Row, cell: &CellModel, (group, what): (&str, &str), tested: &str) {
        let duty = StringDuty {
            draw: Draw::Current(point(number(row, "current_a").unwrap())),
            temperature: point(25.0),
            cut_off: point(number(row, "string_cutoff_v").unwrap()),
        };
        let stated = string::discharge(&members(row, cell), &duty).unwrap();
        let (weak, strong) = (
            number(row, "weak_cell_v").unwrap(),
            number(row, "strong_cell_v").unwrap(),
        );
        self.weak.add(group, what, stated.cells[0], weak, 1.0);
        self.decide(
            cell.classes.iter().next().unwrap(),
            stated.cells[0],
            weak,
            tested,
        );
        self.strong.add(group, what, stated.cells[1], strong, 1.0);
        let hours = number(row, "time_s").unwrap() / 3600.0;
        self.times.add(group, what, stated.run_time, hours, hours);
    }

    fn decide(&mut self, class: Class, stated: Interval, weak: f64, tested: &str) {
        let limit = over_discharged(class);
        if (weak - limit).abs() < AWAY {
            return;
        }
        let group = format!("{class:?}, {tested}");
        let of = self.decided.entry(group).or_default();
        of.1 += 1;
        of.0 += usize::from(stated.hi() < limit || stated.lo() > limit);
    }

    fn finish(self) {
        println!("\nstrings decided, of those that end 0.3 V away from the limit or more");
        for (group, (decided, all)) in &self.decided {
            println!("{group:<44} {decided:>5} of {all:>5}");
        }
        self.weak.finish(
            "series.csv: voltage of the weak cell when the string ends (V)",
            300,
        );
        self.strong
            .finish("series.csv: voltage of the others (V)", 300);
        self.times
            .finish("series.csv: time until the string ends (parts of it)", 300);
    }
}

/// A cell as one test to 3.0 V shows it, and with one at the rate of the use beside.
fn tested_for(
    row: &Row,
    known: &[(String, CellModel, f64)],
) -> Vec<(String, CellModel, &'static str)> {
    let used = number(row, "c_rate").unwrap();
    let to_3_v = || known.iter().filter(|(label, ..)| label.contains("3.0 V"));
    let is_like = |rate: f64| (rate - used).abs() < 1e-9;
    let like = to_3_v().find(|(.., rate)| is_like(*rate));
    let alone = to_3_v().map(|(label, cell, rate)| {
        let tested = if is_like(*rate) {
            "at the rate of the use"
        } else {
            "at another rate"
        };
        (label.clone(), *cell, tested)
    });
    let both = to_3_v()
        .filter(|(.., rate)| !is_like(*rate))
        .filter_map(|(label, cell, _)| {
            let (_, other, _) = like?;
            let cell = CellModel {
                further: [Some(other.capacity), None, None],
                ..*cell
            };
            Some((
                format!("{label} and as used"),
                cell,
                "at another rate and that of the use",
            ))
        });
    alone.chain(both).collect()
}

/// The cell as a test at the rate of the use shows it, with the voltages on its way and the charge
/// that it had given by others than its end.
fn noted_for(
    row: &Row,
    (tests, levels): (&[Row], &[Row]),
    set: &Set,
    (ends, tested): (&[&str], &'static str),
) -> Option<(String, CellModel, &'static str)> {
    let of = |end: &&str| {
        tests.iter().find(|test| {
            test["set"] == row["set"]
                && test["temperature_c"] == "25"
                && test["cutoff_v"] == **end
                && number(test, "c_rate") == number(row, "c_rate")
        })
    };
    let runs: Vec<&Row> = ends.iter().map(of).collect::<Option<_>>()?;
    let [test, on_the_way @ ..] = runs.as_slice() else {
        return None;
    };
    let volts = |column: &str| number(test, column).map(point);
    let mut cell = CellModel {
        classes: Classes::of(set.class),
        capacity: test_of(test)?,
        further: [None; 3],
        shown: Default::default(),
        joined: false,
        r10: point(set.r10),
    };
    let higher = levels.iter().filter(|level| {
        tested.contains(CURVE)
            && level["set"] == row["set"]
            && number(level, "c_rate") == number(row, "c_rate")
    });
    let on_the_way = on_the_way.iter().map(|run| (*run, "cutoff_v"));
    let mut by = [None; MOST_LEVELS];
    for (level, (run, column)) in by
        .iter_mut()
        .zip(on_the_way.chain(higher.map(|run| (run, "level_v"))))
    {
        *level = Some((point(number(run, "capacity_ah")?), number(run, column)?));
    }
    cell.shown[0] = Shown {
        half: volts("v_at_50pct_v"),
        late: volts("v_at_90pct_v"),
        by,
        ..Shown::default()
    };
    Some((format!("{tested} {ends:?}"), cell, tested))
}

/// What is said of a test of which the charge by all voltages above its end is known.
const CURVE: &str = "with its curve";

/// What is noted of one discharge as the string is used: ends down to the voltage that matters.
fn noted(class: Class) -> [(&'static [&'static str], &'static str); 4] {
    let (limit, all): (&[&str], &[&str]) = if class == Class::Ifr {
        (&["2.0"], &["2.0", "2.5", "2.75", "3.0"])
    } else {
        (&["2.5"], &["2.5", "2.75", "3.0"])
    };
    [
        (&["3.0"], "at the rate of the use, voltages noted"),
        (&["3.0"], "at the rate of the use, with its curve"),
        (limit, "the same, to the limit"),
        (all, "the same, with its curve"),
    ]
}

#[test]
fn strings_of_unequal_cells_lie_within() {
    let (table, tests, levels) = (rows("series"), rows("constant_current"), rows("levels"));
    let mut found = OfStrings::default();
    for (name, set) in sets() {
        let known = known(&set, &tests, &name);
        let class = format!("{:?}", set.class).to_uppercase();
        for row in table
            .iter()
            .filter(|row| row["set"] == name && row["meaning"] == "at string cut-off")
        {
            let noted = noted(set.class).map(|told| noted_for(row, (&tests, &levels), &set, told));
            for (test, cell, tested) in tested_for(row, &known)
                .into_iter()
                .chain(noted.into_iter().flatten())
            {
                let group = format!("{class} {} in series", row["cells_in_series"]);
                let what = format!(
                    "{name} weak {} {}C to {} V, {test}",
                    row["weak_fraction"], row["c_rate"], row["string_cutoff_v"]
                );
                found.compare(row, &cell, (&group, &what), tested);
            }
        }
    }
    found.finish();
}
