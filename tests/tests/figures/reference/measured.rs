//! The figures against measured discharges, which are not part of this repository.
//!
//! `MEASURED=<folder> cargo test -p rules-tests --test figures measured -- --nocapture` reads every
//! CSV of the folder that has the columns `cell`, `class`, `ambient_C`, `test`, `current_A`,
//! `R10_mohm`, and `Ah_to_<V>`, `half_to_<V>`, `late_to_<V>` for end voltages. It predicts each
//! discharge from each other one of the same cell in the same state, and from the same one to
//! another end. Without a folder there is nothing to show.
use std::collections::BTreeMap;

use rules_core::quantity::Interval;
use rulesets::class::{Class, Classes};
use rulesets::figures::discharge::{
    CapacityTest, CellModel, Draw, Duty, MOST_LEVELS, Shown, discharge,
};
use rulesets::figures::resistance;

use super::table::{Coverage, Row, parsed};

const ENDS: [f64; 5] = [3.2, 3.0, 2.75, 2.7, 2.5];

/// Runs of one test further apart than this are of another state of the cell.
const SAME_STATE: i64 = 3;

/// A measured discharge to one end voltage.
struct Run {
    cell: String,
    classes: Classes,
    at: Option<i64>,
    ambient: f64,
    current: f64,
    end: f64,
    charge: f64,
    half: f64,
    late: f64,
    r10: Interval,
    /// The charge by the higher ends.
    by: [Option<(Interval, f64)>; MOST_LEVELS],
}

/// The voltages by which a fact tells the charge of a test.
const LEVELS: [f64; 3] = [3.0, 2.75, 2.5];

fn classes(word: &str) -> Classes {
    match word {
        "ICR" => Classes::of(Class::Icr),
        "INR" => Classes::of(Class::Inr),
        "IMR" => Classes::of(Class::Imr),
        "IFR" => Classes::of(Class::Ifr),
        // A class that is not told: any that is charged to 4.2 V.
        _ => Classes::of(Class::Icr).or(Classes::of(Class::Inr)),
    }
}

fn runs(row: &Row) -> Vec<Run> {
    let number = |column: &str| row.get(column).and_then(|text| text.parse::<f64>().ok());
    let whole = |ohms: f64, ambient: f64| {
        // Read on a full cell and at the ambient; on a full one it is up to a third higher.
        let read = Interval::new(0.65 * ohms, 1.06 * ohms).unwrap();
        resistance::at_reference(read, Interval::point(ambient))
    };
    let by = |end: f64| {
        let mut by = [None; MOST_LEVELS];
        for (level, volts) in by.iter_mut().zip(LEVELS).filter(|(_, volts)| *volts > end) {
            let charge = number(&format!("Ah_to_{volts:?}"));
            *level = charge.map(|charge| (Interval::point(charge), volts));
        }
        by
    };
    let run = |end: &f64| {
        let ambient = number("ambient_C")?;
        Some(Run {
            cell: row["cell"].clone(),
            classes: classes(&row["class"]),
            at: row["test"].parse().ok(),
            ambient,
            current: number("current_A")?,
            end: *end,
            charge: number(&format!("Ah_to_{end:?}"))?,
            half: number(&format!("half_to_{end:?}"))?,
            late: number(&format!("late_to_{end:?}"))?,
            r10: whole(number("R10_mohm")? / 1000.0, ambient),
            by: by(*end),
        })
    };
    ENDS.iter().filter_map(run).collect()
}

impl Run {
    fn as_test(&self) -> CellModel {
        let point = Interval::point;
        CellModel {
            classes: self.classes,
            capacity: CapacityTest {
                charge: point(self.charge),
                current: point(self.current),
                cut_off: point(self.end),
                temperature: point(self.ambient),
            },
            further: [None; 3],
            shown: Default::default(),
            joined: false,
            r10: self.r10,
        }
    }

    fn with_voltages(&self) -> CellModel {
        let mut cell = self.as_test();
        cell.shown[0] = Shown {
            half: Some(Interval::point(self.half)),
            late: Some(Interval::point(self.late)),
            ..Shown::default()
        };
        cell
    }

    fn with_curve(&self) -> CellModel {
        let mut cell = self.with_voltages();
        cell.shown[0].by = self.by;
        cell
    }

    fn is_like(&self, other: &Self) -> bool {
        let near = match (self.at, other.at) {
            (Some(one), Some(other)) => (one - other).abs() <= SAME_STATE,
            _ => true,
        };
        self.cell == other.cell && near
    }

    fn group(&self, test: &Self) -> String {
        let warm = if self.ambient.min(test.ambient) < 15.0 {
            "below 15 degC"
        } else {
            "15 degC and above"
        };
        let rate = self.current.max(test.current) / test.charge;
        let rate = match rate {
            r if r <= 1.05 => "to 1C",
            r if r <= 2.1 => "to 2C",
            _ => "beyond 2C",
        };
        format!("{warm}, {rate}")
    }
}

/// All runs of a folder.
fn read(folder: &str) -> Vec<Run> {
    let mut all: Vec<Run> = Vec::new();
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|ext| ext == "csv") {
            let text = std::fs::read_to_string(&path).expect("a text");
            let rows = parsed(&text);
            let fits = |row: &&Row| row.contains_key("R10_mohm");
            all.extend(rows.iter().filter(fits).flat_map(runs));
        }
    }
    all
}

/// What is said of the charge and of the two voltages, by what was known of the test.
const TITLES: [[&str; 3]; 3] = [
    [
        "charge (parts of it)",
        "voltage at half (V)",
        "voltage at nine tenths (V)",
    ],
    [
        "charge, where the test noted its voltages (parts of it)",
        "voltage at half, where the test noted its own (V)",
        "voltage at nine tenths, where the test noted its own (V)",
    ],
    [
        "charge, with a curve (parts of it)",
        "voltage at half, with a curve (V)",
        "voltage at nine tenths, with a curve (V)",
    ],
];

fn compare(found: &mut BTreeMap<&str, Coverage>, test: &Run, used: &Run, duty: &Duty) {
    let what = format!(
        "{}: {} A at {} degC to {} V, from {} A at {} degC to {} V",
        used.cell, used.current, used.ambient, used.end, test.current, test.ambient, test.end
    );
    let group = used.group(test);
    let known = [test.as_test(), test.with_voltages(), test.with_curve()];
    for (titles, cell) in TITLES.into_iter().zip(known) {
        let stated = discharge(&cell, duty);
        let compared = [
            (stated.delivered, used.charge, used.charge),
            (stated.mid, used.half, 1.0),
            (stated.late, used.late, 1.0),
        ];
        for (title, (stated, actual, scale)) in titles.into_iter().zip(compared) {
            let coverage = found.entry(title).or_default();
            coverage.add(&group, &what, stated, actual, scale);
        }
    }
}

#[test]
fn measured_discharges_lie_within() {
    let Ok(folder) = std::env::var("MEASURED") else {
        println!("no folder is named by MEASURED; nothing was compared");
        return;
    };
    let all = read(&folder);
    let mut found: BTreeMap<&str, Coverage> = BTreeMap::new();
    for test in &all {
        for used in all.iter().filter(|used| used.is_like(test)) {
            let point = Interval::point;
            let duty = Duty {
                draw: Draw::Current(point(used.current)),
                start: point(1.0),
                temperature: point(used.ambient),
                cut_off: point(used.end),
            };
            compare(&mut found, test, used, &duty);
        }
    }
    for (title, coverage) in found {
        coverage.finish(&format!("measured: {title}"), 1);
    }
}
