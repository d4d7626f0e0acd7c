//! What to measure next, where several entries of the list differ in their subject only as one.

use serde::Serialize;

use super::tables::Tables;
use crate::check::{MeasureNext, Verdict};

/// Something to measure, or to state, next.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "MeasureNext", deny_unknown_fields)
)]
pub(super) struct WrittenNext<'w> {
    /// The fact's dotted name.
    pub fact: &'w str,
    /// Whose it is: one of `sets`, of each of which it is one thing to measure.
    pub subjects: usize,
    /// What it is.
    meaning: &'w str,
    /// Whether it is missing (true) or given too widely (false).
    pub missing: bool,
    /// The gravest verdict that it leaves open.
    pub leaves_open: Verdict,
    /// How many findings it leaves open, of each.
    pub findings: usize,
    /// Whether knowing it alone could improve the verdict of the report.
    pub could_improve: bool,
}

/// What to measure next, in order.
pub(super) fn next<'w>(all: &'w [MeasureNext], tables: &mut Tables<'w>) -> Vec<WrittenNext<'w>> {
    all.chunk_by(MeasureNext::is_alike)
        .filter_map(|alike| {
            let first = alike.first()?;
            Some(WrittenNext {
                fact: &first.fact,
                subjects: tables.set_in_order(alike.iter().map(|one| &one.subject)),
                meaning: &first.meaning,
                missing: first.missing,
                leaves_open: first.leaves_open,
                findings: first.findings,
                could_improve: first.could_improve,
            })
        })
        .collect()
}
