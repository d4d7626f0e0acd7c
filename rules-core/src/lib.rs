//! Checks plans against rulesets of cautions, and reports **pass**, **warn** or **refuse** with
//! reasons, numbers, remedies and sources.
//!
//! This is the engine. It knows no trade. A [catalogue](facts::Catalogue) of subjects and facts
//! defines what can be said of a plan, and a plan is anything that gives [such
//! facts](facts::Proposed).
//!
//! * Values are intervals: what a reading leaves open, the verdict leaves open. What is missing is
//!   anything at all.
//! * What must hold has to hold for the whole interval (guarded acceptance), unless simple
//!   acceptance is chosen in the open.
//! * Every finding says which clause decided, on which values with which uncertainty, against which
//!   limit, by how much, from which source, and where both the rule and the value are in their
//!   files.
//! * Rulesets are YAML or JSON, layered, checked for kinds when they are loaded, and carry their
//!   own examples.
//! * It reads no files but through a [`ruleset::Library`], opens no connections, and has no clock
//!   and no locale.
//!
//! # How a plan becomes a report
//!
//! ```text
//! facts (a sheet)                                    \
//!                                                     check -> report -> text or JSON
//! bytes -> document -> ruleset -> formula (compiled)  /
//! ```
//!
//! `quantity` is at the bottom, then `document`, `facts`, `formula`, `schema`, `ruleset`, `check`
//! (the report as data), `vetting`, `report` (its text and its JSON) and, with the feature of that name,
//! `outputs` (findings in forms that other tools show), each on those before it.
#![forbid(unsafe_code)]

pub mod bounds;
pub mod characters;
pub mod check;
pub mod document;
pub mod facts;
pub mod formula;
#[cfg(feature = "outputs")]
pub mod outputs;
pub mod quantity;
pub mod report;
pub mod ruleset;
#[cfg(feature = "schema")]
pub mod schema;
pub mod snapshot;
pub mod vetting;

/// The README, so that its example is run.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;

#[cfg(test)]
extern crate self as rules_core;
#[cfg(test)]
#[path = "../tests/heating/catalogue.rs"]
#[allow(dead_code, reason = "the tests of other folders use other parts of it")]
mod heating;
