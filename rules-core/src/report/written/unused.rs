//! Readings that no figure can use, as they are written.

use serde::Serialize;

use super::tables::Tables;
use crate::check::UnusedReadings;

/// Readings that were given and that no figure of the library can use.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "UnusedReadings", deny_unknown_fields)
)]
pub(super) struct WrittenUnused<'w> {
    /// The dotted names of the facts that were given.
    facts: &'w [String],
    /// Whose they are: one of `sets`.
    subjects: usize,
    /// Why they cannot be used, and what would mend it.
    why: &'w str,
}

/// All that could not be used, in order.
pub(super) fn unused<'w>(
    all: &'w [UnusedReadings],
    tables: &mut Tables<'w>,
) -> Vec<WrittenUnused<'w>> {
    all.iter()
        .map(|one| WrittenUnused {
            facts: &one.facts,
            subjects: tables.set_of(&one.subjects),
            why: &one.why,
        })
        .collect()
}
