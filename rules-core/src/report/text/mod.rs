//! Reports as text for people. This is the only place where the text of a report is made.
//!
//! A report begins with its verdict and what to do, then gives each finding with its numbers, then
//! what to measure next and what is reported without a verdict, and ends with the standing notice.
//! A [`Page`] wraps it to a width; a [`Style`] may dress parts of it, but nothing is reported by
//! dress alone.

mod basis;
mod changes;
mod clause;
mod closing;
mod figures;
mod finding;
mod first_page;
mod group;
mod in_the_open;
mod narrowed;
mod next;
mod one_finding;
mod opening;
mod page;
mod sentences;
mod several;
mod stages;
mod style;
mod summary;
mod would_change;
mod would_lift;

pub use basis::basis;
pub use changes::changed;
pub use clause::ClauseSaid;
pub use closing::{how_it_was_checked, notice};
pub use figures::{FigureSaid, figures};
pub use first_page::{
    Asked, Compared, FirstPage, SpokenEntry, StageLine, Standing, USUAL_LINES, Ways, compared,
    first_page, notice_in_short, question_page, so_far, standing,
};
pub use group::as_names_count;
pub use in_the_open::{InTheOpen, in_the_open, loosened_entry, openly, simple_acceptance};
pub use one_finding::FindingSaid;
pub use page::{Page, Part};
pub use several::{Totals, list_line, unusable_line};
pub use style::{Plain, Role, Style};
pub use summary::counted;
#[cfg(feature = "outputs")]
pub(crate) use {
    closing::rules_in_use, first_page::without_shipped, one_finding::remedy, opening::doubt,
    summary::others,
};

use self::group::groups;
use crate::check::Report;

/// The width that suits most terminals and printed pages.
pub const USUAL_WIDTH: usize = 80;

/// A report as text, wrapped to a width in columns.
#[must_use]
pub fn text(report: &Report, width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    let groups = groups(&report.findings);
    opening::write(report, &groups, &mut page);
    for (at, group) in groups.iter().enumerate() {
        finding::write(at + 1, group, report, &mut page);
    }
    next::write(report, &mut page);
    would_lift::write(report, &mut page);
    would_change::write(report, &mut page);
    closing::unused(&report.unused, &mut page);
    closing::remarks(report, &mut page);
    closing::loosened(report, &mut page);
    closing::how_checked(report, &mut page);
    closing::notice(&report.notice, &mut page);
    first_page::in_a_line(report, &mut page);
    page.finish()
}
