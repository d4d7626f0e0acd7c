//! What a range comes to, as data for programs: its JSON is the published form.

use std::sync::Arc;

use rules_core::check::Verdict;
use rules_core::facts::Notice;
use rules_core::ruleset::{Acceptance, LoadedRuleset, Loosening};
use serde::Serialize;

/// What is shown of a piece of a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// Every value in it passes.
    Pass,
    /// Every value in it warns.
    Warn,
    /// Every value in it is refused, whatever is still open.
    Refuse,
    /// It is not shown to pass, or not shown to be refused less: something else is open.
    Open,
    /// A limit lies in it: it is as narrow as asked for, and its ends are settled.
    Boundary,
    /// It contradicts what else the plan says.
    CannotBe,
    /// There was no check left for it.
    NotSearched,
}

/// What became of a plan over the range of one fact, or over its options.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeReport {
    /// The plan and what was done with it.
    pub search: RangeSearch,
    /// The fact.
    pub fact: RangeFact,
    /// The pieces of its range, from the lowest on; none of a choice.
    pub pieces: Vec<RangePiece>,
    /// What each option of a choice comes to, in the order of the table of facts; none of a number.
    pub options: Vec<RangeOption>,
}

/// What became of a plan over the ranges of two facts.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct MapReport {
    /// The plan and what was done with it.
    pub search: RangeSearch,
    /// The fact that goes across.
    pub across: RangeFact,
    /// The fact that goes up.
    pub up: RangeFact,
    /// Rectangles that cover the map and meet at their edges only.
    pub areas: Vec<MapArea>,
}

/// A plan whose facts are varied, and what was done with it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeSearch {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "rules_core::schema::format_one")
    )]
    pub format: u32,
    /// The title of the plan.
    pub title: String,
    /// Its file or stream.
    pub proposal: String,
    /// The stages that were asked for; none for all of it.
    pub stages: Vec<String>,
    /// The names of the cautions that read what is varied, directly or through figures. Without any
    /// the verdict is the same whatever it is.
    pub bearing: Vec<Arc<str>>,
    /// What all other cautions come to, which is the same for every value.
    pub apart: RangeApart,
    /// How many checks were made.
    pub checks: usize,
    /// How many there could have been.
    pub most_checks: usize,
    /// The rulesets that took part.
    pub rules: Vec<LoadedRuleset>,
    /// The acceptance that they have. It is guarded here whatever it is: what is proved of a piece has
    /// to hold for each value in it.
    pub acceptance: Acceptance,
    /// What local practice loosened.
    pub loosened: Vec<Loosening>,
    /// What regulators and makers say of any such use. No verdict overrules it.
    pub notice: Vec<Notice>,
}

/// A fact that is varied.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeFact {
    /// Where it is written in the plan: `cells[K4].capacity.value`.
    pub path: String,
    /// Its dotted name: `cell.capacity`.
    pub name: String,
    /// What it is.
    pub meaning: String,
    /// The kind of value.
    pub kind: String,
    /// The unit of all numbers of it here; empty for plain numbers and words.
    pub unit: String,
    /// What the plan has, as it is written; none if it has nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own: Option<String>,
    /// The least and the most that this can be, in `unit`; none of a choice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own_range: Option<[f64; 2]>,
    /// From where to where it is varied; none of a choice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub range: Option<RangeEnds>,
    /// Where these ends come from.
    pub chosen: String,
    /// How narrow a piece is at the most that is split no more; none of a choice.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resolution: Option<String>,
    /// The same as a number, in `unit`; of a temperature in kelvins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub step: Option<f64>,
}

/// From where to where, both included.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeEnds {
    /// The first value.
    pub from: RangeEnd,
    /// The last value.
    pub to: RangeEnd,
}

/// An end of a range.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeEnd {
    /// As a text: `1.62 A`.
    pub text: String,
    /// The number, in the unit of the fact.
    pub value: f64,
}

/// What the cautions come to that do not read what is varied.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeApart {
    /// Their verdict.
    pub verdict: Verdict,
    /// The lowest that what is known allows.
    pub best: Verdict,
    /// Those that do not pass, the gravest first.
    pub cautions: Vec<RangeCaution>,
    /// What leaves them open, what changes most first.
    pub open: Vec<RangeOpen>,
}

/// A caution that does not pass.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeCaution {
    /// Its name.
    pub caution: Arc<str>,
    /// What it is about.
    pub title: Arc<str>,
    /// Of whom it does not: cells, groups, packs. Empty where there is only one.
    pub subjects: Vec<String>,
    /// The gravest verdict that it gives there.
    pub verdict: Verdict,
    /// The lowest that what is known allows.
    pub best: Verdict,
}

/// A fact that leaves cautions open.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeOpen {
    /// Its dotted name.
    pub fact: String,
    /// Where it is written in the plan, of all of whom it is: `cells[K4 K7].capacity.value`.
    pub place: String,
    /// Whether it is missing (true) or given too widely (false).
    pub missing: bool,
}

/// A piece of a range.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangePiece {
    /// The first value.
    pub from: RangeEnd,
    /// The last value.
    pub to: RangeEnd,
    /// Whether some of what the plan has lies in it.
    pub holds_own: bool,
    /// What it comes to.
    pub found: RangeFound,
}

/// A rectangle of a map.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct MapArea {
    /// From where to where it goes across.
    pub across: RangeEnds,
    /// From where to where it goes up.
    pub up: RangeEnds,
    /// Which columns of the map it takes, from the left, and the first that it does not.
    pub columns: [usize; 2],
    /// Which rows, from the bottom, and the first that it does not.
    pub rows: [usize; 2],
    /// What it comes to.
    pub found: RangeFound,
}

/// An option of a choice.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeOption {
    /// The word.
    pub option: String,
    /// Whether the plan has it.
    pub is_own: bool,
    /// What it comes to.
    pub found: RangeFound,
}

/// What a piece comes to.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct RangeFound {
    /// By all that was asked for.
    pub class: Class,
    /// By the cautions that read what is varied, without all others.
    pub alone: Class,
    /// The verdict of all that was asked for, the gravest in the piece; none where nothing was checked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub verdict: Option<Verdict>,
    /// The lowest that what is known allows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub best: Option<Verdict>,
    /// The cautions that read what is varied and do not pass here; of a boundary those that change at
    /// it.
    pub cautions: Vec<RangeCaution>,
    /// What leaves them open, what changes most first.
    pub open: Vec<RangeOpen>,
    /// Why it cannot be, where it contradicts what else the plan says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contradiction: Option<String>,
}
