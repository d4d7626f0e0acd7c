//! What the library works out from facts, as intervals that hold.
//!
//! Simple figures are formulas in rulesets. Those here need a choice between facts that a formula cannot make.

mod current;

use crate::facts::Catalogue;

/// Adds the library's figures to a catalogue.
pub fn add_to(catalogue: &mut Catalogue) {
    if let Some(build) = catalogue.subject_named("build") {
        catalogue.add_worked(current::definition(build));
    }
}
