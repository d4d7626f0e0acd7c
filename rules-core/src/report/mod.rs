//! Reports: findings as data, and their renderings.
//!
//! [`Report`] is what a check gives; its JSON is the report's published form. Text is made of it in one place, [`text`].

mod label;
mod model;
mod notice;
pub mod text;
mod words;

pub use label::{ContradictionAbout, DoubtAbout, LabelContradiction, LabelDoubt, LabelNumber, LabelReading, LabelReport};
pub use model::{
    ClauseReport, Counts, FactReport, FactState, FigureReport, FigureSheet, FigureUse, Finding, LimitReport, Margin, MeasureNext, Report,
    RungName, Shows, Status, Verdict,
};
pub use notice::{NOTICE, Notice};
pub use words::{Words, base_unit, exact, measure, shown_kind, shows, significant};
