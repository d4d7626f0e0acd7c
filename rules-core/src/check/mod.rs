//! Checking: a proposal against rules gives a report, as data.
//!
//! `given` takes the facts of a proposal, without contradictions, and `assumed` says how good a
//! reading is of which nobody does; `judge` decides one caution for
//! one subject, as LANGUAGE.md section 6 says; `tally` goes over all cautions and subjects, `stages` keeps what each stage comes to;
//! `reporter` turns a judgement that is not a pass into a finding; `measure_next` says what to
//! measure; `unused` which readings could not be used; `remarks` what is reported without a
//! verdict; `would_change` has room for what somebody found who tried changes, `would_lift` for which
//! answers were found to lift it; `run` makes `checked` of
//! it, and that the report; `weighing` makes what is compared with other proposals, and `as_more_join` says
//! which cautions only get worse; `steps` keeps it within bounds.

mod as_more_join;
mod assumed;
mod brief;
mod checked;
mod cited;
mod excerpt;
mod figure_sheet;
mod figures;
mod filling;
mod finding;
mod given;
mod grounds;
mod judge;
mod left_open;
mod made;
mod margin;
mod measure_next;
mod narrowed;
mod places;
mod remarks;
mod report;
mod reporter;
mod run;
mod stages;
mod steps;
mod subject;
mod tally;
mod unused;
mod values;
mod verdict;
mod weighing;
mod would_change;
mod would_lift;

pub use as_more_join::{CautionTrend, caution_trends};
pub use brief::{Brief, BriefFinding};
pub use checked::Checked;
pub(crate) use cited::cited;
pub use excerpt::Excerpt;
pub use figure_sheet::{FigureReport, FigureSheet};
pub use figures::figures;
pub use finding::{ClauseReport, FactReport, FactState, FigureUse, Finding};
pub use given::{faults, given};
pub use judge::{Judgement, judge, judge_each};
pub(crate) use left_open::AllLeftOpen;
pub(crate) use made::{ByAddress, each_once};
pub use margin::Margin;
pub(crate) use margin::MarginShown;
pub use narrowed::{AnsweredFact, NarrowedBy};
pub use places::Places;
pub(crate) use remarks::alike_in_words;
pub use remarks::{Remark, RemarkKind, without_shipped_in_words};
pub use report::{Counts, MeasureNext, Report, UnusedReadings};
pub(crate) use reporter::Reporter;
pub use run::{Options, brief, check, checked};
pub use stages::{Outcome, StageOutcome, know_stages};
pub use subject::Subject;
pub use values::{FilledText, ReportedNumber, ReportedValue};
pub(crate) use values::{NumberShown, ToldNumber};
pub use verdict::{RungName, Status, Verdict};
pub use weighing::{Scales, Weighed};
pub use would_change::{Change, OnlyOthers, Together, Turn, WouldChange};
pub use would_lift::{TriedAnswer, WouldLift};

pub use crate::ruleset::{FactPlace, InOneWord};
