//! What would change a verdict, as data. The engine tries nothing: somebody who can make the proposal
//! anew finds it, and puts it into the report.

use serde::{Deserialize, Serialize};

use super::verdict::Verdict;

/// What could be done otherwise so that a refused proposal is refused no more. All of it was tried: a
/// check of the proposal with these values came to this.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WouldChange {
    /// How many cautions refuse that changes are to lift.
    pub against: usize,
    /// Each change that is enough by itself, at the nearest value that was found.
    pub alone: Vec<Turn>,
    /// Changes that are enough together, where none is by itself.
    pub together: Option<Together>,
    /// The entry of a list that, in place of one of the proposal, lifts the most of what is against it,
    /// where nothing is enough.
    pub partly: Option<Turn>,
    /// The cautions that only other entries of a list could lift, where nothing is enough.
    pub only_others: Option<OnlyOthers>,
    /// The cautions that nothing lifts that can be changed here, by id. Their remedies say what does.
    pub stands: Vec<String>,
    /// How many checks it took.
    pub checks: usize,
    /// Whether everything was tried that could be changed here. If not, there were too many values or
    /// entries.
    pub all_tried: bool,
}

/// Cautions that no value lifts that can be changed here, and other entries of a list may.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct OnlyOthers {
    /// The list: `cables`.
    pub list: String,
    /// The cautions, by id.
    pub cautions: Vec<String>,
}

/// Something done otherwise, and what a check of it came to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Turn {
    /// What is changed.
    pub changes: Vec<Change>,
    /// The verdict then.
    pub verdict: Verdict,
    /// The lowest verdict that what is known would allow then.
    pub best: Verdict,
    /// How many of the cautions that refuse it lifts.
    pub lifts: usize,
}

/// Changes that are enough together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Together {
    /// The changes, and what they come to.
    pub turn: Turn,
    /// Whether it is shown that fewer of what can be changed here are never enough.
    pub fewest: bool,
}

/// A value of a proposal, or an entry of its lists, that is changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Change {
    /// Where it is written: `site.current`, `cables[K4]`.
    pub place: String,
    /// What stands there; empty for an entry that joins a list.
    pub is: String,
    /// What is to stand there: any one of these. None for an entry that is left out of a list.
    pub to: Vec<String>,
}
