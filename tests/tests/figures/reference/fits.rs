//! What each margin of the model would be if it were set on part of the rows, and whether it would
//! hold the others.
//!
//! `cargo test --release -p rules-tests --test figures fits -- --nocapture` prints, for each margin and
//! class, what the rows take up of it, as a part of what it allows, with all other margins as they are:
//! the most among rows of two thirds of the sets and half of the worn cells, that and half as much
//! again (the rule by which margins are widened), and how many of the rows kept out, and of cells
//! drawn at random, lie outside of a margin so set.

use std::collections::BTreeMap;

use rules_core::quantity::Interval;
use rulesets::class::Class;
use rulesets::figures::discharge::taken_up::{Came, taken_up};
use rulesets::figures::discharge::{CellModel, Draw, Duty};

use super::aged::{KEPT_OUT, ODD, cell, duty, within_range};
use super::discharge::known;
use super::drawn::{STARTS, drawn};
use super::table::{Row, Set, number, rows, sets};

/// A margin is what the rows that set it take up, and half as much again.
const TO_SPARE: f64 = 1.5;

/// Which rows: those that may set a margin, those kept out of it, and cells drawn at random.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Fitted,
    KeptOut,
    Drawn,
}

/// What rows take up of one margin.
#[derive(Default)]
struct Taken {
    /// Each row's share of the margin.
    shares: Vec<f64>,
    worst: (f64, String),
}

impl Taken {
    fn add(&mut self, share: f64, what: &dyn Fn() -> String) {
        self.shares.push(share);
        if share > self.worst.0 {
            self.worst = (share, what());
        }
    }

    fn beyond(&self, value: f64) -> usize {
        let beyond = |share: &&f64| **share > value;
        self.shares.iter().filter(beyond).count()
    }
}

#[derive(Default)]
struct Fits(BTreeMap<(String, &'static str), BTreeMap<Part, Taken>>);

fn part_of(name: &str) -> Part {
    if KEPT_OUT.iter().any(|part| name.contains(part)) {
        Part::KeptOut
    } else {
        Part::Fitted
    }
}

fn came(row: &Row) -> Came {
    let of = |column: &str| row.get(column).and_then(|text| text.parse().ok());
    Came {
        delivered: of("capacity_ah").filter(|charge: &f64| *charge > 0.0),
        mid: of("v_at_50pct_v"),
        late: of("v_at_90pct_v"),
        starts: STARTS.iter().filter_map(|column| of(column)).collect(),
    }
}

impl Fits {
    fn add(
        &mut self,
        class: Class,
        part: Part,
        (cell, duty, row): (&CellModel, &Duty, &Row),
        what: &str,
    ) {
        let came = came(row);
        if came.delivered.is_none() {
            return;
        }
        for share in taken_up(class, cell, duty, &came) {
            let key = (format!("{class:?}").to_uppercase(), share.margin);
            let what = || format!("{what}: {:.4} of {:.4}", share.needed, share.allowed);
            self.0
                .entry(key)
                .or_default()
                .entry(part)
                .or_default()
                .add(share.taken(), &what);
        }
    }

    /// New cells, at constant current and at constant power.
    fn add_tables(&mut self, sets: &BTreeMap<String, Set>) {
        let tests = rows("constant_current");
        let draws = [
            (
                "constant_current",
                "current_a",
                Draw::Current as fn(Interval) -> Draw,
            ),
            ("constant_power", "power_w", Draw::Power),
        ];
        for (table, column, draw) in draws {
            for row in rows(table) {
                let name = &row["set"];
                let set = &sets[name];
                let point = |column: &str| Interval::point(number(&row, column).unwrap());
                let duty = Duty {
                    draw: draw(point(column)),
                    start: Interval::point(1.0),
                    temperature: point("temperature_c"),
                    cut_off: point("cutoff_v"),
                };
                for (test, cell, _) in known(set, &tests, name) {
                    let what = format!("{} {}", told(&row), test);
                    self.add(set.class, part_of(name), (&cell, &duty, &row), &what);
                }
            }
        }
    }

    /// Cells of a table, each row from each other of its cell.
    fn add_cells(
        &mut self,
        sets: &BTreeMap<String, Set>,
        cells: &BTreeMap<String, Vec<Row>>,
        part: fn(&str) -> Part,
    ) {
        for (name, all) in cells {
            let set = &sets[&all[0]["set"]];
            for test in all {
                let cell = cell(set, test);
                for row in all {
                    let what = format!("{} from {}", told(row), told(test));
                    self.add(set.class, part(name), (&cell, &duty(row), row), &what);
                }
            }
        }
    }

    fn print(&self) {
        println!(
            "{:<4} {:<34} {:>7} {:>7} | {:>6} {:>7} {:>6} | {:>6} {:>7} {:>6}",
            "",
            "margin; parts of what is allowed",
            "fitted",
            "by rule",
            "kept",
            "outside",
            "worst",
            "drawn",
            "outside",
            "worst"
        );
        for ((class, margin), parts) in &self.0 {
            let fitted = parts.get(&Part::Fitted).map_or(0.0, |taken| taken.worst.0);
            let rule = fitted * TO_SPARE;
            print!("{class:<4} {margin:<34} {fitted:>7.3} {rule:>7.3}");
            for part in [Part::KeptOut, Part::Drawn] {
                match parts.get(&part) {
                    Some(taken) => print!(
                        " | {:>6} {:>7} {:>6.3}",
                        taken.shares.len(),
                        taken.beyond(rule),
                        taken.worst.0
                    ),
                    None => print!(" | {:>6} {:>7} {:>6}", 0, 0, ""),
                }
            }
            println!();
            for taken in parts.values() {
                println!("       {}", taken.worst.1);
            }
        }
    }
}

fn told(row: &Row) -> String {
    let age = row.get("age").map_or("", String::as_str);
    let fast = row.get("c_rate").or(row.get("power_factor")).unwrap();
    format!(
        "{} {age} {fast}C {} degC {} V",
        row["set"], row["temperature_c"], row["cutoff_v"]
    )
}

fn by_cell(rows: impl Iterator<Item = Row>) -> BTreeMap<String, Vec<Row>> {
    let mut cells: BTreeMap<String, Vec<Row>> = BTreeMap::new();
    for row in rows.filter(|row| !ODD.contains(&row["set"].as_str())) {
        let name = format!("{} {}", row["set"], row["age"]);
        cells.entry(name).or_default().push(row);
    }
    cells
}

#[test]
fn margins_set_on_two_thirds_of_the_sets() {
    let sets = sets();
    let mut fits = Fits::default();
    fits.add_tables(&sets);
    let aged = by_cell(rows("aged").into_iter().filter(within_range));
    fits.add_cells(&sets, &aged, part_of);
    fits.add_cells(&sets, &drawn(), |_| Part::Drawn);
    fits.print();
    // No row takes up more than there is of any margin as it is.
    let over: Vec<_> = fits
        .0
        .iter()
        .flat_map(|(key, parts)| parts.values().map(move |taken| (key, &taken.worst)))
        .filter(|(_, worst)| worst.0 > 1.0)
        .collect();
    assert!(over.is_empty(), "{over:#?}");
}
