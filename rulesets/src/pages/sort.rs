//! The page of sorted cells: the grades, the cells with their reasons, and the lights they suit.

use super::html::Html;
use super::page::{Page, page};
use super::paper::{cells, notice, openly, row_head, section, table};
use super::plots::{bench, over_time};
use crate::jobs::range::meaning;
use crate::jobs::sort::{CellLimit, Grade, SortReport, SortedCell, opening, reason};
use crate::jobs::without_shipped;

/// Sorted cells as a page, with the limits of their capacity and resistance for the plot.
#[must_use]
pub fn sort(report: &SortReport, limits: &[CellLimit]) -> Page {
    page(
        &format!("Cells: {}", report.bench),
        |html| {
            html.element("header", &[], |html| {
                html.said("h1", &[], &report.bench);
                html.told("p", &[], &opening(report));
                if let Some(said) = without_shipped(&report.rules) {
                    html.told("p", &[], &said);
                }
            });
            if !report.cells.is_empty() {
                grades(report, html);
                all_cells(report, limits, html);
                lights(report, html);
                over_time::write(report, html);
            }
            openly(report.acceptance, &report.loosened, html);
        },
        |html| notice(&report.notice, html),
    )
}

fn grades(report: &SortReport, html: &mut Html) {
    section(("grades", "Grades"), html, |html| {
        let heads = ["Grade", "How many", "Cells"];
        table(
            "How many cells have each grade",
            &heads,
            html,
            Grade::ALL,
            |grade, html| {
                let of_grade = report.cells.iter().filter(|cell| cell.grade == grade);
                let ids: Vec<&str> = of_grade.map(|cell| cell.id.as_str()).collect();
                row_head(grade.words(), html);
                cells(&[&ids.len().to_string(), &ids.join(" ")], html);
            },
        );
    });
}

fn all_cells(report: &SortReport, limits: &[CellLimit], html: &mut Html) {
    section(("cells", "Cells"), html, |html| {
        bench::write(report, limits, &[], html);
        let heads = [
            "Cell",
            "Grade",
            "Why",
            "Capacity",
            "Resistance",
            "At rest",
            "Read on",
            "In a light",
        ];
        table(
            "The cells, in the order of their names",
            &heads,
            html,
            &report.cells,
            one,
        );
        limits_table(limits, html);
    });
}

/// Where what the rules say of capacity and resistance changes.
pub(super) fn limits_table(limits: &[CellLimit], html: &mut Html) {
    if limits.is_empty() {
        return;
    }
    let heads = ["Limit of", "At", "Less comes to", "More comes to", "Cells"];
    let caption = "Where the verdict on capacity and resistance changes, all else as it is";
    table(caption, &heads, html, limits, |limit, html| {
        let (below, above) = (meaning(limit.below), meaning(limit.above));
        row_head(limit.fact, html);
        cells(&[&limit.text, below, above, &limit.cells.join(" ")], html);
    });
}

fn one(cell: &SortedCell, html: &mut Html) {
    let known = &cell.known;
    let why = reason(cell);
    let told = [
        &why,
        &known.capacity,
        &known.resistance,
        &known.rest_voltage,
        &known.read_on,
        &cell.in_light,
    ];
    row_head(&cell.id, html);
    cells(&[cell.grade.words()], html);
    for text in told {
        cells(&[text.as_deref().unwrap_or("-")], html);
    }
}

fn lights(report: &SortReport, html: &mut Html) {
    if report.lights.is_empty() {
        return;
    }
    section(("lights", "Into which light"), html, |html| {
        let named = report.lights.iter().map(|light| match &light.arrangement {
            Some(arrangement) => format!("{} ({arrangement})", light.light),
            None => light.light.clone(),
        });
        let named: Vec<String> = named.collect();
        let heads: Vec<&str> = ["Cell"]
            .into_iter()
            .chain(named.iter().map(String::as_str))
            .collect();
        let caption = "Whether each cell may go into each light, by the cell and its fit";
        table(caption, &heads, html, &report.cells, |cell, html| {
            row_head(&cell.id, html);
            for entry in &cell.lights {
                let by = entry.kept_out_by.as_ref();
                let by = by.map_or_else(String::new, |by| format!(": {}", by.title));
                cells(&[&format!("{}{by}", entry.suits.words())], html);
            }
        });
    });
}
