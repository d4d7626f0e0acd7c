//! Where a verdict stands while questions are being answered.

use super::spoken::{Spoken, SpokenCounts};
use crate::check::{Report, Verdict};
use crate::report::text::group::groups;
use crate::report::text::opening::verdict;
use crate::report::text::page::{Page, Part};
use crate::report::text::style::Style;

/// The columns before it, under the answer.
const INDENT: usize = 2;
/// So many cautions are named. The others are counted.
const MOST_NAMED: usize = 3;

/// What speaks against the use so far, and how many more questions the verdict waits for, in the count of
/// whoever asks them.
#[must_use]
pub fn so_far(report: &Report, waiting: usize, width: usize, style: &dyn Style) -> String {
    let groups = groups(&report.findings);
    let spoken = Spoken::of(report, &groups);
    let mut page = Page::new(width, style);
    let against = Part::text(against(&spoken));
    let loud = verdict(report.gravest().verdict, true);
    let waits = Part::text(waits_for(report, waiting));
    page.paragraph(INDENT, &[against, loud, waits]);
    page.finish()
}

fn against(spoken: &Spoken) -> String {
    let named = spoken.named();
    if named.is_empty() {
        return "Nothing is against it so far. ".to_owned();
    }
    let more = match named.len().saturating_sub(MOST_NAMED) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    let shown: Vec<String> = named.into_iter().take(MOST_NAMED).collect();
    format!("Against it so far: {}{more}. ", shown.join("; "))
}

/// What follows the verdict.
fn waits_for(report: &Report, waiting: usize) -> String {
    let came = report.gravest();
    let in_doubt = SpokenCounts::of(report).in_doubt;
    match (came.verdict, came.best) {
        _ if came.nothing_checked => ": nothing was checked.".to_owned(),
        (Verdict::Pass, _) => ".".to_owned(),
        (verdict, best) if verdict == best => ", whatever else is answered.".to_owned(),
        _ if waiting == 0 && in_doubt == 1 => " while 1 is in doubt.".to_owned(),
        _ if waiting == 0 => format!(" while {in_doubt} are in doubt."),
        _ if waiting == 1 => " until 1 more is answered.".to_owned(),
        _ => format!(" until {waiting} more are answered."),
    }
}
