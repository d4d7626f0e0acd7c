//! Which answers would lift a verdict, as data. The engine tries nothing: somebody who can make the
//! proposal anew finds them, and puts them into the report.

use serde::{Deserialize, Serialize};

use super::verdict::Verdict;

/// Answers that lift the verdict together, where nothing but missing answers holds it. It was tried: a
/// check of the proposal with these values came to a milder verdict, and without any one of them it
/// does not.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WouldLift {
    /// The answers, in the order in which to find them.
    pub answers: Vec<TriedAnswer>,
    /// The verdict then.
    pub verdict: Verdict,
    /// Whether it is shown that fewer answers are never enough.
    pub fewest: bool,
    /// How many checks it took.
    pub checks: usize,
}

/// An answer that was tried. It is one that speaks for the use, and no advice to write it down: what
/// is found is what counts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct TriedAnswer {
    /// Where it is written: `site.current`, `cables[K4].rated.current`.
    pub place: String,
    /// What was written there.
    pub tried: String,
}
