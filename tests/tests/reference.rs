//! The tables of `tests/reference`, every row of them run against the library.
//!
//! The tables come from outside the project: an arithmetic library, standards, published worked
//! examples, trade facts with their sources (see the README beside them). One file here for each
//! table; `table` runs the rows and says in one line how many were run and which were not; `filing`
//! looks after the tables themselves. A row that cannot be run, or that comes out otherwise, is
//! listed by its id with the reason.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "the lint settings spare test functions; here the functions that they call are tests too"
)]

#[path = "reference/decision_rules.rs"]
mod decision_rules;
#[path = "reference/designations.rs"]
mod designations;
#[path = "reference/filing.rs"]
mod filing;
#[path = "reference/formulas.rs"]
mod formulas;
#[path = "reference/interval.rs"]
mod interval;
#[path = "reference/labels.rs"]
mod labels;
#[path = "reference/names.rs"]
mod names;
#[path = "reference/proposals.rs"]
mod proposals;
#[path = "reference/table.rs"]
mod table;
#[path = "reference/trade_boundaries.rs"]
mod trade_boundaries;
#[path = "reference/units.rs"]
mod units;
