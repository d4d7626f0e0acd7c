//! The page of a pack's label: what it says, where it contradicts itself, which cells it can mean.

use super::html::Html;
use super::page::{Page, page};
use super::paper::{cells, list, notice, row_head, section, table};
use crate::label::{LabelReading, LabelReport, text};

/// What a label says, as a page.
#[must_use]
pub fn label(report: &LabelReport) -> Page {
    let (_, opening) = text::opening_said(report);
    page(
        &format!("Label: {opening}"),
        |html| {
            html.element("header", &[], |html| {
                html.said("h1", &[], "Label of a pack");
                html.said("p", &[("class", "outcome")], &opening);
                html.said("p", &[], report.caution);
            });
            section(("given", "What it has"), html, |html| {
                html.element("dl", &[], |html| {
                    for (label, said) in text::given_said(report) {
                        html.said("dt", &[], label);
                        html.said("dd", &[], &said);
                    }
                });
            });
            contradictions(report, html);
            readings(report, html);
        },
        |html| notice(&report.notice, html),
    )
}

fn contradictions(report: &LabelReport, html: &mut Html) {
    if report.contradictions.is_empty() {
        return;
    }
    section(("contradictions", "Contradictions"), html, |html| {
        let said = report.contradictions.iter();
        list(said.map(|one| one.says.clone()), html);
    });
}

fn readings(report: &LabelReport, html: &mut Html) {
    section(("readings", "Readings"), html, |html| {
        if report.readings.is_empty() {
            html.said("p", &[], "None.");
            return;
        }
        let heads = [
            "Arrangement",
            "Cells",
            "Can it be",
            "What speaks against it",
        ];
        let caption = "Every arrangement that the label allows, the likeliest first";
        table(caption, &heads, html, &report.readings, reading);
    });
}

fn reading(reading: &LabelReading, html: &mut Html) {
    let word = text::mark(reading.plausible).map_or("plausible", |(_, word)| word);
    let against: Vec<&str> = reading.doubts.iter().map(|doubt| &*doubt.says).collect();
    row_head(&reading.arrangement, html);
    cells(&[&text::cells(reading), word, &against.join(" ")], html);
}
