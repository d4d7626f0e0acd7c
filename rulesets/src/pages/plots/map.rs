//! The map of two facts: what each place comes to, told by its pattern.

use super::drawing::{Drawing, Named, WIDTH, figure};
use super::looks::{self, drawn, fill, list, list_height, patterns, ring};
use super::map_bands::{Band, bands, size};
use super::scale::Scale;
use crate::jobs::range::{Class, MapReport, RangeFact, meaning};
use crate::pages::html::Html;
use crate::pages::paper::{cells, row_head, table};

const LEFT: f64 = 70.0;
const RIGHT: f64 = WIDTH - 14.0;
const TOP: f64 = 28.0;
const BOTTOM: f64 = 330.0;
/// Where the list of looks starts.
const LIST: f64 = 386.0;

/// Writes the map with its table.
pub(in crate::pages) fn write(report: &MapReport, html: &mut Html) {
    let bands = bands(report);
    let classes = drawn(classes(&bands));
    let title = format!("{} across, {} up.", report.across.path, report.up.path);
    let words = words(report, &classes);
    let named = Named {
        id: "map".to_owned(),
        title: &title,
        words: &words,
    };
    let draw = |drawing: &mut Drawing<'_>| {
        patterns(drawing);
        let places = Places::of(report);
        areas(&bands, places, drawing);
        axes(report, places, drawing);
        own(report, places, drawing);
        list(&classes, LIST, drawing);
    };
    figure(&named, LIST + list_height(&classes), html, draw, |html| {
        numbers(&bands, report, html);
    });
}

fn classes<'b>(bands: &'b [Band<'_>]) -> impl Iterator<Item = Class> + Clone + 'b {
    bands
        .iter()
        .flat_map(|band| &band.runs)
        .map(|run| run.class)
}

fn words(report: &MapReport, drawn: &[Class]) -> String {
    let own = |fact: &RangeFact| {
        let own = fact.own.as_deref().unwrap_or("nothing");
        format!("{} {own}", fact.path)
    };
    let said: Vec<&str> = drawn.iter().map(|class| meaning(*class)).collect();
    format!(
        "The map has: {}. The plan has {} and {}, where the ring is.",
        said.join(", "),
        own(&report.across),
        own(&report.up)
    )
}

/// Columns and rows to places.
#[derive(Clone, Copy)]
struct Places {
    columns: Scale,
    rows: Scale,
}

impl Places {
    fn of(report: &MapReport) -> Self {
        let (columns, rows) = size(report);
        Self {
            columns: Scale::new((0.0, number(columns)), (LEFT, RIGHT)),
            rows: Scale::new((0.0, number(rows)), (BOTTOM, TOP)),
        }
    }
}

fn number(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

fn areas(bands: &[Band<'_>], places: Places, drawing: &mut Drawing<'_>) {
    for band in bands {
        let low = places.rows.at(number(band.rows.0));
        let high = places.rows.at(number(band.rows.1));
        for run in &band.runs {
            let from = (places.columns.at(number(run.columns.0)), low);
            let to = (places.columns.at(number(run.columns.1)), high);
            fill(run.class, from, to, drawing);
        }
    }
    for (lower, upper) in bands.iter().zip(bands.iter().skip(1)) {
        between(lower, upper, places, drawing);
    }
    for band in bands {
        let low = places.rows.at(number(band.rows.0));
        let high = places.rows.at(number(band.rows.1));
        for run in band.runs.iter().skip(1) {
            let x = places.columns.at(number(run.columns.0));
            drawing.line("edge", (x, low), (x, high));
        }
    }
    drawing.line("edge", (LEFT, TOP), (RIGHT, TOP));
    drawing.line("edge", (RIGHT, TOP), (RIGHT, BOTTOM));
}

/// A line between two bands, where they do not come to the same.
fn between(lower: &Band<'_>, upper: &Band<'_>, places: Places, drawing: &mut Drawing<'_>) {
    let height = places.rows.at(number(upper.rows.0));
    for one in &lower.runs {
        for other in upper.runs.iter().filter(|other| other.class != one.class) {
            let from = one.columns.0.max(other.columns.0);
            let to = one.columns.1.min(other.columns.1);
            if from < to {
                let ends = [from, to].map(|column| places.columns.at(number(column)));
                drawing.line("edge", (ends[0], height), (ends[1], height));
            }
        }
    }
}

/// The place of a value among the columns or rows of its fact. A whole number has a column of its
/// own, and its place is the middle of it.
fn step_of(fact: &RangeFact, count: usize, value: f64) -> Option<f64> {
    let (range, step) = fact.range.as_ref().zip(fact.step)?;
    let steps = (range.to.value - range.from.value) / step;
    let is_whole = (number(count) - steps - 1.0).abs() < 0.01;
    let shift = if is_whole { 0.5 } else { 0.0 };
    Some((value - range.from.value) / step + shift)
}

fn ticks(fact: &RangeFact, count: usize) -> Vec<(f64, String)> {
    let Some(range) = &fact.range else {
        return Vec::new();
    };
    let values = Scale::new((range.from.value, range.to.value), (0.0, 1.0));
    let ticks = values.ticks().into_iter();
    ticks
        .filter_map(|(value, text)| Some((step_of(fact, count, value)?, text)))
        .collect()
}

fn axes(report: &MapReport, places: Places, drawing: &mut Drawing<'_>) {
    let (columns, rows) = size(report);
    for (at, text) in ticks(&report.across, columns) {
        let x = places.columns.at(at);
        drawing.line("axis", (x, BOTTOM), (x, BOTTOM + 5.0));
        drawing.text("middle", (x, BOTTOM + 20.0), &text);
    }
    for (at, text) in ticks(&report.up, rows) {
        let y = places.rows.at(at);
        drawing.line("axis", (LEFT - 5.0, y), (LEFT, y));
        drawing.text("end", (LEFT - 9.0, y + 4.5), &text);
    }
    drawing.line("axis", (LEFT, TOP), (LEFT, BOTTOM));
    drawing.line("axis", (LEFT, BOTTOM), (RIGHT, BOTTOM));
    let middle = LEFT.midpoint(RIGHT);
    drawing.text(
        "middle bold",
        (middle, BOTTOM + 40.0),
        &report.across.with_unit(),
    );
    drawing.text("bold", (4.0, TOP - 12.0), &report.up.with_unit());
}

/// A ring where the plan is.
fn own(report: &MapReport, places: Places, drawing: &mut Drawing<'_>) {
    let (columns, rows) = size(report);
    let middle = |fact: &RangeFact, count| step_of(fact, count, looks::own(fact)?);
    let own = middle(&report.across, columns).zip(middle(&report.up, rows));
    if let Some((column, row)) = own {
        let place = (places.columns.at(column), places.rows.at(row));
        ring(place, drawing);
    }
}

fn numbers(bands: &[Band<'_>], report: &MapReport, html: &mut Html) {
    let heads = [
        &*report.up.with_unit(),
        &*report.across.with_unit(),
        "Comes to",
    ];
    let rows = bands.iter().rev().flat_map(|band| {
        let runs = band.runs.iter();
        runs.map(move |run| (band.up, run))
    });
    table(
        "The map in numbers",
        &heads,
        html,
        rows,
        |(up, run), html| {
            row_head(&reach(up), html);
            cells(&[&reach(run.across), meaning(run.class)], html);
        },
    );
}

fn reach((from, to): (&str, &str)) -> String {
    match from == to {
        true => from.to_owned(),
        false => format!("{from} to {to}"),
    }
}
