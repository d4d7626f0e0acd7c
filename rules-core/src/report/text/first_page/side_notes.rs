//! What decides nothing, or was changed in the open: a line each.

use crate::check::{Remark, RemarkKind, Report};
use crate::report::text::page::{Page, Part};
use crate::report::text::summary::counted;
use crate::ruleset::Loosening;

/// Writes them, so many of the remarks; the rest is counted.
pub(super) fn write(report: &Report, remarks: usize, page: &mut Page<'_>) {
    let notes = notes(report, remarks);
    if notes.is_empty() {
        return;
    }
    page.gap();
    for note in notes {
        page.item(0, 2, &[Part::text(note)]);
    }
}

/// So many of the remarks are told; the rest is counted.
pub(super) fn notes(report: &Report, remarks: usize) -> Vec<String> {
    let mut notes = Vec::new();
    if let [first, more @ ..] = report.loosened.as_slice() {
        let more = more_of(more.len());
        notes.push(format!("{}{more}.", loosened(first)));
    }
    if let [first, more @ ..] = report.unused.as_slice() {
        let more = more_of(more.len());
        notes.push(format!(
            "Not used: {}: {}{more}.",
            first.facts.join(", "),
            first.why
        ));
    }
    // What the head says is not said again.
    let own = report.remarks.iter();
    let own = own.filter(|remark| remark.remark != RemarkKind::WithoutShipped);
    let all: Vec<&Remark> = own.collect();
    let shown = all.iter().take(remarks);
    notes.extend(shown.map(|remark| remark.says.clone()));
    match all.len().saturating_sub(remarks) {
        0 => {}
        count if remarks == 0 => notes.push(format!("{}.", counted(count, "remark"))),
        count => notes.push(format!("And {}.", counted(count, "more remark"))),
    }
    notes
}

/// What was loosened, and by whom.
pub(in crate::report::text) fn loosened(one: &Loosening) -> String {
    format!("Loosened by {}: {}, now {}", one.by, one.what, one.to)
}

fn more_of(count: usize) -> String {
    match count {
        0 => String::new(),
        more => format!("; and {more} more"),
    }
}
