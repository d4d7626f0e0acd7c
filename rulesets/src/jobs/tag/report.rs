//! Tags of cells, as data for programs: their JSON is the published form.

use rules_core::facts::Notice;
use rules_core::ruleset::{Acceptance, Loosening};
use serde::Serialize;

use crate::jobs::sort::{CellKnown, Grade};

/// What every tag says: a grade is no release.
pub(super) const NO_RELEASE: &str = "sorted by rules, not approved";

/// How much a label holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TagSize {
    /// Letters of a line.
    pub columns: usize,
    /// Lines.
    pub lines: usize,
}

impl Default for TagSize {
    fn default() -> Self {
        Self {
            columns: 32,
            lines: 6,
        }
    }
}

/// Tags of cells.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct TagReport {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "rules_core::schema::format_one")
    )]
    pub format: u32,
    /// The title of the bench.
    pub bench: String,
    /// The day on which readings count; none if the bench has no dated readings and none was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub as_of: Option<String>,
    /// What decided where a value is in doubt.
    pub acceptance: Acceptance,
    /// The digest of the rules.
    pub digest: String,
    /// What local practice loosened.
    pub loosened: Vec<Loosening>,
    /// What every tag says of itself.
    pub caution: &'static str,
    /// The tags, in the order in which people count.
    pub tags: Vec<CellTag>,
    /// What regulators and makers say of any use of cells out of packs. No tag overrules it.
    pub notice: Vec<Notice>,
}

/// The tag of a cell.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct CellTag {
    /// The id of the cell.
    pub id: String,
    /// What becomes of it.
    pub grade: Grade,
    /// What is known of it, as it was written.
    pub known: CellKnown,
    /// The lights that it may go into alone, by the cell and its fit.
    pub alone: Vec<String>,
    /// The lights that take more cells, and that nothing about this one keeps it out of.
    pub with_others: Vec<String>,
    /// The keys of what is missing.
    pub questions: Vec<String>,
    /// What is printed: as many lines as the label has, none longer than asked for.
    pub lines: Vec<String>,
}
