//! The page of a check: what its first page says, the plots, and all findings below.

use rules_core::check::{FigureSheet, Report};
use rules_core::report::text::how_it_was_checked;

use super::html::Html;
use super::page::{Page, page};
use super::paper::{list, loosened, notice, section};
use super::plots::{along, discharge};
use super::{findings, first};
use crate::jobs::range::Along;

/// A report as a page, with the figures of the same proposal and its run time along what the light draws
/// for its plots.
#[must_use]
pub fn check(report: &Report, figures: &FigureSheet, run_time: Option<&Along>) -> Page {
    let title = format!("{}: {}", report.gravest().verdict.word(), report.title);
    page(
        &title,
        |html| {
            first::write(report, html);
            html.element("div", &[("class", "next-sheet")], |html| {
                discharge::write(figures, html);
                if let Some(run_time) = run_time {
                    along::write(run_time, html);
                }
                first::all_questions(report, html);
                findings::write(report, html);
                asides(report, html);
                how_checked(report, html);
            });
        },
        |html| notice(&report.notice, html),
    )
}

/// What was loosened, with its reason, and which readings took no part.
fn asides(report: &Report, html: &mut Html) {
    loosened(&report.loosened, html);
    if !report.unused.is_empty() {
        let heading = "Readings that could not be used";
        let said = report.unused.iter().map(|one| {
            let whose: Vec<String> = one.subjects.iter().map(ToString::to_string).collect();
            format!(
                "{} of {}: {}.",
                one.facts.join(", "),
                whose.join(", "),
                one.why
            )
        });
        section(("unused", heading), html, |html| list(said, html));
    }
}

fn how_checked(report: &Report, html: &mut Html) {
    section(("how", "How it was checked"), html, |html| {
        html.element("dl", &[], |html| {
            for (label, said) in how_it_was_checked(report) {
                html.said("dt", &[], label);
                html.told("dd", &[], &said);
            }
        });
    });
}
