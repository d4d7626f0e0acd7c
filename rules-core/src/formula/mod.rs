//! Formulas: text to tree, checked for kinds against a catalogue of facts, and evaluated on
//! intervals.
//!
//! The grammar and the meaning are those of `rulesets/LANGUAGE.md`, section 5. A formula goes
//! through three forms: tokens, a [`Tree`] that keeps the places of everything, and a typed form
//! ([`Number`] or [`Condition`]) in which names have become slots and kinds are settled. Nothing
//! here knows what the subjects are.

mod bound;
mod clause;
mod context;
mod evaluate;
mod evaluated;
mod explain;
mod fact_at;
mod fault;
mod involved;
mod joining;
mod parse;
mod program;
mod quotient;
mod relations;
mod resolve;
mod token;
mod tree;
mod truth;
mod typed;
mod uses;

pub use bound::Bound;
pub use clause::{Clause, Compared, ComparedSide};
pub use evaluate::{Amid, Evaluator, Leeway};
pub(crate) use evaluate::{BLOCK, Block};
pub use evaluated::Evaluated;
pub use fact_at::{FactAt, RestsOn};
pub use fault::FormulaFault;
pub use joining::{Joining, Trend, Trends};
pub use parse::parse;
pub use program::{FigureCode, FigureSort, LimitCode, Program};
pub use relations::Relations;
pub use resolve::{
    PlaceholderCode, UnreadSorts, Vocabulary, resolve_condition, resolve_figure,
    resolve_placeholder,
};
pub use tree::{Comparison, Form, Tree};
pub use truth::Truth;
pub use typed::{Condition, FactRef, FigureId, LimitId, Number, Operand, Over, Sort, Test};
pub use uses::Uses;
