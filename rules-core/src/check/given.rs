//! The facts of a proposal, without contradictions.

use std::borrow::Cow;

use super::assumed::by_assumed_meters;
use crate::document::{ProblemList, Problems, SetAside, Source, Span};
use crate::facts::{Proposed, Sheet, add_clashes};
use crate::ruleset::Rules;

/// The facts that a proposal gives, with those that the rules declare.
///
/// # Errors
///
/// Facts under `extra` that the rules do not declare, or whose values do not fit; a meter that is too
/// coarse for the rules; readings of one thing that cannot both be true; facts that surely break a relation of the catalogue.
pub fn given<'p>(rules: &Rules, proposal: &'p dyn Proposed) -> Result<Cow<'p, Sheet>, ProblemList> {
    given_with(rules, proposal, SetAside::default())
}

/// Every fault of a proposal that has some already: these, and what else [`given`] finds in the
/// part that could be read.
#[must_use]
pub fn faults(rules: &Rules, proposal: &dyn Proposed, found: SetAside) -> ProblemList {
    given_with(rules, proposal, found).err().unwrap_or_default()
}

fn given_with<'p>(
    rules: &Rules,
    proposal: &'p dyn Proposed,
    found: SetAside,
) -> Result<Cow<'p, Sheet>, ProblemList> {
    let catalogue = rules.catalogue();
    let nowhere = Source::new(proposal.name(), String::new());
    let mut problems = Problems::resumed(proposal.source().unwrap_or(&nowhere), found);
    let sheet = proposal.facts_and_faults(catalogue, &mut problems);
    let sheet = by_assumed_meters(rules, sheet, &mut problems);
    add_clashes(catalogue, &sheet, Span::default(), &mut problems);
    rules
        .relations()
        .add_broken(catalogue, &sheet, Span::default(), &mut problems);
    let found = problems.finish();
    if found.is_empty() {
        Ok(sheet)
    } else {
        Err(found)
    }
}
