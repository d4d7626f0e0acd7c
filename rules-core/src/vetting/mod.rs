//! Vetting: what a working ruleset lacks, and whether its own cases give what they expect.
//!
//! [`Vetting`] is rulesets with their cases; [`vet`] reports everything that is found in them.

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
