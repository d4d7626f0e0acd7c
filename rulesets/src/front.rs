//! The few steps to a report: rules, a proposal, a check.

use std::sync::LazyLock;

use rules_core::document::ProblemList;
use rules_core::facts::Catalogue;
use rules_core::ruleset::{Rules, Texts};

use crate::label::{Label, LabelFault, LabelReport, decode};
use crate::shipped::{FILES, Shipped};
use crate::{facts, figures};

/// The ruleset that is used where none is named.
pub const USUAL_RULESET: &str = "rescued-cells";

/// It is made once, and copies share what is large.
static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| {
    let mut catalogue = facts::catalogue().clone();
    let added = figures::add_to(&mut catalogue);
    // Both lists are of this crate, and its tests join them.
    debug_assert_eq!(added, Ok(()), "the figures do not go with `facts.yaml`");
    catalogue.reserve(Shipped::versions());
    catalogue
});

/// The facts of the trade and the figures of the library: what rulesets can speak of.
#[must_use]
pub fn catalogue() -> Catalogue {
    CATALOGUE.clone()
}

/// The shipped rules. Loaded once, they can be kept and shared between threads.
///
/// # Errors
///
/// None that the tests of this crate know of.
pub fn shipped_rules() -> Result<Rules, ProblemList> {
    Rules::load(&[USUAL_RULESET], &Shipped, &catalogue())
}

/// Rules that apply together: shipped ones by name, and files by path, which are read.
///
/// # Errors
///
/// Every problem of every file, each with its place.
pub fn load_rules(names: &[&str]) -> Result<Rules, ProblemList> {
    Rules::load(names, &FILES, &catalogue())
}

/// Rules that apply together, from texts in memory by name and the shipped ones. No file is read.
///
/// ```
/// use rulesets::{Texts, rules_from_texts};
///
/// let ours = "
/// format: 1
/// ruleset: night-relay-club
/// version: 1.0.0
/// title: A stricter floor for the lamps of the night relay
/// extends: [rescued-cells]
/// ";
/// let rules = rules_from_texts(&["club.yaml"], Texts::of([("club.yaml", ours)]))?;
/// assert_eq!(rules.layers().len(), 2);
/// # Ok::<(), rulesets::ProblemList>(())
/// ```
///
/// # Errors
///
/// Every problem of every text, each with its place.
pub fn rules_from_texts(names: &[&str], texts: Texts) -> Result<Rules, ProblemList> {
    Rules::load(names, &texts.or(Shipped), &catalogue())
}

/// What the label of a pack says of its cells. [`Printed`](crate::Printed) reads its numbers.
///
/// # Errors
///
/// Everything that keeps the label from meaning any cells.
pub fn read_label(label: &Label<'_>) -> Result<LabelReport, Vec<LabelFault>> {
    let decoded = decode(label)?;
    Ok(LabelReport::new(
        label,
        &decoded,
        facts::catalogue().notice(),
    ))
}
