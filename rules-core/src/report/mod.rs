//! Reports rendered: as text for people, and as JSON. What they hold is [`crate::check`]'s.
//!
//! The JSON of a [`Report`](crate::check::Report) is its published form. Text is made in one place,
//! [`text`].

mod alike;
mod changes;
mod lean;
mod left_out;
mod problem_record;
mod prose;
mod questions;
mod read;
pub mod text;
mod words;
mod written;

pub use changes::{
    Changed, Changes, FindingOf, Found, New, ReportHead, StageChange, Went, Without, changes,
};
pub use lean::Lean;
pub use problem_record::ProblemRecord;
pub use prose::{Prose, ProseCaution, ProseDigests, ProseSubject};
pub use questions::{Answers, Question, each_by_itself, questions};
pub use read::LeanRecord;
pub use words::{exact, measure, significant};
