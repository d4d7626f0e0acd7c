//! The verdicts of several reports in one list.

use super::opening::verdict;
use super::page::{Page, Part};
use super::stages;
use super::style::{Role, Style};
use crate::check::{Report, Verdict};

/// A line for each report, before the reports themselves.
#[must_use]
pub fn overview(reports: &[&Report], width: usize, style: &dyn Style) -> String {
    let mut page = Page::new(width, style);
    let count = |wanted: Verdict| {
        reports
            .iter()
            .filter(|report| report.gravest().verdict == wanted)
            .count()
    };
    let counts = [Verdict::Refuse, Verdict::Warn, Verdict::Pass]
        .map(|one| format!("{} {}", count(one), one.word()));
    let nothing = reports
        .iter()
        .filter(|report| report.gravest().nothing_checked)
        .count();
    let nothing = if nothing > 0 {
        format!("; in {nothing} nothing was checked")
    } else {
        String::new()
    };
    let asked = reports.first().and_then(|report| stages::asked(report));
    let asked = asked.map(|asked| format!(", for {asked} only"));
    let heading = format!(
        "{} proposals{}: {}{nothing}",
        reports.len(),
        asked.unwrap_or_default(),
        counts.join(", ")
    );
    page.paragraph(0, &[Part::new(Role::Heading, heading)]);
    for report in reports {
        let nothing = if report.gravest().nothing_checked {
            " (nothing was checked)"
        } else {
            ""
        };
        let text = [
            Part::text(report.title.as_ref()),
            Part::text(nothing),
            Part::new(Role::Quiet, format!(" ({})", report.proposal)),
        ];
        page.entry(2, &[verdict(report.gravest().verdict, false)], 10, &text);
    }
    page.finish()
}
