//! Checks a proposed use of rescued lithium-ion cells in a light against rulesets of trade
//! cautions, and reports **pass**, **warn** or **refuse** with reasons, numbers, remedies and
//! sources.
//!
//! # Example
//!
//! ```
//! use rulesets::{Options, Plain, Proposal, USUAL_WIDTH, Verdict, check, shipped_rules, text};
//!
//! fn main() -> Result<(), Box<dyn std::error::Error>> {
//!     let rules = shipped_rules()?; // once; they can be shared between threads
//!     let proposal = Proposal::from_text("torch.yaml", "
//! format: 1
//! title: Marshal's torch, one bare cell
//! arrangement: 1S1P
//! cells: [{ id: K4, rest: { voltage: 1.87 V, after: 24 h } }]
//! ")?;
//!     let report = check(&rules, &proposal, Options::default())?;
//!     assert_eq!(report.verdict(), Some(Verdict::Refuse)); // it was found deeply discharged
//!     println!("{}", text(&report, USUAL_WIDTH, &Plain)); // ends with the standing notice
//!     Ok(())
//! }
//! ```
//!
//! [`load_rules`] reads rulesets from files, [`rules_from_texts`] takes them from memory. A
//! [`Proposal`] is read from a text, taken from a value of JSON in memory, or written field by field
//! as a [`Draft`], by the paths that reports name. A [`Plan`] is a proposal that may take from a
//! [`Bench`]: what a workshop says once. Whatever fails, fails with a [`ProblemList`].
//!
//! # What it does
//!
//! * Values are intervals: what a reading leaves open, the verdict leaves open. What is missing is
//!   anything at all.
//! * What must hold has to hold for the whole interval (guarded acceptance), unless simple
//!   acceptance is chosen in the open.
//! * Every finding says which clause decided, on which values with which uncertainty, against which
//!   limit, by how much, from which source, and where both the rule and the value stand in their
//!   files.
//! * Rulesets are YAML or JSON, layered, checked for kinds when they are loaded, and carry their
//!   own examples. The language is described in `rulesets/LANGUAGE.md`.
//!
//! # What it does not do
//!
//! * It does not know whether a use is safe. It knows which cautions of the rules speak against it.
//!   A pass overrules no maker, regulator or local code.
//! * It measures nothing: a proposal's numbers are taken as they are given, with their uncertainty.
//!   Figures are worked out of them by a plain model that states its own error; see [`figures()`].
//! * It reads no files but those that [`load_rules`] is given, opens no connections, and has no clock
//!   and no locale.
//!
//! # How a proposal becomes a report
//!
//! ```text
//! bytes -> document -> proposal -> facts (a sheet)  \
//!                                                    check -> report -> text or JSON
//! bytes -> document -> ruleset -> formula (compiled) /
//! ```
//!
//! This crate has the trade: what a proposal is, the figures that are worked out of it, the labels
//! of packs, and the shipped rules. The engine, [`rules_core`], knows nothing of cells or lights: it
//! works on the catalogue of subjects and facts that this crate supplies.
#![forbid(unsafe_code)]

mod curve;
mod formerly;
mod front;
mod prepared;
mod sizes;
mod span;

// What lies behind the door. It is public for the command, the tests and the benches of this
// workspace alone, which look at the parts: nothing of it is promised.
#[doc(hidden)]
pub mod bench;
#[doc(hidden)]
pub mod bounds;
#[doc(hidden)]
pub mod class;
#[doc(hidden)]
pub mod designation;
#[doc(hidden)]
pub mod facts;
#[doc(hidden)]
pub mod figures;
#[doc(hidden)]
pub mod jobs;
#[doc(hidden)]
pub mod label;
#[cfg(feature = "pages")]
pub mod pages;
#[doc(hidden)]
pub mod proposal;
#[doc(hidden)]
pub mod shipped;
#[doc(hidden)]
pub mod table;

#[cfg(feature = "schema")]
pub mod schema;

pub use bench::{Bench, Benches, Plan};
pub use front::{
    USUAL_RULESET, catalogue, load_rules, read_label, rules_from_texts, shipped_rules,
};
pub use label::{Label, LabelFault, LabelReport, Printed};
pub use proposal::{Draft, Proposal};
pub use rules_core::check::{
    FactPlace, FigureSheet, Finding, MeasureNext, Options, Report, Status, Subject, Verdict, check,
    figures,
};
pub use rules_core::document::{Fault, Problem, ProblemList, Severity, Syntax};
pub use rules_core::report::text::{
    Plain, Style, USUAL_LINES, USUAL_WIDTH, Ways, figures as figures_as_text, first_page,
    question_page, text,
};
pub use rules_core::report::{Answers, Question, questions};
pub use rules_core::ruleset::{Acceptance, Library, Rules, Texts};

/// The README, so that its example is run.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;
