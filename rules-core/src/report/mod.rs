//! Reports: findings as data, and their renderings.
//!
//! [`Report`] is what a check gives; its JSON is the report's published form. Text is made of it in
//! one place, [`text`].

mod alike;
mod brief;
mod left_out;
mod model;
mod remark;
mod shown;
mod subject;
pub mod text;
mod words;
mod written;

pub use crate::facts::Notice;
pub use brief::{Brief, BriefFinding};
pub use model::{
    ClauseReport, Counts, FactReport, FactState, FigureReport, FigureSheet, FigureUse, Finding,
    LimitReport, MeasureNext, Report, RungName, Status, UnusedReadings, Verdict,
};
pub use remark::{Remark, RemarkKind};
pub use shown::{Filled, Margin, ShownValue, Shows};
pub use subject::Subject;
pub use words::{Words, exact, measure, shown_kind, significant, value};
