//! What the test suites share.
#![forbid(unsafe_code)]
