//! The page of the range of one fact.

use super::html::Html;
use super::map::apart;
use super::page::{Page, page};
use super::paper::{cells, loosened, notice, row_head, section, table};
use super::plots::strip;
use crate::jobs::range::{
    RangeReport, how_searched, meaning, narrow_said, not_read, range_heading, range_lines,
};

/// The range of one fact as a page.
#[must_use]
pub fn range(report: &RangeReport) -> Page {
    let search = &report.search;
    page(
        &format!("Range: {}", search.title),
        |html| {
            html.element("header", &[], |html| {
                html.said("h1", &[], &search.title);
                html.said("p", &[], &range_heading(report));
            });
            found(report, html);
            loosened(&search.loosened, html);
        },
        |html| notice(&search.notice, html),
    )
}

/// The same without the title, to stand in a page that has one.
pub(super) fn write_part(report: &RangeReport, html: &mut Html) {
    html.said("p", &[], &range_heading(report));
    found(report, html);
}

fn found(report: &RangeReport, html: &mut Html) {
    let search = &report.search;
    match not_read(report) {
        Some(says) => html.said("p", &[], &says),
        None => drawn(report, html),
    }
    let how = how_searched(search, &[&report.fact]);
    html.said("p", &[("class", "quiet")], &how);
}

fn drawn(report: &RangeReport, html: &mut Html) {
    apart(&report.search, "it", html);
    section(("range-heading", "Range"), html, |html| {
        strip::write(report, html);
        let heads = ["Values", "Come to", "Why"];
        let lines = range_lines(report);
        let caption = format!("What the values of {} come to", report.fact.path);
        table(&caption, &heads, html, lines, |line, html| {
            row_head(&line.what, html);
            cells(&[meaning(line.class), &line.says], html);
        });
        if let Some(said) = narrow_said(report) {
            html.said("p", &[], &said);
        }
    });
}
