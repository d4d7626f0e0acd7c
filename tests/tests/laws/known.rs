//! Violations that are known and not yet mended. Each has a test of its own, ignored until then; the laws step around them.

use super::vocabulary::FactAt;

/// A fold over groups that looks at the cell a formula is about has one result for all cells.
pub(crate) const OUTER_CELLS: bool = true;

/// Facts of which the engine says more than it knows.
pub(crate) fn shunned() -> Vec<FactAt> {
    Vec::new()
}

/// A report in which no caution surely applies can be a pass, where nothing may have been checked.
pub(crate) const NOTHING_SURELY_CHECKED: bool = true;
