//! Checks a proposed use of rescued lithium-ion cells against rulesets of trade cautions.
#![forbid(unsafe_code)]

pub mod check;
pub mod document;
pub mod facts;
pub mod figures;
pub mod formula;
pub mod proposal;
pub mod quantity;
pub mod report;
pub mod ruleset;
#[cfg(feature = "schema")]
pub mod schema;

/// The facts of the trade and the figures of the library: what rulesets can speak of.
#[must_use]
pub fn catalogue() -> facts::Catalogue {
    let mut catalogue = proposal::catalogue();
    figures::add_to(&mut catalogue);
    catalogue
}
