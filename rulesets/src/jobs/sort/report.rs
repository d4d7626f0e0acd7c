//! Sorted cells, as data for programs: their JSON is the published form.

use rules_core::check::{Status, Verdict};
use rules_core::facts::Notice;
use rules_core::ruleset::{Acceptance, LoadedRuleset, Loosening};
use serde::Serialize;

use super::grade::Grade;
use super::suits::Suits;

/// The cells of a bench, sorted.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct SortReport {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "rules_core::schema::format_one")
    )]
    pub format: u32,
    /// The title of the bench.
    pub bench: String,
    /// The digest of all that the bench says.
    pub bench_digest: String,
    /// The day on which readings count; none if the bench has no dated readings and none was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_of: Option<String>,
    /// What decided where a value is in doubt.
    pub acceptance: Acceptance,
    /// The rulesets that took part.
    pub rules: Vec<LoadedRuleset>,
    /// The digest of the rules.
    pub digest: String,
    /// What local practice loosened.
    pub loosened: Vec<Loosening>,
    /// How many cells have each grade.
    pub counts: GradeCounts,
    /// The lights of the bench, by name; none if the rules keep nothing out of a light.
    pub lights: Vec<SortedLight>,
    /// The cells, in the order in which people count.
    pub cells: Vec<SortedCell>,
    /// What regulators and makers say of any use of cells out of packs. No grade overrules it.
    pub notice: Vec<Notice>,
}

/// How many cells have each grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct GradeCounts {
    /// All cells.
    pub cells: usize,
    /// No caution objects.
    pub sound: usize,
    /// A caution warns.
    pub watch: usize,
    /// A caution refuses for what is missing or in doubt.
    pub to_test: usize,
    /// A caution surely refuses the cell as it is now.
    pub set_aside: usize,
    /// A caution surely refuses the cell for good.
    pub retire: usize,
}

impl GradeCounts {
    /// Of cells.
    #[must_use]
    pub fn of(cells: &[SortedCell]) -> Self {
        let of = |grade: Grade| cells.iter().filter(|cell| cell.grade == grade).count();
        Self {
            cells: cells.len(),
            sound: of(Grade::Sound),
            watch: of(Grade::Watch),
            to_test: of(Grade::ToTest),
            set_aside: of(Grade::SetAside),
            retire: of(Grade::Retire),
        }
    }
}

/// A light of the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct SortedLight {
    /// Its name.
    pub light: String,
    /// How its cells are joined: `2S1P`; left out if the bench does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arrangement: Option<String>,
    /// How many cells it takes; left out if the bench does not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub takes: Option<usize>,
}

/// A cell with its grade.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct SortedCell {
    /// Its id.
    pub id: String,
    /// What becomes of it.
    pub grade: Grade,
    /// The best grade that what is known of it allows.
    pub best: Grade,
    /// The worst grade that what is known of it allows.
    pub worst: Grade,
    /// What gives the grade; left out of a sound cell, and where nothing was checked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub decided_by: Option<DecidedBy>,
    /// How many more findings give the same grade.
    pub more: usize,
    /// What to read or answer next: what leaves that finding open. None where nothing does.
    pub next: Vec<NextReading>,
    /// All that is missing of the cell and could change its grade, what changes most first.
    pub questions: Vec<NextReading>,
    /// The light that it is in, by the bench.
    #[serde(rename = "in", skip_serializing_if = "Option::is_none")]
    pub in_light: Option<String>,
    /// What is known of it, as it was written.
    pub known: CellKnown,
    /// All dated readings of it that are not later than the day, the oldest first, whether they still
    /// count or not.
    pub readings: Vec<CellReading>,
    /// The lights of the bench in their order, and whether it may go into each.
    pub lights: Vec<LightEntry>,
}

/// What was read of a cell on a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct CellReading {
    /// The day.
    pub date: String,
    /// What was read, as in the headings of a table: `rest.voltage`.
    pub key: String,
    /// As it was written, with its unit.
    pub value: String,
    /// Whether the cell was charged or discharged since the same was read before.
    pub moved: bool,
}

/// A finding that gives a grade.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct DecidedBy {
    /// The name of the caution.
    pub caution: String,
    /// What it is about.
    pub title: String,
    /// The stage that it is of; left out if it is of every stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stage: Option<String>,
    /// Its verdict.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The number, or the word that decided, where it can be said shortly: `1.62 V`, `wrap torn`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<String>,
    /// The limit that the number was held against: `2 V`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<String>,
    /// How sure it is.
    pub status: Status,
}

/// Something to read or to answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct NextReading {
    /// Where it is written: `cells[K5].rest.voltage`.
    pub place: String,
    /// The key alone, as in the headings of a table: `rest.voltage`.
    pub key: String,
    /// What it is.
    pub meaning: String,
    /// Whether it is missing, or else given too widely.
    pub missing: bool,
}

/// What is known of a cell, as it was written.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct CellKnown {
    /// What it gives, by its first test.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capacity: Option<String>,
    /// Its resistance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistance: Option<String>,
    /// Its rest voltage, if that still counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest_voltage: Option<String>,
    /// Its voltage when it came out of its pack.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub found_voltage: Option<String>,
    /// The date of its newest reading that counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub read_on: Option<String>,
}

/// A cell in a light.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LightEntry {
    /// The light.
    pub light: String,
    /// Whether the cell may go into it.
    pub suits: Suits,
    /// The caution of its fit that keeps it out, if one does that for sure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kept_out_by: Option<KeptOutBy>,
}

/// A caution that keeps a cell out of a light.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct KeptOutBy {
    /// Its name.
    pub caution: String,
    /// What it is about.
    pub title: String,
}
