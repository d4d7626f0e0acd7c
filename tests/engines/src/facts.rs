//! The build as plain named values, flat: those of a cell for rules about cells, those of the whole
//! for the rest.

use crate::twenty::by_hand::{Build, Cell, Wrap};

/// A value in the sense of all engines.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Fact {
    Number(f64),
    YesNo(bool),
    Word(&'static str),
}

use Fact::{Number, Word, YesNo};

/// The facts that single out a cell, with those of the build that its rules look at.
pub(crate) fn of_cell(cell: &Cell, build: &Build) -> Vec<(&'static str, Fact)> {
    let wrap = match cell.wrap {
        Wrap::Intact => "intact",
        Wrap::Rewrapped => "rewrapped",
        Wrap::Nicked => "nicked",
    };
    vec![
        ("rest_voltage", Number(cell.rest_voltage)),
        ("found_voltage", Number(cell.found_voltage)),
        ("capacity", Number(cell.capacity)),
        ("rated_capacity", Number(cell.rated_capacity)),
        ("rated_full", Number(cell.rated_full)),
        ("resistance", Number(cell.resistance)),
        ("drift_fall", Number(cell.drift_fall)),
        ("drift_over", Number(cell.drift_over)),
        ("wrap", Word(wrap)),
        ("body", Word(if cell.sound { "sound" } else { "dented" })),
        ("length", Number(cell.length)),
        ("diameter", Number(cell.diameter)),
        ("bay_length", Number(build.bay_length)),
        ("bay_diameter", Number(build.bay_diameter)),
        ("termination", Number(build.termination)),
    ]
}

/// The facts of the whole. Cells are numbered, since not every engine can go over a list.
pub(crate) fn of_build(build: &Build) -> Vec<(&'static str, Fact)> {
    let mut facts = vec![
        ("series", Number(build.series)),
        ("parallel", Number(build.parallel)),
        ("draw", Number(build.draw)),
        ("cut_off", Number(build.cut_off)),
        (
            "protection",
            Word(if build.pack_circuit { "pack" } else { "none" }),
        ),
        ("each_cell", YesNo(build.each_cell)),
        ("charge_current", Number(build.charge_current)),
        ("charge_ambient", Number(build.charge_ambient)),
        ("attended", YesNo(build.attended)),
        (
            "surface",
            Word(if build.surface_safe {
                "non-combustible"
            } else {
                "combustible"
            }),
        ),
        ("run_time", Number(build.run_time)),
    ];
    let names = [("v0", "c0"), ("v1", "c1"), ("v2", "c2"), ("v3", "c3")];
    for (cell, (voltage, capacity)) in build.cells.iter().zip(names) {
        facts.extend([
            (voltage, Number(cell.rest_voltage)),
            (capacity, Number(cell.capacity)),
        ]);
    }
    facts
}

/// Facts as a JSON object.
pub(crate) fn json(facts: &[(&'static str, Fact)]) -> serde_json::Value {
    let value = |fact: &Fact| match fact {
        Number(number) => serde_json::json!(number),
        YesNo(yes) => serde_json::json!(yes),
        Word(word) => serde_json::json!(word),
    };
    facts
        .iter()
        .map(|(name, fact)| ((*name).to_owned(), value(fact)))
        .collect::<serde_json::Map<_, _>>()
        .into()
}
