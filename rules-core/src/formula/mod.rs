//! Formulas: text to tree, checked for kinds against a catalogue of facts, and evaluated on
//! intervals.
//!
//! The grammar and the meaning are those of `rulesets/LANGUAGE.md`, section 5. A formula goes
//! through three forms: tokens, a [`Tree`] that keeps the places of everything, and a typed form
//! ([`Number`] or [`Condition`]) in which names have become slots and kinds are settled. Nothing
//! here knows what the subjects are.

mod evaluate;
mod explain;
mod fault;
mod parse;
mod program;
mod relations;
mod resolve;
mod token;
mod tree;
mod truth;
mod typed;
mod uses;

pub use evaluate::{Bound, Evaluated, Evaluator};
pub use explain::{Clause, FactAt, Rest, Side};
pub use fault::FormulaFault;
pub use parse::parse;
pub use program::{FigureCode, FigureSort, LimitCode, Program};
pub use relations::Relations;
pub use resolve::{
    Shown, Unread, Vocabulary, resolve_condition, resolve_figure, resolve_placeholder,
};
pub use tree::{Comparison, Form, Tree};
pub use truth::Truth;
pub use typed::{Condition, FactRef, FigureId, LimitId, Number, Operand, Over, Sort, Test};
pub use uses::Uses;
