//! Every fact a proposal can state: one table, read by the loader, the schema, the fact list and
//! the formulas.
//!
//! A row's key is where the fact stands in its section of a proposal (`rest.voltage`); its name in
//! formulas joins the key with underscores and leaves a last `value` out (`rest_voltage`,
//! `capacity`). Rows without a key are worked out by the loader from another key (`arrangement`,
//! `designation`, `draw`) or from the list of cells.

use std::sync::LazyLock;

use crate::bounds::MOST_CELLS;
use crate::facts::{Catalogue, FactDef, FactKind, SubjectDef, SubjectId};
use crate::quantity::Interval;
use crate::quantity::Kind::{
    self, Charge, Count, Current, Energy, Length, Power, Resistance, Temperature,
    TemperatureDifference, Time, Voltage,
};
use crate::quantity::Nature::{self, Measured, Printed, Stated};

/// The light.
pub const LIGHT: SubjectId = SubjectId::new(0);
/// All cells of the light as one battery.
pub const BUILD: SubjectId = SubjectId::new(1);
/// The protection circuit, or its absence.
pub const PROTECTION: SubjectId = SubjectId::new(2);
/// How the cells are charged.
pub const CHARGING: SubjectId = SubjectId::new(3);
/// Where and how long the light is used.
pub const CONDITIONS: SubjectId = SubjectId::new(4);
/// Cells in parallel.
pub const GROUP: SubjectId = SubjectId::new(5);
/// One cell.
pub const CELL: SubjectId = SubjectId::new(6);
/// A pack that cells were taken out of.
pub const PACK: SubjectId = SubjectId::new(7);

const SUBJECTS: [SubjectDef; 8] = [
    SubjectDef::single("light", "The light"),
    SubjectDef::single("build", "All cells of the light as one battery").without_section(),
    SubjectDef::single("protection", "The protection circuit, or its absence"),
    SubjectDef::single("charging", "How the cells are charged"),
    SubjectDef::single("conditions", "Where and how long the light is used"),
    SubjectDef::many("group", "groups", None, "Cells joined in parallel").without_section(),
    SubjectDef::many("cell", "cells", Some(GROUP), "One cell"),
    SubjectDef::many(
        "pack",
        "packs",
        None,
        "A pack that cells were taken out of, as its label reads",
    )
    .or_none(
        "No label of a pack was looked at: the proposal lists no pack, and no cell names one.",
    ),
];

struct Row {
    subject: SubjectId,
    /// Place in the section of the proposal; a name in angle brackets marks what the loader works
    /// out.
    key: &'static str,
    kind: RowKind,
    nature: Nature,
    meaning: &'static str,
}

enum RowKind {
    Number(Kind, f64, f64),
    Choice(&'static [&'static str]),
    YesNo,
    Id,
    Text,
}

const fn number(
    subject: SubjectId,
    key: &'static str,
    kind: Kind,
    domain: (f64, f64),
    nature: Nature,
    meaning: &'static str,
) -> Row {
    Row {
        subject,
        key,
        kind: RowKind::Number(kind, domain.0, domain.1),
        nature,
        meaning,
    }
}

const fn choice(
    subject: SubjectId,
    key: &'static str,
    options: &'static [&'static str],
    meaning: &'static str,
) -> Row {
    Row {
        subject,
        key,
        kind: RowKind::Choice(options),
        nature: Nature::Stated,
        meaning,
    }
}

const fn yes_no(subject: SubjectId, key: &'static str, meaning: &'static str) -> Row {
    Row {
        subject,
        key,
        kind: RowKind::YesNo,
        nature: Nature::Stated,
        meaning,
    }
}

const fn id(subject: SubjectId, key: &'static str, meaning: &'static str) -> Row {
    Row {
        kind: RowKind::Id,
        ..text(subject, key, meaning)
    }
}

const fn text(subject: SubjectId, key: &'static str, meaning: &'static str) -> Row {
    Row {
        subject,
        key,
        kind: RowKind::Text,
        nature: Nature::Stated,
        meaning,
    }
}

const CELL_VOLTS: (f64, f64) = (-5.0, 10.0);
const BATTERY_VOLTS: (f64, f64) = (0.0, 50_000.0);
const AMPERES: (f64, f64) = (0.0, 100_000.0);
const AMP_HOURS: (f64, f64) = (0.0, 100_000.0);
const OHMS: (f64, f64) = (0.0, 1_000.0);
const HOURS: (f64, f64) = (0.0, 1_000_000.0);
const MILLIMETRES: (f64, f64) = (0.0, 1_000.0);
const DEGREES: (f64, f64) = (-60.0, 120.0);
const CELLS: (f64, f64) = (1.0, MOST_CELLS as f64);

const ROWS: &[Row] = &[
    // --- light
    number(
        LIGHT,
        "bays",
        Count,
        CELLS,
        Stated,
        "How many cells the light takes",
    ),
    choice(
        LIGHT,
        "drive",
        &["direct", "linear", "buck", "boost", "buck-boost"],
        "How the driver feeds the LED from the battery",
    ),
    number(
        LIGHT,
        "<draw_current>",
        Current,
        AMPERES,
        Stated,
        "Highest current the light takes, where `draw` is a current",
    ),
    number(
        LIGHT,
        "<draw_power>",
        Power,
        (0.0, 100_000.0),
        Stated,
        "Highest power the light takes, where `draw` is a power",
    ),
    number(
        LIGHT,
        "input.min",
        Voltage,
        BATTERY_VOLTS,
        Stated,
        "Lowest battery voltage the light is made for",
    ),
    number(
        LIGHT,
        "input.max",
        Voltage,
        BATTERY_VOLTS,
        Stated,
        "Highest battery voltage the light is made for",
    ),
    number(
        LIGHT,
        "cut_off",
        Voltage,
        BATTERY_VOLTS,
        Stated,
        "Battery voltage at which the light switches itself off; `none` is 0 V",
    ),
    number(
        LIGHT,
        "standby",
        Current,
        AMPERES,
        Stated,
        "Current the light takes from the battery while it is switched off; `none` is 0 A",
    ),
    number(
        LIGHT,
        "bay.length",
        Length,
        MILLIMETRES,
        Measured,
        "Inner length of one bay, between its contacts",
    ),
    number(
        LIGHT,
        "bay.diameter",
        Length,
        MILLIMETRES,
        Measured,
        "Inner diameter of one bay",
    ),
    yes_no(
        LIGHT,
        "vented",
        "Whether the housing can let gas out (yes) or is sealed (no)",
    ),
    // --- build
    number(BUILD, "<series>", Count, CELLS, Stated, "Groups in series"),
    number(
        BUILD,
        "<parallel>",
        Count,
        CELLS,
        Stated,
        "Cells in parallel in each group",
    ),
    number(
        BUILD,
        "<cells>",
        Count,
        CELLS,
        Stated,
        "Cells the arrangement calls for: series x parallel",
    ),
    number(
        BUILD,
        "<listed>",
        Count,
        (0.0, MOST_CELLS as f64),
        Stated,
        "Cells the proposal lists",
    ),
    // --- protection
    choice(
        PROTECTION,
        "kind",
        &["none", "cell", "pack"],
        "No protection circuit, one in every cell, or one for the whole build",
    ),
    yes_no(
        PROTECTION,
        "each_cell",
        "Whether the circuit watches the voltage of each cell or group in series",
    ),
    number(
        PROTECTION,
        "under_voltage",
        Voltage,
        CELL_VOLTS,
        Stated,
        "Voltage per cell at which the circuit ends discharge",
    ),
    number(
        PROTECTION,
        "over_voltage",
        Voltage,
        CELL_VOLTS,
        Stated,
        "Voltage per cell at which the circuit ends charge",
    ),
    number(
        PROTECTION,
        "over_current",
        Current,
        AMPERES,
        Stated,
        "Battery current at which the circuit trips",
    ),
    yes_no(
        PROTECTION,
        "fused",
        "Whether each parallel cell, or the single string, has a fuse of its own",
    ),
    // --- charging
    number(
        CHARGING,
        "termination",
        Voltage,
        CELL_VOLTS,
        Stated,
        "Constant voltage the charger ends at, per cell",
    ),
    number(
        CHARGING,
        "current",
        Current,
        AMPERES,
        Stated,
        "Largest charge current into the build",
    ),
    number(
        CHARGING,
        "stop_current",
        Current,
        AMPERES,
        Stated,
        "Current at which the constant-voltage phase ends, into the build",
    ),
    number(
        CHARGING,
        "low_start",
        Voltage,
        CELL_VOLTS,
        Stated,
        "Voltage per cell below which the charger only gives a reduced current; `none` is 0 V",
    ),
    number(
        CHARGING,
        "low_current",
        Current,
        AMPERES,
        Stated,
        "The reduced current below `low_start`, into the build",
    ),
    yes_no(
        CHARGING,
        "timer",
        "Whether the charger gives up after a set time",
    ),
    yes_no(
        CHARGING,
        "balanced",
        "Whether each cell or group in series is brought to the same voltage",
    ),
    number(
        CHARGING,
        "ambient",
        Temperature,
        DEGREES,
        Stated,
        "Temperature where the cells are charged",
    ),
    yes_no(
        CHARGING,
        "attended",
        "Whether somebody awake is by while charging",
    ),
    choice(
        CHARGING,
        "surface",
        &["non-combustible", "combustible"],
        "What the charger and cells stand on",
    ),
    choice(
        CHARGING,
        "place",
        &["bay-charger", "in-light", "whole-build"],
        "Cells one by one in a charger with bays, in the light, or the build through one lead",
    ),
    // --- conditions
    number(
        CONDITIONS,
        "ambient",
        Temperature,
        DEGREES,
        Stated,
        "Temperature the light is used in",
    ),
    number(
        CONDITIONS,
        "run_time",
        Time,
        HOURS,
        Stated,
        "How long the light must run",
    ),
    choice(
        CONDITIONS,
        "carried",
        &["in-light", "case", "loose"],
        "How spare cells travel: only in the light, each in an insulated case, or loose",
    ),
    number(
        CONDITIONS,
        "check_every",
        Time,
        HOURS,
        Stated,
        "How often the voltage is checked in use",
    ),
    // --- group
    id(GROUP, "<id>", "The group's name"),
    // --- cell
    id(CELL, "id", "The cell's name in the proposal"),
    text(
        CELL,
        "designation",
        "Designation as marked, in the form of IEC 61960",
    ),
    choice(
        CELL,
        "<class>",
        &["ICR", "INR", "IMR", "IFR", "IVR", "ITR"],
        "Class by positive electrode, from the designation",
    ),
    number(
        CELL,
        "<code_diameter>",
        Length,
        MILLIMETRES,
        Stated,
        "Diameter by the designation",
    ),
    number(
        CELL,
        "<code_length>",
        Length,
        MILLIMETRES,
        Stated,
        "Length by the designation",
    ),
    id(CELL, "group", "Name of the parallel group the cell is in"),
    choice(
        CELL,
        "origin",
        &["new", "salvaged"],
        "New, or taken out of a used pack",
    ),
    id(CELL, "pack", "Name of the pack the cell was taken out of"),
    yes_no(
        CELL,
        "protected",
        "Whether the cell carries a protection circuit of its own",
    ),
    number(
        CELL,
        "found.voltage",
        Voltage,
        CELL_VOLTS,
        Measured,
        "Voltage when the cell was taken out of its pack",
    ),
    number(
        CELL,
        "rest.voltage",
        Voltage,
        CELL_VOLTS,
        Measured,
        "Voltage at rest",
    ),
    number(
        CELL,
        "rest.after",
        Time,
        HOURS,
        Stated,
        "Time since the last charge or load when `rest.voltage` was read",
    ),
    number(
        CELL,
        "capacity.value",
        Charge,
        AMP_HOURS,
        Measured,
        "Capacity given on a discharge test",
    ),
    number(
        CELL,
        "capacity.at",
        Current,
        AMPERES,
        Stated,
        "Current of the capacity test",
    ),
    number(
        CELL,
        "capacity.to",
        Voltage,
        CELL_VOLTS,
        Stated,
        "Voltage at which the capacity test ended",
    ),
    number(
        CELL,
        "slow_capacity.value",
        Charge,
        AMP_HOURS,
        Measured,
        "Capacity given on a second discharge test from full, so slow that no cell is held back: at most 0.3 of its capacity an hour",
    ),
    number(
        CELL,
        "slow_capacity.at",
        Current,
        AMPERES,
        Stated,
        "Current of the slow capacity test",
    ),
    number(
        CELL,
        "slow_capacity.to",
        Voltage,
        CELL_VOLTS,
        Stated,
        "Voltage at which the slow capacity test ended",
    ),
    number(
        CELL,
        "rated.capacity",
        Charge,
        AMP_HOURS,
        Stated,
        "Capacity the maker rates the cell for",
    ),
    number(
        CELL,
        "rated.discharge",
        Current,
        AMPERES,
        Stated,
        "Largest continuous discharge current the maker allows",
    ),
    number(
        CELL,
        "rated.charge",
        Current,
        AMPERES,
        Stated,
        "Largest charge current the maker allows",
    ),
    number(
        CELL,
        "rated.full",
        Voltage,
        CELL_VOLTS,
        Stated,
        "Charge voltage the maker states",
    ),
    number(
        CELL,
        "resistance.value",
        Resistance,
        OHMS,
        Measured,
        "Internal resistance",
    ),
    choice(
        CELL,
        "resistance.method",
        &[
            "dc-10s",
            "dc-two-current",
            "ac-1khz",
            "known-load",
            "charger-display",
        ],
        "How the resistance was taken",
    ),
    number(
        CELL,
        "resistance.initial",
        Resistance,
        OHMS,
        Stated,
        "Resistance of the cell when new, by the same method",
    ),
    number(
        CELL,
        "loaded.open",
        Voltage,
        CELL_VOLTS,
        Measured,
        "Voltage just before a known resistor was put across the cell",
    ),
    number(
        CELL,
        "loaded.closed",
        Voltage,
        CELL_VOLTS,
        Measured,
        "Voltage across that resistor after ten seconds",
    ),
    number(
        CELL,
        "loaded.resistor",
        Resistance,
        OHMS,
        Stated,
        "That resistor",
    ),
    number(
        CELL,
        "drift.fall",
        Voltage,
        (-5.0, 5.0),
        Measured,
        "Fall of the rest voltage while the cell lay unused",
    ),
    number(
        CELL,
        "drift.over",
        Time,
        HOURS,
        Stated,
        "Time over which the fall was seen",
    ),
    number(
        CELL,
        "charge.rise",
        TemperatureDifference,
        (-100.0, 200.0),
        Measured,
        "Rise of the case over ambient while charging",
    ),
    number(
        CELL,
        "charge.taken",
        Charge,
        AMP_HOURS,
        Measured,
        "Charge a full charge from empty took in",
    ),
    choice(
        CELL,
        "wrap",
        &["intact", "rewrapped", "nicked", "torn", "missing"],
        "State of the insulating sleeve",
    ),
    choice(
        CELL,
        "top_ring",
        &["present", "damaged", "missing"],
        "The insulating ring under the sleeve at the positive end",
    ),
    choice(
        CELL,
        "body",
        &["sound", "dented", "swollen", "rusted", "leaking", "odour"],
        "State of the can and its ends",
    ),
    choice(
        CELL,
        "tabs",
        &["clean", "ground-off", "left-on", "soldered"],
        "What is left of the pack's welded strips, or whether the cell was soldered on",
    ),
    number(
        CELL,
        "size.length",
        Length,
        MILLIMETRES,
        Measured,
        "Measured overall length",
    ),
    number(
        CELL,
        "size.diameter",
        Length,
        MILLIMETRES,
        Measured,
        "Measured largest diameter",
    ),
    // --- pack
    id(
        PACK,
        "id",
        "The pack's name, as `pack` of its cells gives it",
    ),
    text(
        PACK,
        "designation",
        "Designation on the label, in the form of IEC 61960: `3INR19/66-2`",
    ),
    number(
        PACK,
        "voltage",
        Voltage,
        BATTERY_VOLTS,
        Printed,
        "Nominal voltage on the label",
    ),
    number(
        PACK,
        "capacity",
        Charge,
        AMP_HOURS,
        Printed,
        "Capacity on the label",
    ),
    number(
        PACK,
        "energy",
        Energy,
        (0.0, 1_000_000.0),
        Printed,
        "Energy on the label",
    ),
    number(
        PACK,
        "cells",
        Count,
        CELLS,
        Stated,
        "Cells seen or felt in the pack",
    ),
];

/// Facts for which `none` may be written: there is no such threshold or drain, which is the same as
/// one at zero.
const NONE_IS_ZERO: [(SubjectId, &str); 3] = [
    (LIGHT, "cut_off"),
    (LIGHT, "standby"),
    (CHARGING, "low_start"),
];

/// The same for every proposal that is read.
static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| {
    let mut catalogue = Catalogue::of_subjects(&SUBJECTS);
    for row in ROWS {
        catalogue.add(row.definition());
    }
    catalogue
});

/// The facts that proposals can state, by subject.
#[must_use]
pub fn catalogue() -> &'static Catalogue {
    &CATALOGUE
}

impl Row {
    fn definition(&self) -> FactDef {
        let worked_out = self.key.starts_with('<');
        let name = self.key.trim_matches(['<', '>']).replace('.', "_");
        let name = name.strip_suffix("_value").unwrap_or(&name).to_owned();
        let (kind, domain) = match self.kind {
            RowKind::Number(kind, low, high) => (
                FactKind::Number(kind),
                Interval::new(low, high).unwrap_or(Interval::WHOLE),
            ),
            RowKind::Choice(options) => (
                FactKind::Choice(options.iter().map(|option| (*option).to_owned()).collect()),
                Interval::WHOLE,
            ),
            RowKind::YesNo => (FactKind::YesNo, Interval::WHOLE),
            RowKind::Id => (FactKind::Id, Interval::WHOLE),
            RowKind::Text => (FactKind::Text, Interval::WHOLE),
        };
        let none_is_zero = NONE_IS_ZERO.contains(&(self.subject, self.key));
        let key = (!worked_out).then(|| self.key.to_owned());
        FactDef {
            subject: self.subject,
            name,
            kind,
            domain,
            nature: self.nature,
            meaning: self.meaning.to_owned(),
            none_is_zero,
            key,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_follow_keys() {
        let catalogue = catalogue();
        for (name, key) in [
            ("cell.rest_voltage", Some("rest.voltage")),
            ("cell.capacity", Some("capacity.value")),
            ("cell.capacity_at", Some("capacity.at")),
            ("cell.slow_capacity", Some("slow_capacity.value")),
            ("light.bay_length", Some("bay.length")),
            ("light.draw_power", None),
            ("build.series", None),
        ] {
            let (_, fact) = catalogue.fact_named(name).expect(name);
            assert_eq!(fact.key.as_deref(), key);
        }
    }

    #[test]
    fn every_name_is_taken_once() {
        let catalogue = catalogue();
        assert_eq!(catalogue.names().count(), ROWS.len());
        assert_eq!(catalogue.subject_named("cell"), Some(CELL));
        assert_eq!(catalogue.subject_named("group"), Some(GROUP));
        assert_eq!(catalogue.subject_named("conditions"), Some(CONDITIONS));
    }
}
