//! Parts of pages, for a form that shows them beside what is filled in.

use rules_core::check::Report;
use rules_core::document::Problem;

use super::html::Html;
use super::{first, range};
use crate::jobs::range::RangeReport;

pub use super::plots::scale::round_step;

pub use super::page::{CLASS, SHEET, STYLE};
pub use super::paper::{cells, row_head, section, table, verdict};

/// The first page of a report, without its title.
#[must_use]
pub fn first_page(report: &Report) -> Html {
    Html::written(|html| first::write_part(report, html))
}

/// What would change the verdict of a report, as far as it was tried.
#[must_use]
pub fn would_change(report: &Report) -> Html {
    Html::written(|html| first::write_changes(report, html))
}

/// The range of one fact, without its title.
#[must_use]
pub fn range_part(report: &RangeReport) -> Html {
    Html::written(|html| range::write_part(report, html))
}

/// What is wrong with what was given, each with how it is mended.
#[must_use]
pub fn problems(heading: &str, problems: &[Problem]) -> Html {
    let mut html = Html::default();
    html.element("div", &[("class", "problems")], |html| {
        html.said("p", &[("class", "outcome")], heading);
        html.element("ul", &[], |html| {
            for problem in problems {
                html.element("li", &[], |html| {
                    html.prose(&problem.message);
                    if let Some(help) = problem.help.as_deref().filter(|help| !help.is_empty()) {
                        html.text(". ");
                        html.told("span", &[("class", "quiet")], help);
                    }
                });
            }
        });
    });
    html
}
