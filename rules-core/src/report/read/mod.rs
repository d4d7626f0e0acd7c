//! Reports read again from the form in which they are written.

mod entries;
mod lean;
mod report;

pub use lean::LeanRecord;
