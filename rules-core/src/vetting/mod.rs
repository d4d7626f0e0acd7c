//! Vetting: what a working ruleset lacks, and whether its own cases give what they expect.
//!
//! [`Vetting`] is rulesets with their cases; [`vet`] reports everything that is found in them, and
//! [`worth_a_look`] what may be right and is worth a look.

mod adjusted;
mod advice;
mod case;
mod case_facts;
mod conditions;
mod loaded;
mod outcomes;
mod run;
mod rungs;
mod unused;
mod worth_a_look;

pub use case::CaseCode;
pub use loaded::Vetting;
pub use run::{CaseOutcome, run_cases, vet, worth_a_look};
