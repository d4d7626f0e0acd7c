//! Reports read again from the form in which they are written.

mod entries;
mod findings;
mod lean;
mod next;
mod outcome;
mod report;

pub use lean::LeanRecord;
