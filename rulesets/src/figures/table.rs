//! Every figure of the library: one table, read by formulas, the list of facts and the work that figures share.

use super::needs::Need::*;
use super::needs::{
    COUNTED, DRIFT, FALL, FULL, JOINED, LABEL, LOAD, ListFault, MODEL, NOW, RESISTANCE, REST,
    SHARES, SIZE, set,
};
use super::reader::Notes;
use super::shared_work::SharedWork;
use super::{of_build, of_cell, of_group, of_pack};
use rules_core::facts::AsMoreJoin::{self, Apart, Rises, Unknown, Widens, WithContainer};
use rules_core::facts::{Catalogue, Needs, Worked, WorkedDef};
use rules_core::quantity::Kind::{
    self, Charge, Count, Current, Energy, Power, Rate, Ratio, Time, Voltage,
};

/// A row: the figure's name, kind and meaning, the facts it may look at, what happens to it when more
/// cells join, and how it is worked out.
pub(super) struct Row {
    name: &'static str,
    kind: Kind,
    pub(super) needs: Needs,
    as_more_join: AsMoreJoin,
    meaning: &'static str,
    /// Works it out for one of its subject.
    pub(super) work: fn(&SharedWork<'_>, usize, Notes) -> Worked,
}

const fn row(
    name: &'static str,
    kind: Kind,
    needs: Needs,
    as_more_join: AsMoreJoin,
    work: fn(&SharedWork<'_>, usize, Notes) -> Worked,
    meaning: &'static str,
) -> Row {
    Row {
        name,
        kind,
        needs,
        as_more_join,
        meaning,
        work,
    }
}

pub(super) const ROWS: &[Row] = &[
    // --- of the build
    row(
        "build.current",
        Current,
        LOAD,
        Apart,
        of_build::current,
        "Highest current the light takes from the battery: `draw`, or its power over the lowest voltage it still runs at (the higher of `cut_off` and `input.min`)",
    ),
    row(
        "build.nominal_voltage",
        Voltage,
        set(&[Series, Class]),
        Widens,
        of_build::nominal_voltage,
        "Nominal voltage of the battery by the class of its cells",
    ),
    row(
        "build.energy",
        Energy,
        set(&[Class, RatedCapacity]),
        Rises,
        of_build::energy,
        "Rated energy of all cells together, as transport limits count it: rated capacity by nominal voltage",
    ),
    row(
        "build.run_time",
        Time,
        FULL,
        Unknown,
        of_build::run_time,
        "Time the light runs after a full charge: until the battery falls to where the light stops, or to where cells are empty, whichever is higher",
    ),
    row(
        "build.time_left",
        Time,
        NOW,
        Unknown,
        of_build::time_left,
        "The same from the charge that the rest voltages show",
    ),
    row(
        "build.time_left_counted",
        Time,
        COUNTED,
        Unknown,
        of_build::time_left_counted,
        "The same by counting: what is left of a full charge after `run_since_full`, and after a day of standing by and of loss",
    ),
    row(
        "build.weakest_voltage",
        Voltage,
        FULL,
        Unknown,
        of_build::weakest_voltage,
        "Loaded voltage of the weakest cell or group at the moment the light stops, after a full charge; below 0 V it is driven into reversal",
    ),
    row(
        "build.most_power",
        Power,
        LOAD.with(JOINED).with(set(&[Series, Class, Ambient])),
        Unknown,
        of_build::most_power,
        "Greatest power the battery can give at all near its end: V²/4R, with R after minutes of load at the temperature of use",
    ),
    row(
        "build.collapse_voltage",
        Voltage,
        LOAD.with(JOINED).with(set(&[Series, Class, Ambient])),
        Unknown,
        of_build::collapse_voltage,
        "Loaded voltage under which the battery cannot keep up the light's power: the square root of P·R; 0 V where the draw is a current",
    ),
    row(
        "build.charge_time",
        Time,
        set(&[ChargeCurrent, Capacity, CellGroup]),
        Rises,
        of_build::charge_time,
        "Estimate of the time a full charge takes: constant current, then constant voltage",
    ),
    row(
        "build.stop_at_rest",
        Voltage,
        set(&[Class, Series]),
        Unknown,
        of_build::stop_at_rest,
        "Stop plan: rest voltage of the battery at which to stop and recharge",
    ),
    row(
        "build.stop_loaded",
        Voltage,
        FULL,
        Unknown,
        of_build::stop_loaded,
        "Stop plan: loaded voltage of the battery at which to stop and recharge",
    ),
    row(
        "build.check_after",
        Time,
        FULL,
        Unknown,
        of_build::check_after,
        "Stop plan: longest run after a full charge before the voltage is checked, and between checks",
    ),
    // --- of a group
    row(
        "group.start_voltage",
        Voltage,
        FULL,
        WithContainer,
        of_group::start_voltage,
        "Loaded voltage of each cell when the light is switched on after a full charge",
    ),
    row(
        "group.mid_voltage",
        Voltage,
        FULL,
        WithContainer,
        of_group::mid_voltage,
        "Loaded voltage of each cell when half of what it gives has been given",
    ),
    row(
        "group.late_voltage",
        Voltage,
        FULL,
        WithContainer,
        of_group::late_voltage,
        "Loaded voltage of each cell when nine tenths of what it gives have been given",
    ),
    row(
        "group.delivered",
        Charge,
        FULL,
        WithContainer,
        of_group::delivered,
        "Charge the group gives after a full charge until its share of the voltage at which the light stops, or until empty",
    ),
    row(
        "group.end_voltage",
        Voltage,
        FULL,
        Unknown,
        of_group::end_voltage,
        "Loaded voltage of each cell at the moment the whole battery has fallen to where the light stops, after a full charge",
    ),
    row(
        "group.voltage_now",
        Voltage,
        NOW,
        WithContainer,
        of_group::voltage_now,
        "Loaded voltage of each cell when the light is switched on at the present charge",
    ),
    row(
        "group.charge_left",
        Charge,
        NOW,
        WithContainer,
        of_group::charge_left,
        "Charge the group gives from its present charge",
    ),
    row(
        "group.end_voltage_now",
        Voltage,
        NOW,
        Unknown,
        of_group::end_voltage_now,
        "Loaded voltage of each cell when the light stops, from the present charge",
    ),
    row(
        "group.inrush",
        Current,
        JOINED.with(set(&[RestVoltage])),
        WithContainer,
        of_group::inrush,
        "Highest current through any cell in the moment the group is joined, at the measured rest voltages and the lowest credible resistance",
    ),
    // --- of a cell
    row(
        "cell.charge_state",
        Ratio,
        REST,
        Apart,
        of_cell::charge_state,
        "Share of the charge that the rest voltage shows, by the open-circuit curves of the class; below 0 % or above 100 % where they are drawn on",
    ),
    row(
        "cell.dc_resistance",
        Kind::Resistance,
        RESISTANCE,
        Apart,
        of_cell::dc_resistance,
        "10-second direct-current resistance at 25 degC, by what every reading of it allows",
    ),
    row(
        "cell.capacity_ratio",
        Ratio,
        MODEL,
        Apart,
        of_cell::capacity_ratio,
        "Charge by the ordinary capacity test over that by the slow one, both freed of the sag of their currents; under 0.95 the cell gives less the faster it is used",
    ),
    row(
        "cell.current",
        Current,
        LOAD.with(SHARES).with(set(&[Parallel])),
        WithContainer,
        of_cell::current,
        "Highest current through the cell: its share of the battery's by the resistances in its group",
    ),
    row(
        "cell.rate",
        Rate,
        LOAD.with(SHARES).with(set(&[Capacity, Parallel])),
        WithContainer,
        of_cell::rate,
        "Highest current through the cell for its measured capacity",
    ),
    row(
        "cell.heat",
        Power,
        LOAD.with(SHARES).with(set(&[Ambient, Parallel])),
        WithContainer,
        of_cell::heat,
        "Heat in the cell at its highest current, at the temperature of use",
    ),
    row(
        "cell.kelvin_heat",
        Energy,
        SIZE,
        Apart,
        of_cell::kelvin_heat,
        "Heat that warms the bare cell by one kelvin, by the mass of its size and class",
    ),
    row(
        "cell.most_capacity",
        Charge,
        SIZE,
        Apart,
        of_cell::most_capacity,
        "Most charge that a genuine cell of the size and class gives",
    ),
    row(
        "cell.new_resistance",
        Kind::Resistance,
        SIZE,
        Apart,
        of_cell::new_resistance,
        "Most that a new cell of the size and class reads at 1 kHz",
    ),
    row(
        "cell.energy",
        Energy,
        set(&[Class, RatedCapacity]),
        Apart,
        of_cell::energy,
        "Rated energy, as transport limits count it: rated capacity by nominal voltage",
    ),
    row(
        "cell.fall",
        Voltage,
        FALL,
        Apart,
        of_cell::fall,
        "Fall of the rest voltage during the watch: as noted, or the first reading less the second, in which what both readings share of one meter's error cancels",
    ),
    row(
        "cell.loss_in_30_days",
        Ratio,
        DRIFT,
        Apart,
        of_cell::loss,
        "Share of the charge that drifts away in 30 days, by the class's curve between the two readings of the watch",
    ),
    row(
        "cell.keeps_for",
        Time,
        DRIFT.with(REST).with(set(&[Capacity, Standby, Parallel])),
        Apart,
        of_cell::keeps_for,
        "Time until drift and the light's standby drain have emptied the cell",
    ),
    row(
        "cell.label_capacity",
        Charge,
        LABEL.with(set(&[CellPack, PackId])),
        Apart,
        of_pack::label_capacity,
        "Capacity of one cell by the label of the pack it came out of",
    ),
    // --- of a pack
    row(
        "pack.series",
        Count,
        LABEL,
        Apart,
        of_pack::series,
        "Cells in series, by the label",
    ),
    row(
        "pack.parallel",
        Count,
        LABEL,
        Apart,
        of_pack::parallel,
        "Cells in parallel, by the label and its code or the cells counted",
    ),
    row(
        "pack.cell_capacity",
        Charge,
        LABEL,
        Apart,
        of_pack::cell_capacity,
        "Capacity of one cell, by the label",
    ),
    row(
        "pack.cell_voltage",
        Voltage,
        LABEL,
        Apart,
        of_pack::cell_voltage,
        "Nominal voltage of one cell, by the label",
    ),
];

/// The definitions of all rows, as the catalogue keeps them.
///
/// # Errors
///
/// The first name that is about no subject of the catalogue.
pub(super) fn definitions(catalogue: &Catalogue) -> Result<Vec<WorkedDef>, ListFault> {
    ROWS.iter().map(|row| row.definition(catalogue)).collect()
}

impl Row {
    /// The subject that it is about.
    pub(super) fn subject(&self) -> &'static str {
        self.name.split_once('.').map_or("", |(subject, _)| subject)
    }

    /// The figure of one of its subject.
    pub(super) fn worked(&self, shared: &SharedWork<'_>, position: usize) -> Worked {
        (self.work)(shared, position, Notes::of(self.needs))
    }

    /// Amounts are never negative. Most voltages can be: that of a weak cell in a string is.
    fn never_negative(&self) -> bool {
        match self.kind {
            Charge | Count | Current | Energy | Power | Rate | Time | Kind::Resistance => true,
            Voltage => self.name == "build.nominal_voltage",
            _ => false,
        }
    }

    fn definition(&self, catalogue: &Catalogue) -> Result<WorkedDef, ListFault> {
        let found = self
            .name
            .split_once('.')
            .and_then(|(subject, name)| Some((catalogue.subject_named(subject)?, name)));
        let (subject, name) = found.ok_or(ListFault::NoSubject(self.name))?;
        Ok(WorkedDef {
            subject,
            name,
            kind: self.kind,
            meaning: self.meaning,
            needs: self.needs,
            as_more_join: self.as_more_join,
            never_negative: self.never_negative(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_of_no_subject_is_named() {
        let nothing = Catalogue::of_subjects(&[]);
        let fault = definitions(&nothing).map(|_| ());
        assert_eq!(fault, Err(ListFault::NoSubject("build.current")));
    }
}
