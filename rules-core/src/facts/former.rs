//! Names that a trade used before, and what takes their place.

use std::collections::BTreeMap;

/// What takes the place of a name that is no longer in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Successor {
    /// The full name of the fact or figure that rules use now.
    pub now: String,
    /// What to write in a proposal, where that is more than the place of the fact.
    pub write: Option<String>,
}

/// The former names of facts and figures, each with what takes its place.
pub type FormerNames = BTreeMap<String, Successor>;
