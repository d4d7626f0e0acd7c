//! What decides nothing, or was changed in the open: a line each.

use crate::check::Report;
use crate::report::text::page::{Page, Part};
use crate::report::text::summary::counted;

/// So many remarks are shown; the rest is counted.
const MOST_REMARKS: usize = 2;

pub(super) fn write(report: &Report, page: &mut Page<'_>) {
    let mut notes = Vec::new();
    if let [first, more @ ..] = report.loosened.as_slice() {
        let more = more_of(more.len());
        notes.push(format!(
            "Loosened by {}: {}, now {}{more}.",
            first.by, first.what, first.to
        ));
    }
    if let [first, more @ ..] = report.unused.as_slice() {
        let more = more_of(more.len());
        notes.push(format!(
            "Not used: {}: {}{more}.",
            first.facts.join(", "),
            first.why
        ));
    }
    let remarks = report.remarks.iter();
    notes.extend(remarks.take(MOST_REMARKS).map(|remark| remark.says.clone()));
    if let count @ 1.. = report.remarks.len().saturating_sub(MOST_REMARKS) {
        notes.push(format!("And {}.", counted(count, "more remark")));
    }
    if notes.is_empty() {
        return;
    }
    page.gap();
    for note in notes {
        page.item(0, 2, &[Part::text(note)]);
    }
}

fn more_of(count: usize) -> String {
    match count {
        0 => String::new(),
        more => format!("; and {more} more"),
    }
}
