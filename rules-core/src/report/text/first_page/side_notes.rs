//! What decides nothing, or was changed in the open: a line each.

use std::collections::BTreeMap;

use crate::check::{Remark, RemarkKind, Report};
use crate::report::text::in_the_open::{loosened_in_short, now};
use crate::report::text::page::{Page, Part};
use crate::report::text::summary::counted;
use crate::ruleset::Loosening;

/// So many of the things that a ruleset loosened are named; the rest is counted, and listed in full
/// below the first page.
const MOST_LOOSENED: usize = 6;

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
    notes.extend(loosened(&report.loosened));
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

/// A line of each ruleset that loosened something, with what that was; the rest is counted.
fn loosened(all: &[Loosening]) -> Vec<String> {
    let mut by: BTreeMap<&str, Vec<&Loosening>> = BTreeMap::new();
    for one in all {
        by.entry(&one.by).or_default().push(one);
    }
    let line = |(_, all): (&str, Vec<&Loosening>)| {
        let more = more_of(all.len().saturating_sub(MOST_LOOSENED));
        let mut told = all.into_iter().take(MOST_LOOSENED);
        let first = told.next().map(loosened_in_short).unwrap_or_default();
        let others: String = told.map(|one| format!("; {}", now(one))).collect();
        format!("{first}{others}{more}.")
    };
    by.into_iter().map(line).collect()
}

fn more_of(count: usize) -> String {
    match count {
        0 => String::new(),
        more => format!("; and {more} more"),
    }
}
