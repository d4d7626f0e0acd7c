//! The standing notice: what every report says, whatever its verdict.

use serde::{Deserialize, Serialize};

use crate::document::{Entry, Fields, Problems, word};
use crate::snapshot::stored;

/// One point of the notice, with who says it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Notice {
    /// Its name, which no other point has.
    pub id: String,
    /// What is said.
    pub says: String,
    /// The same in a few words, for where there is little room.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub short: Option<String>,
    /// Who says it, and where.
    pub source: String,
}

/// Reads a point of the notice: `id: { says: ..., short: ..., source: ... }`.
pub fn read_notice(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<Notice> {
    word(&entry.key, entry.key_span, problems);
    let mut fields = Fields::of(&entry.node, "a point of the notice", problems)?;
    let says = fields.must_text("says", problems).map(str::to_owned);
    let short = fields.may_text("short", problems).map(str::to_owned);
    let source = fields.must_text("source", problems).map(str::to_owned);
    fields.finish(problems);
    Some(Notice {
        id: entry.key.to_string(),
        says: says?,
        short,
        source: source?,
    })
}

stored!(struct Notice { id, says, short, source });
