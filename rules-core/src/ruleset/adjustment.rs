//! What became of a limit after it was defined.

use serde::Serialize;

use super::loosening::Loosening;

/// A limit adjusted by a ruleset, to be stricter or laxer.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Adjustment {
    /// The ruleset that adjusts.
    pub by: String,
    /// What it was.
    pub from: String,
    /// What it is then.
    pub to: String,
    /// The reason given, which is needed where it loosens.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}

/// A merged file tells of loosenings alone: what was tightened stands in it as if it were defined so.
impl From<&Loosening> for Adjustment {
    fn from(loosening: &Loosening) -> Self {
        Self {
            by: loosening.by.clone(),
            from: loosening.from.clone(),
            to: loosening.to.clone(),
            because: Some(loosening.because.clone()),
        }
    }
}
