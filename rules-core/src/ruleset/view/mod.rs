//! What each ruleset sees: the strictest of what it extends, then its own adjustments.
//!
//! A view is made of every layer in turn, bases first, and at last one of all that were asked for
//! together. Taking the strictest is what makes the order of files irrelevant and keeps a further
//! ruleset from ever improving a verdict.

mod adjust;
mod join;
mod meter;
mod of_stack;
mod seen;
mod stage;

pub(super) use of_stack::view;
pub(crate) use seen::View;
pub(super) use seen::{SeenCaution, SeenLimit, SeenMeter};
