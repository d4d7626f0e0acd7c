//! The range of one fact as a strip: what each piece of it comes to.

use super::drawing::{Drawing, Named, WIDTH, figure};
use super::looks::{drawn, fill, list, list_height, own, patterns, ring};
use super::scale::Scale;
use crate::jobs::range::{RangeReport, meaning};
use crate::pages::html::Html;

const LEFT: f64 = 16.0;
const RIGHT: f64 = WIDTH - 16.0;
const TOP: f64 = 8.0;
const BOTTOM: f64 = 68.0;
const LIST: f64 = 128.0;

/// Writes the strip; nothing of a choice, which has no length.
pub(in crate::pages) fn write(report: &RangeReport, html: &mut Html) {
    let Some(range) = &report.fact.range else {
        return;
    };
    let across = Scale::new((range.from.value, range.to.value), (LEFT, RIGHT));
    let classes = drawn(report.pieces.iter().map(|piece| piece.found.alone));
    let title = format!("Range of {}.", report.fact.path);
    let words = words(report);
    let named = Named {
        id: "range".to_owned(),
        title: &title,
        words: &words,
    };
    let draw = |drawing: &mut Drawing<'_>| {
        patterns(drawing);
        pieces(report, across, drawing);
        axis(report, across, drawing);
        list(&classes, LIST, drawing);
    };
    figure(&named, LIST + list_height(&classes), html, draw, |_| {});
}

fn words(report: &RangeReport) -> String {
    let said = report.pieces.iter().map(|piece| {
        let (from, to) = (&piece.from.text, &piece.to.text);
        format!("{from} to {to} {}", meaning(piece.found.alone))
    });
    let said: Vec<String> = said.collect();
    let own = report.fact.own.as_deref().unwrap_or("nothing");
    format!("{}. The plan has {own}.", said.join("; "))
}

fn pieces(report: &RangeReport, across: Scale, drawing: &mut Drawing<'_>) {
    for piece in &report.pieces {
        let from = (across.at(piece.from.value), BOTTOM);
        let to = (across.at(piece.to.value), TOP);
        fill(piece.found.alone, from, to, drawing);
        drawing.area("edge", from, to);
    }
    if let Some(own) = own(&report.fact) {
        ring((across.at(own), TOP.midpoint(BOTTOM)), drawing);
    }
}

fn axis(report: &RangeReport, across: Scale, drawing: &mut Drawing<'_>) {
    drawing.ticks_across(across, BOTTOM);
    let middle = (LEFT.midpoint(RIGHT), BOTTOM + 42.0);
    drawing.text("middle bold", middle, &report.fact.with_unit());
}
