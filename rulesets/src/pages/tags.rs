//! Tags of cells, eight to a sheet, to be cut apart.

use super::html::Html;
use super::page::{Page, page};
use super::paper::{notice, openly};
use crate::jobs::tag::{CellTag, TagReport};

/// The tags of cells as a page.
#[must_use]
pub fn tags(report: &TagReport) -> Page {
    page(
        &format!("Tags: {}", report.bench),
        |html| {
            let of_bench = [("class", "screen"), ("aria-label", "Bench")];
            html.element("header", &of_bench, |html| {
                html.said("h1", &[], &report.bench);
                html.said("p", &[], report.caution);
            });
            html.element("ul", &[("class", "tags"), ("aria-label", "Tags")], |html| {
                for tag in &report.tags {
                    html.element("li", &[], |html| one(tag, html));
                }
            });
        },
        |html| {
            html.element("div", &[("class", "next-sheet")], |html| {
                openly(report.acceptance, &report.loosened, html);
                notice(&report.notice, html);
            });
        },
    )
}

/// The lines of a tag, as they are printed on its label.
fn one(tag: &CellTag, html: &mut Html) {
    for line in &tag.lines {
        html.said("p", &[], line);
    }
}
