//! The tables of `tests/reference`, every row of them run against the library.
//!
//! The tables come from outside the project: an arithmetic library, standards, published worked
//! examples, trade facts with their sources (see the README beside them). One file here for each
//! table; `table` runs the rows and says in one line how many were run and which were not; `filing`
//! looks after the tables themselves. A row that cannot be run, or that gives something else, is
//! listed by its id with the reason.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "the lint settings spare test functions; here the functions that they call are tests too"
)]

mod decision_rules;
mod designations;
mod filing;
mod formulas;
mod interval;
mod labels;
mod names;
mod proposals;
mod table;
mod trade_boundaries;
mod units;
