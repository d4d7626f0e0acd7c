//! `labels.json`: what labels of packs say of the cells inside, by published examples, by
//! arithmetic and by what cells can be.

use rules_core::quantity::Interval;
use rulesets::label::{
    Contradiction, Decoded, Family, Label, LabelFault, PackReading, Plausible, Printed, decode,
};
use serde::Deserialize;

use super::table::{Outcome, Part, same};

/// A label as printed.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    voltage: Option<String>,
    capacity: Option<String>,
    energy: Option<String>,
    code: Option<String>,
    cells: Option<u32>,
}

impl Written {
    fn decode(&self) -> Result<Decoded, Vec<LabelFault>> {
        let number =
            |printed: Printed, text: &Option<String>| text.as_ref().map(|text| read(printed, text));
        decode(&Label {
            voltage: number(Printed::Voltage, &self.voltage),
            capacity: number(Printed::Capacity, &self.capacity),
            energy: number(Printed::Energy, &self.energy),
            code: self.code.as_deref(),
            cells: self.cells,
        })
    }

    fn decoded(&self) -> Result<Decoded, String> {
        self.decode()
            .map_err(|faults| format!("cannot be decoded: {faults:?}"))
    }
}

fn read(printed: Printed, text: &str) -> Interval {
    printed
        .read(text)
        .unwrap_or_else(|error| panic!("`{text}`: {error}"))
}

/// Fails unless the number agrees with one that was rounded.
fn agrees(what: &str, found: Option<Interval>, printed: Printed, rounded: &str) -> Outcome {
    let meets = found.is_some_and(|found| found.meets(read(printed, rounded)).is_some());
    if meets {
        Ok(())
    } else {
        Err(format!("{what} is {found:?}, not {rounded}"))
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EnergyRow {
    voltage: String,
    capacity: String,
    energy: String,
    product: String,
    agrees: bool,
}

#[test]
fn an_energy_agrees_with_voltage_by_capacity_or_does_not() {
    Part::read("labels", "energies", 32).run(|row: &EnergyRow| {
        let label = |energy: Option<&str>| {
            let (voltage, capacity) = (
                read(Printed::Voltage, &row.voltage),
                read(Printed::Capacity, &row.capacity),
            );
            let energy = energy.map(|energy| read(Printed::Energy, energy));
            decode(&Label {
                voltage: Some(voltage),
                capacity: Some(capacity),
                energy,
                ..Label::default()
            })
            .map_err(|faults| format!("cannot be decoded: {faults:?}"))
        };
        let worked = label(None)?.pack.energy.ok_or("no energy is worked out")?;
        let product = super::table::double(&row.product);
        same(
            "whether the energy is worked out",
            &worked.worked_out,
            &true,
        )?;
        // The product is exact; the factors are at least as wide as it is known.
        let holds = worked.range.lo() <= product * (1.0 + 1e-12)
            && product * (1.0 - 1e-12) <= worked.range.hi();
        same("whether it holds the product", &holds, &true)?;
        let found = label(Some(&row.energy))?.contradictions;
        let agrees = !found
            .iter()
            .any(|one| matches!(one, Contradiction::Energy { .. }));
        same("whether the energy agrees", &agrees, &row.agrees)
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WorkedOutRow {
    label: Written,
    what: String,
    value: String,
}

#[test]
fn the_third_number_of_a_label_follows_from_two() {
    Part::read("labels", "worked_out", 11).run(|row: &WorkedOutRow| {
        let pack = row.label.decoded()?.pack;
        let (printed, amount) = match row.what.as_str() {
            "voltage" => (Printed::Voltage, pack.voltage),
            "capacity" => (Printed::Capacity, pack.capacity),
            "energy" => (Printed::Energy, pack.energy),
            other => return Err(format!("`{other}`")),
        };
        let amount = amount.ok_or("it is not worked out")?;
        same("whether it is worked out", &amount.worked_out, &true)?;
        match row.value.strip_suffix(" C") {
            Some(coulombs) => {
                let coulombs = super::table::double(coulombs);
                same(
                    "whether it holds the value",
                    &(amount.range * Interval::point(3600.0)).contains(coulombs),
                    &true,
                )
            }
            None => agrees("it", Some(amount.range), printed, &row.value),
        }
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SeriesRow {
    voltage: String,
    cobalt_nickel: Vec<u32>,
    iron_phosphate: Vec<u32>,
    cell_voltage: Option<String>,
}

#[test]
fn a_voltage_gives_its_numbers_in_series() {
    Part::read("labels", "series", 77).run(|row: &SeriesRow| {
        let label = Label {
            voltage: Some(read(Printed::Voltage, &row.voltage)),
            ..Label::default()
        };
        let decoded = decode(&label).map_err(|faults| format!("cannot be decoded: {faults:?}"))?;
        let of = |family: Family| {
            let of_family = decoded
                .readings
                .iter()
                .filter(|reading| reading.family == family);
            let mut series: Vec<u32> = of_family.map(|reading| reading.series).collect();
            series.sort_unstable();
            series
        };
        same(
            "series of cobalt and nickel",
            &of(Family::CobaltNickel),
            &row.cobalt_nickel,
        )?;
        same(
            "series of iron phosphate",
            &of(Family::IronPhosphate),
            &row.iron_phosphate,
        )?;
        let none = row.cobalt_nickel.is_empty() && row.iron_phosphate.is_empty();
        same(
            "whether no series has the voltage",
            &decoded
                .contradictions
                .iter()
                .any(|one| about(one) == "no-series"),
            &none,
        )?;
        let each = decoded
            .readings
            .first()
            .and_then(|reading| reading.cell_voltage);
        row.cell_voltage.as_ref().map_or(Ok(()), |voltage| {
            agrees("the voltage of a cell", each, Printed::Voltage, voltage)
        })
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LabelRow {
    label: Written,
    best: Option<Best>,
    #[serde(default)]
    also: Vec<String>,
    #[serde(default)]
    never: Vec<String>,
    only: Option<Vec<String>>,
    contradictions: Vec<String>,
    believable: bool,
}

/// The likeliest reading.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Best {
    arrangement: String,
    cell_capacity: Option<String>,
    cell_voltage: Option<String>,
    plausible: String,
}

impl Best {
    fn is(&self, found: &PackReading) -> Outcome {
        same(
            "the likeliest arrangement",
            &found.arrangement(),
            &self.arrangement,
        )?;
        same(
            "whether it is plausible",
            &word(found.plausible()),
            &self.plausible.as_str(),
        )?;
        let of = |what, found, printed, wanted: &Option<String>| {
            wanted
                .as_ref()
                .map_or(Ok(()), |wanted| agrees(what, found, printed, wanted))
        };
        of(
            "the capacity of a cell",
            found.cell_capacity,
            Printed::Capacity,
            &self.cell_capacity,
        )?;
        of(
            "the voltage of a cell",
            found.cell_voltage,
            Printed::Voltage,
            &self.cell_voltage,
        )
    }
}

const fn word(plausible: Plausible) -> &'static str {
    match plausible {
        Plausible::Yes => "yes",
        Plausible::Suspect => "suspect",
        Plausible::Implausible => "implausible",
    }
}

const fn about(contradiction: &Contradiction) -> &'static str {
    match contradiction {
        Contradiction::Energy { .. } => "energy",
        Contradiction::SeriesOfCode { .. } => "series-of-code",
        Contradiction::ParallelOfCode { .. } => "parallel-of-code",
        Contradiction::CellsOfCode { .. } => "cells-of-code",
        Contradiction::CellsNotShared { .. } => "cells-not-shared",
        Contradiction::NoSeries { .. } => "no-series",
    }
}

#[test]
fn labels_are_decoded_as_the_table_says() {
    Part::read("labels", "labels", 49).run(|row: &LabelRow| {
        let decoded = row.label.decoded()?;
        let arrangements: Vec<String> = decoded
            .readings
            .iter()
            .map(PackReading::arrangement)
            .collect();
        match (&row.best, decoded.readings.first()) {
            (Some(best), Some(found)) => best.is(found)?,
            (best, found) => same(
                "whether there is a reading",
                &found.is_some(),
                &best.is_some(),
            )?,
        }
        let missing: Vec<_> = row
            .also
            .iter()
            .filter(|one| !arrangements.contains(one))
            .collect();
        let wrong: Vec<_> = row
            .never
            .iter()
            .filter(|one| arrangements.contains(one))
            .collect();
        same("what is missing", &missing, &Vec::new())?;
        same("what must not be", &wrong, &Vec::new())?;
        row.only
            .as_ref()
            .map_or(Ok(()), |only| same("the arrangements", &arrangements, only))?;
        let found: Vec<&str> = decoded.contradictions.iter().map(about).collect();
        same(
            "the contradictions",
            &found,
            &row.contradictions.iter().map(String::as_str).collect(),
        )?;
        same(
            "whether it is believable",
            &decoded.is_believable(),
            &row.believable,
        )
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CapacityRow {
    code: String,
    capacity: String,
    plausible: String,
}

#[test]
fn a_capacity_is_plausible_of_a_size_or_is_not() {
    Part::read("labels", "capacities", 19).run(|row: &CapacityRow| {
        let label = Label {
            voltage: Some(read(Printed::Voltage, "3.7 V")),
            capacity: Some(read(Printed::Capacity, &row.capacity)),
            code: Some(&row.code),
            cells: Some(1),
            energy: None,
        };
        let decoded = decode(&label).map_err(|faults| format!("cannot be decoded: {faults:?}"))?;
        let found: Vec<_> = decoded
            .readings
            .iter()
            .map(|reading| (reading.arrangement(), word(reading.plausible())))
            .collect();
        same(
            "the reading",
            &found,
            &vec![("1S1P".to_owned(), row.plausible.as_str())],
        )?;
        same(
            "whether it is believable",
            &decoded.is_believable(),
            &(row.plausible != "implausible"),
        )
    });
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RefusedRow {
    label: Written,
    fault: String,
}

#[test]
fn labels_that_cannot_be_are_refused() {
    Part::read("labels", "refused", 23).run(|row: &RefusedRow| {
        let faults = row.label.decode().err().ok_or("it is decoded")?;
        let words: Vec<&str> = faults.iter().map(fault_word).collect();
        same("the faults", &words, &vec![row.fault.as_str()])
    });
}

const fn fault_word(fault: &LabelFault) -> &'static str {
    match fault {
        LabelFault::NotPositive(_) => "not-positive",
        LabelFault::OutOfReach(_) => "out-of-reach",
        LabelFault::Code(_) => "code",
        LabelFault::Cells(_) => "cells",
        LabelFault::NoVoltage => "no-voltage",
        LabelFault::ClassUnknown(_) => "class-unknown",
        LabelFault::TooMany(_) => "too-many",
        _ => "another",
    }
}
