//! SARIF 2.1.0: a run of the tool with its results, rules and notifications.
//!
//! A result is a finding that is not a pass; `refuse` is an `error`, `warn` a `warning`. What a file that
//! cannot be used has wrong with it is a notification of the run. Results come first, so that each can be
//! written as soon as it is known.

mod address;
mod besides;
mod end;
mod ends;
mod message;
mod model;
mod results;
mod rules;

pub(super) use besides::Besides;
pub(super) use end::{START, end};
pub(super) use results::{of_report, of_ruleset, of_unusable};
