//! Reports: findings as data, and their renderings.
//!
//! [`Report`] is what a check gives; its JSON is the report's published form. Text is made of it in
//! one place, [`text`].

mod brief;
mod label;
mod left_out;
mod model;
mod notice;
mod remark;
mod shown;
pub mod text;
mod words;

pub use brief::{Brief, BriefFinding};
pub use label::{
    ContradictionAbout, DoubtAbout, LabelContradiction, LabelDoubt, LabelNumber, LabelReading,
    LabelReport,
};
pub use model::{
    ClauseReport, Counts, FactReport, FactState, FigureReport, FigureSheet, FigureUse, Finding,
    LimitReport, MeasureNext, Report, RungName, Status, Verdict,
};
pub use notice::{NOTICE, Notice};
pub use remark::{Remark, RemarkKind};
pub use shown::{Filled, Margin, ShownValue, Shows};
pub use words::{Words, base_unit, exact, measure, shown_kind, significant, value};
