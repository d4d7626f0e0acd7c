//! What a first page says, as data: for those who lay it out otherwise than as lines of text.

use super::headline::{Head, StageLine, stage_lines, without_shipped};
use super::notice;
use super::questions::{Asked, Asking};
use super::side_notes;
use super::spoken::{Spoken, SpokenEntry};
use crate::check::{Report, Verdict};
use crate::report::text::group::groups;
use crate::report::text::in_the_open::simple_acceptance;
use crate::report::text::would_change;

/// All that a first page says, before anything gives way for want of room.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct FirstPage<'r> {
    /// The verdict of all that was asked for.
    pub verdict: Verdict,
    /// What the verdict is of where that is not the whole, or what it waits for: it follows the word.
    pub scope: Option<String>,
    /// How much there is against it, in doubt and open.
    pub counts: String,
    /// What is said where nominal values decided.
    pub simple: Option<&'static str>,
    /// What is said where none of the shipped rulesets takes part.
    pub without_shipped: Option<&'r str>,
    /// What each stage came to.
    pub stages: Vec<StageLine<'r>>,
    /// What speaks against the use, the gravest first.
    pub against: Vec<SpokenEntry>,
    /// What may speak against it, for a reading is too wide to say.
    pub in_doubt: Vec<SpokenEntry>,
    /// What is not known yet, in the order in which it is asked.
    pub questions: Vec<Asked<'r>>,
    /// What the first of the questions could do.
    pub deciding: Option<String>,
    /// What would change the verdict, a line each.
    pub would_change: Vec<String>,
    /// What decides nothing, or was changed in the open.
    pub notes: Vec<String>,
    /// The standing notice, each point in short.
    pub notice: Vec<&'r str>,
}

impl<'r> FirstPage<'r> {
    /// Of a report.
    #[must_use]
    pub fn of(report: &'r Report) -> Self {
        let asking = Asking::of(report);
        let head = Head::of(report, &asking.all);
        let spoken = Spoken::of(report, &groups(&report.findings));
        Self {
            verdict: report.gravest().verdict,
            scope: head.scope(),
            counts: head.counts(),
            simple: simple_acceptance(report.acceptance),
            without_shipped: without_shipped(report),
            stages: stage_lines(report),
            against: spoken.against,
            in_doubt: spoken.in_doubt,
            questions: asking.all.iter().map(Asked::of).collect(),
            deciding: asking.first,
            would_change: would_change::lines_in_short(report),
            notes: side_notes::notes(report, report.remarks.len()),
            notice: notice::points(&report.notice),
        }
    }
}
