//! What the test suites share.
#![forbid(unsafe_code)]

pub mod conformance;
pub mod restored;
