//! Vetting: what a ruleset lacks though it works, and whether its own cases come out as they say.
//!
//! [`Vetting`] is rulesets with their cases; [`vet`] tells everything that is found of them.

mod advice;
mod case;
mod case_facts;
mod conditions;
mod loaded;
mod outcomes;
mod run;
mod unused;

pub use case::CaseCode;
pub use loaded::Vetting;
pub use run::{CaseOutcome, run_cases, vet};
