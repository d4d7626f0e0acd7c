//! What programs are told in place of an answer.

use serde::{Deserialize, Serialize};

use crate::document::ProblemList;

/// What stands in place of a report or another answer where something cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ProblemRecord {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::format_one")
    )]
    pub format: u32,
    /// The line of a stream that cannot be used, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<usize>,
    /// The proposal that cannot be used: its file or stream.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub proposal: Option<String>,
    /// The ruleset that cannot be used, as it was named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ruleset: Option<String>,
    /// Every problem found.
    #[cfg_attr(feature = "schema", schemars(with = "Vec<crate::document::Problem>"))]
    pub problems: ProblemList,
}

impl ProblemRecord {
    /// Of what has no name of its own.
    #[must_use]
    pub const fn of(problems: ProblemList) -> Self {
        Self {
            format: 1,
            line: None,
            proposal: None,
            ruleset: None,
            problems,
        }
    }

    /// Of a line of a stream.
    #[must_use]
    pub fn of_line(line: usize, problems: ProblemList) -> Self {
        Self {
            line: Some(line),
            ..Self::of(problems)
        }
    }

    /// Of a proposal.
    #[must_use]
    pub fn of_proposal(name: &str, problems: ProblemList) -> Self {
        Self {
            proposal: Some(name.to_owned()),
            ..Self::of(problems)
        }
    }

    /// Of a ruleset.
    #[must_use]
    pub fn of_ruleset(name: &str, problems: ProblemList) -> Self {
        Self {
            ruleset: Some(name.to_owned()),
            ..Self::of(problems)
        }
    }
}
