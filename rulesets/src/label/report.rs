//! What a label says, as data for programs: its JSON is the published form.

use serde::Serialize;

use rules_core::facts::Notice;
use rules_core::quantity::{Interval, Kind, Measure};
use rules_core::report::{measure, significant};

use super::code::ClassLetters;
use super::contradiction::Contradiction;
use super::credible::Family;
use super::decode::Decoded;
use super::pack::Amount;
use super::pack_reading::{Doubt, PackReading, Plausible};
use super::printed::{Label, Printed};
use super::words;

/// What a label says of the cells in a pack.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LabelReport {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "rules_core::schema::format_one")
    )]
    pub format: u32,
    /// Nominal voltage of the pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage: Option<LabelNumber>,
    /// Rated capacity of the pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capacity: Option<LabelNumber>,
    /// Energy of the pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub energy: Option<LabelNumber>,
    /// The designation code, as printed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub code: Option<String>,
    /// The cells that were counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted: Option<u32>,
    /// Whether the label contradicts neither itself nor the count, and leaves a reading whose cells
    /// can exist.
    pub believable: bool,
    /// Every arrangement that the label allows, the likeliest first.
    pub readings: Vec<LabelReading>,
    /// Where the label contradicts itself or the count, in any rounding.
    pub contradictions: Vec<LabelContradiction>,
    /// What a label does not prove.
    pub caution: &'static str,
    /// What regulators and makers say of any use of cells out of packs. No label overrules it.
    pub notice: Vec<Notice>,
}

/// A number of a label or of a cell, with its interval.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LabelNumber {
    /// As a text: `5.60 Ah ± 0.05 Ah`.
    pub text: String,
    /// The low end, in `unit`.
    pub low: f64,
    /// The high end, in `unit`.
    pub high: f64,
    /// The unit of the two: V, Ah or Wh.
    pub unit: String,
    /// Whether it is worked out from other numbers of the label and not printed.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub worked_out: bool,
}

/// An arrangement that the label allows.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LabelReading {
    /// Groups in series and cells in parallel: `3S2P`; `3S` if nothing says how many are in
    /// parallel.
    pub arrangement: String,
    /// Groups in series.
    pub series: u32,
    /// Cells in parallel; left out if nothing says how many.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub parallel: Option<u32>,
    /// All cells; left out if nothing says how many are in parallel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cells: Option<u32>,
    /// The cells by their nominal voltage.
    pub family: Family,
    /// The class of the cells, if the code says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub class: Option<ClassLetters>,
    /// Nominal voltage of a cell by the label.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cell_voltage: Option<LabelNumber>,
    /// Rated capacity of a cell by the label.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cell_capacity: Option<LabelNumber>,
    /// Whether it can be true of real cells.
    pub plausible: Plausible,
    /// What speaks against it.
    pub doubts: Vec<LabelDoubt>,
}

/// What speaks against a reading.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LabelDoubt {
    /// What it is about.
    pub about: DoubtAbout,
    /// In words, with the numbers.
    pub says: String,
}

/// What a doubt is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum DoubtAbout {
    /// The nominal voltage of a cell.
    Voltage,
    /// The capacity of a cell.
    Capacity,
    /// The number of cells.
    Cells,
    /// The class of the cells.
    Class,
}

/// A contradiction.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LabelContradiction {
    /// What it is about.
    pub about: ContradictionAbout,
    /// In words, with the numbers.
    pub says: String,
}

/// What a contradiction is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum ContradictionAbout {
    /// Voltage times capacity against the energy.
    Energy,
    /// The series of the code against the voltage.
    SeriesOfCode,
    /// The parallel of the code against the capacity.
    ParallelOfCode,
    /// The cells of the code against the count.
    CellsOfCode,
    /// The count against the series that the voltage allows.
    CellsNotShared,
    /// The voltage against every number in series.
    NoSeries,
}

/// What a label does not prove.
const CAUTION: &str = "A label proves nothing of a pack that was rewrapped or rebuilt, nor of the state of its cells. Count the cells, read their own \
                       sleeves and measure them.";

impl LabelReport {
    /// What was found in a label.
    #[must_use]
    pub fn new(label: &Label<'_>, decoded: &Decoded, notice: &[Notice]) -> Self {
        let pack = &decoded.pack;
        Self {
            format: 1,
            voltage: pack.voltage.map(|amount| of_pack(amount, Printed::Voltage)),
            capacity: pack
                .capacity
                .map(|amount| of_pack(amount, Printed::Capacity)),
            energy: pack.energy.map(|amount| of_pack(amount, Printed::Energy)),
            code: label.code.map(|code| code.trim().to_owned()),
            counted: label.cells,
            believable: decoded.is_believable(),
            readings: decoded.readings.iter().map(reading).collect(),
            contradictions: decoded.contradictions.iter().map(contradiction).collect(),
            caution: CAUTION,
            notice: notice.to_vec(),
        }
    }
}

fn of_pack(amount: Amount, printed: Printed) -> LabelNumber {
    LabelNumber {
        worked_out: amount.worked_out,
        ..number(amount.range, printed.kind())
    }
}

fn number(range: Interval, kind: Kind) -> LabelNumber {
    let text = measure(Measure::of(range), kind);
    LabelNumber {
        text,
        low: significant(range.lo(), 9),
        high: significant(range.hi(), 9),
        unit: kind.base_unit().to_owned(),
        worked_out: false,
    }
}

fn reading(reading: &PackReading) -> LabelReading {
    LabelReading {
        arrangement: reading.arrangement(),
        series: reading.series,
        parallel: reading.parallel,
        cells: reading.cells(),
        family: reading.family,
        class: reading.class,
        cell_voltage: reading
            .cell_voltage
            .map(|voltage| number(voltage, Kind::Voltage)),
        cell_capacity: reading
            .cell_capacity
            .map(|capacity| number(capacity, Kind::Charge)),
        plausible: reading.plausible(),
        doubts: reading
            .doubts
            .iter()
            .map(|doubt| LabelDoubt {
                about: about(doubt),
                says: words::doubt(doubt, reading),
            })
            .collect(),
    }
}

const fn about(doubt: &Doubt) -> DoubtAbout {
    match doubt {
        Doubt::Voltage { .. } => DoubtAbout::Voltage,
        Doubt::Capacity(_) => DoubtAbout::Capacity,
        Doubt::Cells { .. } => DoubtAbout::Cells,
        Doubt::Class => DoubtAbout::Class,
    }
}

fn contradiction(found: &Contradiction) -> LabelContradiction {
    let about = match found {
        Contradiction::Energy { .. } => ContradictionAbout::Energy,
        Contradiction::SeriesOfCode { .. } => ContradictionAbout::SeriesOfCode,
        Contradiction::ParallelOfCode { .. } => ContradictionAbout::ParallelOfCode,
        Contradiction::CellsOfCode { .. } => ContradictionAbout::CellsOfCode,
        Contradiction::CellsNotShared { .. } => ContradictionAbout::CellsNotShared,
        Contradiction::NoSeries { .. } => ContradictionAbout::NoSeries,
    };
    LabelContradiction {
        about,
        says: words::contradiction(found),
    }
}
