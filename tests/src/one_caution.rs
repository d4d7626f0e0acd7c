//! A ruleset of one caution, and what vetting says of it.

use rules_core::document::{Problem, ProblemList};
use rules_core::ruleset::Texts;
use rules_core::vetting::{Vetting, vet};

/// A limit for the caution, `limit.floor`.
pub const LIMIT: &str = "limits:\n  floor: { value: 3.00 V, stricter: higher, meaning: Floor, basis: [{ common_practice: example }] }\n";
/// What the caution rests on.
pub const BASIS: &str = "basis: [{ common_practice: example }]";

/// What vetting says of a ruleset with these definitions and one caution about each cell, `tested`,
/// given the lines that are its own.
///
/// # Errors
///
/// What keeps the ruleset from being loaded.
pub fn vetted(definitions: &str, caution: &str) -> Result<Vec<Problem>, ProblemList> {
    let own: String = caution
        .lines()
        .map(|line| format!("    {}\n", line.trim()))
        .collect();
    let text = format!(
        "format: 1\nruleset: one\nversion: 1.0.0\ntitle: One\n{definitions}cautions:\n  - id: tested\n    title: Tested\n    about: each cell\n    reason: r\n{own}"
    );
    let library = Texts::of([("one", text)]);
    let vetting = Vetting::load(&["one"], &library, &rulesets::catalogue())?;
    Ok(vet(&vetting))
}
