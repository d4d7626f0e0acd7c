//! Violations that are known and not yet mended. Each has a test of its own, ignored until then; the laws step around them.

use rules_core::report::Verdict;
use rules_core::ruleset::IfUnmeasured;

use super::setting::Outcome;
use super::vocabulary::{FactAt, fact_named};

/// Facts of which the engine says more than it knows.
pub(crate) fn shunned() -> Vec<FactAt> {
    // A group that nobody named is called after its cell, or `1`, as if that were known.
    Vec::new()
}

/// A report in which no caution surely applies can be a pass, where nothing may have been checked.
pub(crate) const NOTHING_SURELY_CHECKED: bool = false;

/// A reading whose digits are wider than its meter does not share the meter's gain; with a worse meter it does, and differences get narrower.
pub(crate) const GAIN_OF_METERS_ALONE: bool = false;

/// Of a doubt and a missing fact in one `or` the doubt counts, so that deciding it the bad way leaves the missing one, which `if_unmeasured: warn` softens.
pub(crate) const DOUBT_OUTWEIGHS_WHAT_IS_MISSING: bool = false;

/// See below.
pub(crate) const DOUBT_HIDES_WHAT_IS_MISSING: bool = false;

/// With `if_unmeasured: refuse` a missing fact makes a warn rung refuse, and a doubt beside it hides that.
pub(crate) fn doubt_hides_what_is_missing(if_unmeasured: Option<IfUnmeasured>, warns: bool, old: Outcome, new: Outcome) -> bool {
    DOUBT_HIDES_WHAT_IS_MISSING
        && if_unmeasured == Some(IfUnmeasured::Refuse)
        && warns
        && old.worst == Verdict::Refuse
        && new.worst == Verdict::Warn
}

/// A clause lists 24 of its facts; which ones, and how many more it says there are, hangs on the order of the cells.
pub(crate) const FIRST_FACTS_ALONE: bool = false;

/// Where groups are not known, the first cell without a group stands for all.
pub(crate) const GROUP_OF_THE_FIRST_CELL: bool = false;
