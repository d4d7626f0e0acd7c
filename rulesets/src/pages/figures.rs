//! The page of figures: the plots, and every figure of every subject with what it was worked from.

use rules_core::check::{FigureReport, FigureSheet};
use rules_core::report::text::FigureSaid;

use super::html::Html;
use super::page::{Page, page};
use super::paper::{fold, notice, row_head, section, table};
use super::plots::{along, discharge};
use crate::jobs::range::Along;

/// The figures of a proposal as a page, with its run time along what the light draws, if that is known.
#[must_use]
pub fn figures(sheet: &FigureSheet, run_time: Option<&Along>) -> Page {
    page(
        &format!("Figures: {}", sheet.title),
        |html| {
            html.element("header", &[], |html| {
                html.said("h1", &[], &sheet.title);
                html.said("p", &[("class", "quiet")], &sheet.proposal);
            });
            discharge::write(sheet, html);
            if let Some(run_time) = run_time {
                along::write(run_time, html);
            }
            section(("figures", "All figures"), html, |html| {
                let by_subject = sheet.figures.iter().as_slice();
                for of_one in by_subject.chunk_by(|one, next| one.subject == next.subject) {
                    of_subject(of_one, html);
                }
            });
        },
        |html| notice(&sheet.notice, html),
    )
}

fn of_subject(figures: &[FigureReport], html: &mut Html) {
    let Some(first) = figures.first() else {
        return;
    };
    let whose = first.subject.in_words();
    fold(&whose, html, |html| {
        let heads = ["Figure", "Comes to", "What it is"];
        let caption = format!("Figures of: {whose}");
        table(&caption, &heads, html, figures, |figure, html| {
            let said = FigureSaid::of(figure);
            row_head(&figure.name, html);
            html.said("td", &[], &said.value);
            html.element("td", &[], |html| {
                html.prose(&said.says.join(" "));
                for line in &said.rests_on {
                    html.told("span", &[("class", "below")], line);
                }
            });
        });
    });
}
