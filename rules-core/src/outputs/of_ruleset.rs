//! What was found in a ruleset that was vetted, or whose cases were run.

use std::sync::Arc;

use crate::document::Problem;
use crate::facts::Notice;
use crate::ruleset::LoadedRuleset;

/// What was found in a ruleset.
#[derive(Debug, Clone, Copy)]
pub struct OfRuleset<'a> {
    /// The ruleset, as it was named.
    pub ruleset: &'a str,
    /// Whether it can be used at all.
    pub loads: bool,
    /// What is to be corrected, cases that were run apart.
    pub problems: &'a [Problem],
    /// What is worth a look and no fault.
    pub worth_a_look: &'a [Problem],
    /// The cautions whose cases were run.
    pub cases: &'a [CasesOf],
    /// The ruleset with those that it extends.
    pub layers: &'a [LoadedRuleset],
    /// The standing notice of it.
    pub notice: &'a [Notice],
}

/// What the cases of one caution gave.
#[derive(Debug, Clone)]
pub struct CasesOf {
    /// The caution.
    pub caution: Arc<str>,
    /// How many cases it has.
    pub cases: usize,
    /// Those that gave something else than they expect, as many as are kept.
    pub failed: Vec<Problem>,
}

impl<'a> OfRuleset<'a> {
    /// Everything that is to be corrected.
    pub(super) fn to_correct(self) -> impl Iterator<Item = &'a Problem> {
        let failed = self.cases.iter().flat_map(|of| &of.failed);
        self.problems.iter().chain(failed)
    }
}
