//! The first page of a report: the answer, what speaks against the use, what is in doubt, what is
//! not known yet, and the notice in short, in as many lines as fit on a screen.
//!
//! What speaks against the use is never cut. Where there is much of it, remedies go first, then each
//! caution's own line; of questions as many are shown as find room, and the rest is counted.

mod headline;
mod measured;
mod notice;
mod questions;
mod room;
mod said;
mod side_notes;
mod so_far;
mod spoken;
mod ways;

use super::group::groups;
use super::page::{Page, Part};
use super::style::{Role, Style};
use super::would_change;
use crate::check::Report;
use crate::facts::Notice;
use headline::Head;
pub use headline::StageLine;
pub(crate) use headline::without_shipped;
pub use measured::{Compared, compared};
pub use questions::Asked;
use questions::Asking;
use room::{Room, after_a_gap, line_count};
pub use said::FirstPage;
pub use so_far::so_far;
use spoken::Spoken;
pub use spoken::{SpokenEntry, Standing, standing};

pub use ways::Ways;

/// The most lines of a first page for a use of a few things, if a caller has no better number.
pub const USUAL_LINES: usize = 40;

/// The first page of a report, wrapped to a width in columns, in so many lines if what speaks
/// against the use finds room in them.
#[must_use]
pub fn first_page(
    report: &Report,
    (width, lines): (usize, usize),
    ways: Ways<'_>,
    style: &dyn Style,
) -> String {
    let groups = groups(&report.findings);
    let questions = Asking::of(report);
    let parts = Parts {
        report,
        head: Head::of(report, &questions.all),
        spoken: Spoken::of(report, &groups),
        questions,
        ways,
    };
    let mut fitting = None;
    let mut text = String::new();
    for spared in Spared::ALL {
        let refusals_in_full;
        (text, refusals_in_full) = parts.page(width, lines, spared, style);
        if line_count(&text) > lines {
            continue;
        }
        if refusals_in_full {
            return text;
        }
        fitting = fitting.or(Some(text.clone()));
    }
    fitting.unwrap_or(text)
}

/// What is kept of the parts that decide nothing by themselves, however much there is against a use.
#[derive(Debug, Clone, Copy)]
struct Spared {
    remarks: usize,
    questions: usize,
    /// Whether what would change the verdict is told; where it stands is said else.
    changes: bool,
}

impl Spared {
    /// From the most on.
    const ALL: [Self; 5] = [
        Self::of(2, 4),
        Self::of(1, 2),
        Self::of(1, 0),
        Self::of(0, 0),
        Self {
            changes: false,
            ..Self::of(0, 0)
        },
    ];

    const fn of(remarks: usize, questions: usize) -> Self {
        Self {
            remarks,
            questions,
            changes: true,
        }
    }
}

/// What a first page is made of.
struct Parts<'r> {
    report: &'r Report,
    head: Head<'r>,
    spoken: Spoken,
    questions: Asking<'r>,
    ways: Ways<'r>,
}

impl Parts<'_> {
    /// The page, and whether each refusal has a line of its own there, with its number.
    fn page(
        &self,
        width: usize,
        lines: usize,
        spared: Spared,
        style: &dyn Style,
    ) -> (String, bool) {
        let mut page = Page::new(width, style);
        self.head.write(&mut page);
        let mut end = Page::new(width, style);
        would_change::write_in_short(self.report, spared.changes, &mut end);
        side_notes::write(self.report, spared.remarks, &mut end);
        notice::write(&self.report.notice, &mut end);
        closing(self.ways, &mut end);
        let end = after_a_gap(end);
        let room = Room {
            width,
            style,
            lines: lines.saturating_sub(page.lines() + line_count(&end)),
            questions: spared.questions,
        };
        let (filled, own_lines) = room.filled(&self.spoken, &self.questions, self.ways);
        page.append(&filled);
        page.append(&end);
        (page.finish(), own_lines >= self.spoken.refusals())
    }
}

/// All questions of a report, with what each is about.
#[must_use]
pub fn question_page(report: &Report, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    questions::write_all(report, &mut page);
    page.finish()
}

/// The verdict and how much there is against it, for the end of a long report.
pub(super) fn in_a_line(report: &Report, page: &mut Page<'_>) {
    page.gap();
    Head::of(report, &crate::report::questions(report)).write_in_a_line(page);
}

/// How much there is against it and what is open: `5 against it, 3 questions open`.
pub(super) fn in_counts(report: &Report) -> String {
    Head::of(report, &crate::report::questions(report)).counts()
}

/// The standing notice in short.
pub fn notice_in_short(points: &[Notice], page: &mut Page<'_>) {
    notice::write(points, page);
}

fn closing(ways: Ways<'_>, page: &mut Page<'_>) {
    page.paragraph(0, &[Part::new(Role::Quiet, ways.all)]);
}
