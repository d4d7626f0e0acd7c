//! What was chosen, as data for programs: its JSON is the published form.

use std::sync::Arc;

use rules_core::check::{Outcome, Verdict};
use rules_core::facts::Notice;
use rules_core::ruleset::{Acceptance, LoadedRuleset, Loosening};
use serde::Serialize;
use serde_json::{Value, json};

use crate::jobs::entries::in_group;
use crate::proposal::{Arrangement, group_label, needs_labels};

/// The cells that were chosen for a light, and what is known of all other sets.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Choice {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "rules_core::schema::format_one")
    )]
    pub format: u32,
    /// The title of the plan.
    pub title: String,
    /// The light of the bench, where the plan names one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub light: Option<String>,
    /// How cells are joined: `2S1P`.
    pub arrangement: String,
    /// How many cells were offered.
    pub offered: usize,
    /// The sets, the best first. Where some pass, and others were not asked for, they are those that
    /// pass; where none does, those that come nearest.
    pub sets: Vec<ChosenSet>,
    /// What was searched.
    pub searched: Searched,
    /// What keeps cells out whatever stands beside them.
    pub in_the_way: InTheWay,
    /// Cells that were not offered, for they are in another light.
    pub in_other_lights: Vec<InOtherLight>,
    /// Cells of which no proposal can be made.
    pub unreadable: Vec<Unreadable>,
    /// What decided where a value was in doubt.
    pub acceptance: Acceptance,
    /// The rulesets that took part.
    pub rules: Vec<LoadedRuleset>,
    /// The digest of the rules.
    pub digest: String,
    /// What local practice loosened.
    pub loosened: Vec<Loosening>,
    /// What regulators and makers say of any such use. No verdict overrules it.
    pub notice: Vec<Notice>,
}

/// A set of cells.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct ChosenSet {
    /// Its cells by name: each list is a parallel group, and the groups stand in series.
    pub groups: Vec<Vec<String>>,
    /// How it stands.
    pub stands: Stands,
    /// Its verdict, and what else that could be.
    pub outcome: Outcome,
    /// How many findings refuse whatever is still open.
    pub refused: usize,
    /// How many findings warn whatever is still open.
    pub warned: usize,
    /// How many findings are open: an answer or a better reading could change them.
    pub open: usize,
    /// How many questions a check of it asks.
    pub questions: usize,
    /// What speaks against it whatever is still open, the gravest first.
    pub against: Vec<AgainstSet>,
    /// The narrowest of all margins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub narrowest: Option<SetMargin>,
    /// The narrowest of those that are not the same with any of the cells offered, nor in all sets that
    /// are told; at most 5.
    pub margins: Vec<SetMargin>,
}

impl ChosenSet {
    /// Its cells as a plan of the light lists them, by their names on the bench.
    #[must_use]
    pub fn entries(&self, choice: &Choice) -> Value {
        let labelled = Arrangement::parse(&choice.arrangement).is_some_and(needs_labels);
        let groups = self.groups.iter().enumerate();
        let all = groups.flat_map(|(at, group)| {
            let label = labelled.then(|| group_label(at));
            let entry = move |cell: &String| in_group(&json!(cell), label.as_deref());
            group.iter().map(entry)
        });
        all.collect()
    }
}

/// How a set stands, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Stands {
    /// It passes.
    Passes,
    /// Nothing is against it, and it does not pass as long as findings are open.
    NothingAgainst,
    /// It warns.
    Warns,
    /// Nothing worse than a warning is against it, and it refuses as long as findings are open.
    NothingRefuses,
    /// It refuses, whatever is still open.
    Refused,
}

impl Stands {
    /// That of an outcome.
    #[must_use]
    pub const fn of(outcome: Outcome) -> Self {
        match (outcome.best, outcome.verdict) {
            (Verdict::Pass, Verdict::Pass) => Self::Passes,
            (Verdict::Pass, _) => Self::NothingAgainst,
            (Verdict::Warn, Verdict::Refuse) => Self::NothingRefuses,
            (Verdict::Warn, _) => Self::Warns,
            (Verdict::Refuse, _) => Self::Refused,
        }
    }
}

/// A caution that speaks against a set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct AgainstSet {
    /// The caution.
    pub caution: Arc<str>,
    /// What it is about.
    pub title: Arc<str>,
    /// Whom it is of: `cell K4`, `build`.
    pub subject: String,
    /// What it comes to at the least.
    pub verdict: Verdict,
}

/// By how much a caution is passed.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct SetMargin {
    /// The caution.
    pub caution: Arc<str>,
    /// What it is about.
    pub title: Arc<str>,
    /// Whom it is of: `cell K4`, `build`.
    pub subject: String,
    /// The distance from what it is compared with, at the worst, in per cent of that.
    pub percent: f64,
    /// The limit that it is compared with, where it is one, as it is written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<String>,
    /// The name of that limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit_name: Option<String>,
}

/// What was searched. Numbers that are too great to count are 18446744073709551615.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Searched {
    /// How many sets there are. Groups that change places, and cells that do so in a group, make no
    /// other set.
    pub sets: u64,
    /// How many were checked whole.
    pub checked: u64,
    /// How many checks were made of single cells, of two, and of one or two groups.
    pub parts: usize,
    /// How many sets could be as good as those told and were not checked. None, where what is told was
    /// proved to be the best of all.
    pub unsearched: u64,
}

/// What keeps cells out whatever stands beside them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct InTheWay {
    /// What refuses with any cells.
    pub any_cells: Vec<AgainstSet>,
    /// How many of the cells are refused in any set.
    pub refused_cells: usize,
    /// By which cautions, that of the most cells first.
    pub by: Vec<RefusedCells>,
}

/// The cells that a caution refuses in any set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct RefusedCells {
    /// The caution.
    pub caution: Arc<str>,
    /// What it is about.
    pub title: Arc<str>,
    /// The cells, in order.
    pub cells: Vec<String>,
}

/// A cell that is in another light.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct InOtherLight {
    /// The cell.
    pub cell: String,
    /// The light.
    pub light: String,
}

/// A cell of which no proposal can be made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Unreadable {
    /// The cell.
    pub cell: String,
    /// What is wrong, one sentence each.
    pub says: Vec<String>,
}
