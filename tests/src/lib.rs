//! What the test suites share.
#![forbid(unsafe_code)]

pub mod conformance;
pub mod law;
pub mod one_caution;
pub mod read_again;
pub mod restored;
pub mod strict;
