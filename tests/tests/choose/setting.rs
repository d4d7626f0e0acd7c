//! Lamps of the club with cells to choose from. The data is invented; it starts from a plan of which
//! an expert says that it passes.

use std::fs;
use std::path::Path;

use rules_core::check::Options;
use rules_core::ruleset::Rules;
use rulesets::Draft;
use rulesets::jobs::Trial;
use serde_json::{Value, json};

/// Numbers that look like chance and are the same each time: the minimal standard generator of Park
/// and Miller (1988), from memory.
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn of(seed: u64) -> Self {
        Self(seed.wrapping_mul(7_919) % 2_147_483_646 + 1)
    }

    /// A number from 0 to below this.
    pub(crate) fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 / 7 % end
    }

    fn one_in(&mut self, many: u64) -> bool {
        self.below(many) == 0
    }
}

/// The plan of the expert: a lamp of four cells, everything measured well.
fn expert() -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("plans/anchor-helmet-2s2p.yaml");
    let text = fs::read_to_string(path).expect("the plan");
    let plan: Value = serde_yaml::from_str(&text).expect("YAML");
    plan["laboratory"].clone()
}

/// A sound cell.
pub(crate) fn sound_cell(id: &str) -> Value {
    let mut cell = expert()["cells"][0].clone();
    let fields = cell.as_object_mut().expect("a map");
    fields.remove("group");
    fields.insert("id".to_owned(), json!(id));
    cell
}

/// A cell that reads so: the rest voltage in mV, the capacity in mAh and the resistance in tenths of
/// a milliohm.
pub(crate) fn cell(id: &str, rest: u64, capacity: u64, resistance: u64) -> Value {
    let mut cell = sound_cell(id);
    let volts = |milli: u64| format!("{}.{:03}0 V", milli / 1000, milli % 1000);
    cell["rest"]["voltage"] = json!(volts(rest));
    cell["capacity"][0]["value"] = json!(format!("{capacity} mAh"));
    cell["capacity"][1]["value"] = json!(format!("{} mAh", capacity * 972 / 1000));
    cell["charge"]["taken"] = json!(format!("{capacity} mAh"));
    cell["resistance"]["value"] = json!(format!("{}.{} mΩ", resistance / 10, resistance % 10));
    cell
}

/// A lamp for an arrangement in series and parallel, with these cells to choose from.
pub(crate) fn lamp(series: usize, parallel: usize, cells: Vec<Value>) -> Draft {
    let mut plan = expert();
    let by = |volts: f64| format!("{:.1} V", volts * series as f64);
    plan["arrangement"] = json!(format!("{series}S{parallel}P"));
    plan["light"]["bays"] = json!(series * parallel);
    plan["light"]["draw"] = json!(format!("{} W", 3 * series * parallel));
    plan["light"]["input"] = json!({ "min": by(2.8), "max": by(4.5) });
    plan["light"]["cut_off"] = json!(by(3.0));
    plan["cells"] = Value::Array(cells);
    Draft::of("lamp", plan)
}

/// Cells near each other, some of them worn, damaged, or with something left out.
pub(crate) fn mixed_cells(count: usize, chance: &mut Chance) -> Vec<Value> {
    (0..count)
        .map(|at| {
            let rest = 4_150 + chance.below(25);
            let capacity = 2_330 + chance.below(160);
            let mut cell = cell(&format!("K{at}"), rest, capacity, 950 + chance.below(90));
            spoil(&mut cell, chance);
            cell
        })
        .collect()
}

fn spoil(cell: &mut Value, chance: &mut Chance) {
    let fields = cell.as_object_mut().expect("a map");
    match chance.below(24) {
        0 => drop(fields.insert("body".to_owned(), json!("dented"))),
        1 => drop(fields.insert("wrap".to_owned(), json!("torn"))),
        2 => drop(fields.remove("resistance")),
        3 => drop(fields.remove("capacity")),
        4 => drop(fields.remove("tabs")),
        5 => drop(fields.insert("class".to_owned(), json!("INR"))),
        6 => drop(fields.insert("pack".to_owned(), json!("P-other"))),
        7 => drop(fields.remove("pack")),
        8 => drop(fields.remove("rest")),
        9 => drop(fields.remove("rated")),
        _ => {}
    }
    if chance.one_in(3) {
        let length = format!("65.{:02} mm", 2 + chance.below(30));
        cell["size"]["length"] = json!(length);
    }
}

/// Cells of one making that differ as cells of one pack do.
pub(crate) fn like_cells(count: usize, chance: &mut Chance) -> Vec<Value> {
    (0..count)
        .map(|at| {
            let rest = 4_160 + chance.below(11);
            let capacity = 2_400 + chance.below(80);
            cell(&format!("K{at:02}"), rest, capacity, 980 + chance.below(40))
        })
        .collect()
}

/// The lamp to try.
pub(crate) fn trial(draft: Draft, rules: &Rules) -> Trial<'_> {
    Trial::beside(None, draft, rules, Options::default())
}

/// Cells of one making and unlike wear.
pub(crate) fn spread_cells(count: usize, chance: &mut Chance) -> Vec<Value> {
    (0..count)
        .map(|at| {
            let rest = 4_120 + chance.below(56);
            let capacity = 2_000 + chance.below(500);
            cell(
                &format!("K{at:02}"),
                rest,
                capacity,
                850 + chance.below(400),
            )
        })
        .collect()
}
