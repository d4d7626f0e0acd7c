//! The jobs around a check: a plan that is tried with something changed.
//!
//! Each job is a function that gives a typed result; its text is made of that, last. All of them
//! stand on `trial`: what a check says of a plan as it is, and of the plan with something changed;
//! `reads` says what each caution looks at, and `tried` adds to a report what trying its plan found. No job has a logic of its own for what is safe.

pub mod choose;
mod entries;
pub mod range;
mod reads;
#[cfg(test)]
mod small_rules;
pub mod sort;
pub mod tag;
mod trial;
mod tried;
mod without_shipped;
mod would_change;
mod would_lift;

pub use trial::Trial;
pub use tried::tried;
pub(crate) use without_shipped::without_shipped;
pub use would_change::would_change;
pub use would_lift::{would_lift, would_lift_without};
