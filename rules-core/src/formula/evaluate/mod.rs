//! Evaluation of typed formulas on a sheet of facts.

mod condition;
mod evaluator;
mod folds;
mod kept;
mod leeway;
mod number;
mod opened;
mod screen;
mod wide;
mod wide_number;
mod worked;

pub use evaluator::Evaluator;
pub use leeway::{Amid, Leeway};
pub(crate) use screen::{BLOCK, Block};
