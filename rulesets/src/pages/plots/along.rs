//! The run time over what the light draws, by all that is known.

use rules_core::check::ReportedNumber;

use super::discharge::bar;
use super::drawing::{Drawing, Named, WIDTH, figure};
use super::looks::own_line;
use super::scale::Scale;
use crate::jobs::range::{Along, AlongPoint, RangeFact};
use crate::pages::html::Html;
use crate::pages::paper::{cells, row_head, section, table};

const HEIGHT: f64 = 290.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = WIDTH - 14.0;
const TOP: f64 = 30.0;
const BOTTOM: f64 = HEIGHT - 56.0;
const MINUTES: f64 = 60.0;
/// So many hours and less are shown in minutes.
const SHORT: f64 = 2.0;

/// A value of the fact with the least and the longest time, in the unit of the plot.
type Bar = (f64, (f64, f64));

/// Writes the plot with its table; nothing where no time has both ends.
pub(in crate::pages) fn write(along: &Along, html: &mut Html) {
    let known: Vec<Bar> = along.points.iter().filter_map(hours).collect();
    let longest = known.iter().map(|(_, (_, high))| *high).reduce(f64::max);
    let ends = along.points.first().zip(along.points.last());
    let Some((longest, (first, last))) = longest.zip(ends) else {
        return;
    };
    let (unit, times) = match longest > SHORT {
        true => ("h", 1.0),
        false => ("min", MINUTES),
    };
    let across = Scale::new((first.at.value, last.at.value), (LEFT + 6.0, RIGHT - 6.0));
    let up = Scale::new((0.0, longest * times), (BOTTOM, TOP));
    section(("along", "Run time and draw"), html, |html| {
        let named = Named {
            id: "along-plot".to_owned(),
            title: "Run time after a full charge, by what the light draws.",
            words: &words(along),
        };
        let draw = |drawing: &mut Drawing<'_>| {
            axes((across, up), (&along.fact, unit), drawing);
            let drawn = known.iter().map(|(at, (low, high))| {
                let heights = (up.at(low * times), up.at(high * times));
                (across.at(*at), heights)
            });
            bars(&drawn.collect::<Vec<_>>(), drawing);
            own_line(&along.fact, across, (TOP, BOTTOM), drawing);
        };
        figure(&named, HEIGHT, html, draw, |_| {});
        numbers(along, html);
    });
}

fn hours(point: &AlongPoint) -> Option<Bar> {
    Some((point.at.value, bar(point.value.as_ref()?)?))
}

fn words(along: &Along) -> String {
    let own = along.fact.own.as_deref().unwrap_or("nothing");
    format!(
        "Each bar is all that is possible by what is known. The strip joins the bars and is not worked \
         out itself. The plan has {own}."
    )
}

fn axes((across, up): (Scale, Scale), (fact, unit): (&RangeFact, &str), drawing: &mut Drawing<'_>) {
    drawing.grid_up(up, (LEFT, RIGHT));
    drawing.ticks_across(across, BOTTOM);
    drawing.line("axis", (LEFT, TOP), (LEFT, BOTTOM));
    drawing.line("axis", (LEFT, BOTTOM), (RIGHT, BOTTOM));
    drawing.text("bold", (4.0, TOP - 14.0), &format!("run time, {unit}"));
    let middle = (LEFT.midpoint(RIGHT), BOTTOM + 40.0);
    drawing.text("middle bold", middle, &fact.with_unit());
}

fn bars(drawn: &[Bar], drawing: &mut Drawing<'_>) {
    let highs = drawn.iter().map(|(x, (_, high))| (*x, *high));
    let lows = drawn.iter().rev().map(|(x, (low, _))| (*x, *low));
    let corners: Vec<(f64, f64)> = highs.chain(lows).collect();
    if drawn.len() > 1 {
        drawing.polygon("band", &corners);
    }
    for (x, (low, high)) in drawn {
        drawing.line("bar", (*x, *low), (*x, *high));
    }
}

fn numbers(along: &Along, html: &mut Html) {
    let heads = [&*along.fact.path, "Run time"];
    let caption = "The run time at each draw";
    table(caption, &heads, html, &along.points, |point, html| {
        let said = point.value.as_ref().map(ReportedNumber::to_string);
        row_head(&point.at.text, html);
        cells(&[said.as_deref().unwrap_or("cannot be")], html);
    });
}
