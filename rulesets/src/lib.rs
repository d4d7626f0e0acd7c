//! Checks a proposed use of rescued lithium-ion cells in a light against rulesets of trade
//! cautions, and reports **pass**, **warn** or **refuse** with reasons, numbers, remedies and
//! sources.
//!
//! # Example
//!
//! ```
//! use rules_core::check::{Options, check};
//! use rules_core::document::Syntax;
//! use rules_core::check::Verdict;
//! use rules_core::ruleset::Rules;
//! use rulesets::proposal::Proposal;
//! use rulesets::shipped::Shipped;
//!
//! // Load once; the rules can be kept and shared between threads.
//! let rules = Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue()).expect("the shipped rules load");
//!
//! let text = "
//! format: 1
//! title: Marshal's torch, one bare cell
//! arrangement: 1S1P
//! cells:
//!   - { id: K4, rest: { voltage: 1.87 V, after: 24 h } }
//! ";
//! let proposal = Proposal::read("torch.yaml", text.into(), Syntax::Yaml).expect("the proposal is well formed");
//!
//! let report = check(&rules, &proposal, Options::default()).expect("its facts are known");
//! assert_eq!(report.verdict, Verdict::Refuse);
//! assert!(report.findings.iter().any(|finding| &*finding.caution == "deeply-discharged" && finding.subject == "cell K4"));
//! assert!(report.measure_next.iter().any(|next| next.fact == "cell.capacity"));
//! assert!(!report.notice.is_empty()); // on every report, whatever the verdict
//! ```
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
//!   Figures are worked out of them by a plain model that states its own error; see [`figures`].
//! * It reads no files but through a [`Library`](rules_core::ruleset::Library), opens no connections, and has no clock
//!   and no locale. Rulesets of one's own are [`Texts`](rules_core::ruleset::Texts) in memory, beside the shipped ones
//!   with `Texts::of([("club.yaml", text)]).or(Shipped)`, or [`FILES`](shipped::FILES).
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

pub mod bounds;
pub mod class;
pub mod designation;
pub mod facts;
pub mod figures;
mod formerly;
pub mod label;
pub mod proposal;
#[cfg(feature = "schema")]
pub mod schema;
pub mod shipped;
mod span;

use rules_core::facts::Catalogue;

/// The facts of the trade and the figures of the library: what rulesets can speak of.
#[must_use]
pub fn catalogue() -> Catalogue {
    let mut catalogue = facts::catalogue().clone();
    let added = figures::add_to(&mut catalogue);
    // Both lists are of this crate, and its tests join them.
    debug_assert_eq!(added, Ok(()), "the figures do not go with `facts.yaml`");
    catalogue.reserve(shipped::Shipped::versions());
    catalogue
}

/// The README, so that its example is run.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;
