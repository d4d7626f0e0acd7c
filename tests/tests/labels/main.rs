//! Labels of packs, as properties: wider numbers never lose a reading, what is true is among the
//! readings, nothing panics, and the JSON is as its schema says.
#![cfg(test)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "functions that tests call are tests too"
)]

mod made;
mod readings;
mod reports;
