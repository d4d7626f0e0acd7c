//! Trees to typed formulas: names become slots, kinds are checked, scopes are settled.
//!
//! Every fault of a formula is found, not only the first. What rests on a faulty part is no fault
//! of its own: nothing more is asked of a part that cannot be resolved.

mod choices;
mod condition;
mod names;
mod numbers;
mod resolver;
mod sorts;
#[cfg(test)]
mod tests;
mod vocabulary;
mod whole;

pub use vocabulary::{UnreadSorts, Vocabulary};
pub use whole::{PlaceholderCode, resolve_condition, resolve_figure, resolve_placeholder};
