//! The loaded voltage of each group over the charge that it gives, after a full charge.

use rules_core::check::{FigureReport, FigureSheet, ReportedNumber, Subject};

use super::drawing::{Drawing, Named, WIDTH, figure};
use super::scale::Scale;
use crate::pages::html::Html;
use crate::pages::paper::{cells, row_head, section, table};

/// So many groups are drawn; all are in the table.
const MOST_DRAWN: usize = 6;

const HEIGHT: f64 = 270.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = WIDTH - 12.0;
const TOP: f64 = 14.0;
const BOTTOM: f64 = HEIGHT - 62.0;
/// Where the part for the given charge ends, and where the light stops.
const GIVEN_TO: f64 = 470.0;
const STOPS: f64 = 535.0;
/// Half the width of the strokes at the ends of a bar.
const CAP: f64 = 7.0;

/// The figures along a discharge, and what share of its charge a group has given there, in per cent.
const ALONG: [(&str, f64, &str); 3] = [
    ("group.start_voltage", 0.0, "Switched on"),
    ("group.mid_voltage", 50.0, "Half given"),
    ("group.late_voltage", 90.0, "Nine tenths given"),
];
const END: &str = "group.end_voltage";
const DELIVERED: &str = "group.delivered";
const CUT_OFF: &str = "build.cut_off_per_cell";

/// A group with what was worked out of it.
struct Group<'s> {
    subject: &'s Subject,
    along: [Option<&'s ReportedNumber>; 3],
    end: Option<&'s ReportedNumber>,
    delivered: Option<&'s ReportedNumber>,
}

/// Writes the plots, unless nothing is known of any group.
pub(in crate::pages) fn write(sheet: &FigureSheet, html: &mut Html) {
    let groups = groups(sheet);
    let drawn: Vec<&Group<'_>> = groups.iter().filter(|group| group.is_drawn()).collect();
    let cut_off = find(sheet, CUT_OFF, None);
    let ends = drawn.iter().flat_map(|group| group.bars()).flat_map(ends);
    let stop = cut_off.and_then(stops_at);
    let Some(volts) = Scale::around(ends.chain(stop), (BOTTOM, TOP)) else {
        return;
    };
    section(("discharge", "Voltage under load"), html, |html| {
        html.said("p", &[], &about(cut_off));
        for (at, group) in drawn.iter().take(MOST_DRAWN).enumerate() {
            one(at, group, (volts, stop, cut_off), html);
        }
        numbers(&groups, html);
    });
}

fn about(cut_off: Option<&ReportedNumber>) -> String {
    let stops = match cut_off.and_then(bar) {
        None => " It is not known at which voltage the light switches itself off.",
        Some((_, high)) if high <= 0.0 => " The light does not switch itself off.",
        Some(_) => "",
    };
    format!(
        "Each bar is all that is possible by what is known, after a full charge. The strip joins the \
         bars and is not worked out itself.{stops}"
    )
}

fn groups(sheet: &FigureSheet) -> Vec<Group<'_>> {
    let [(start, ..), ..] = ALONG;
    let of_groups = sheet.figures.iter().filter(|figure| figure.name == start);
    of_groups.map(|figure| Group::of(sheet, figure)).collect()
}

impl<'s> Group<'s> {
    fn of(sheet: &'s FigureSheet, first: &'s FigureReport) -> Self {
        let of = |name| find(sheet, name, Some(&first.subject));
        Self {
            subject: &first.subject,
            along: ALONG.map(|(name, ..)| of(name)),
            end: of(END),
            delivered: of(DELIVERED),
        }
    }

    /// What has both ends.
    fn bars(&self) -> impl Iterator<Item = &'s ReportedNumber> {
        let all = self.along.into_iter().chain([self.end]).flatten();
        all.filter(|number| bar(number).is_some())
    }

    fn is_drawn(&self) -> bool {
        self.bars().next().is_some()
    }
}

fn find<'s>(
    sheet: &'s FigureSheet,
    name: &str,
    of: Option<&Subject>,
) -> Option<&'s ReportedNumber> {
    let mut all = sheet.figures.iter();
    let found = all
        .find(|figure| figure.name == name && of.is_none_or(|subject| figure.subject == *subject));
    found?.value.as_ref()
}

/// The ends of a number, if it is known at both.
pub(super) fn bar(number: &ReportedNumber) -> Option<(f64, f64)> {
    (!number.is_unknown())
        .then(|| number.low().zip(number.high()))
        .flatten()
}

fn ends(number: &ReportedNumber) -> impl Iterator<Item = f64> {
    let (low, high) = bar(number).unzip();
    low.into_iter().chain(high)
}

/// The voltage at which the light stops; none where it does not.
fn stops_at(cut_off: &ReportedNumber) -> Option<f64> {
    let (low, high) = bar(cut_off)?;
    (low > 0.0).then(|| low.midpoint(high))
}

type Heights<'s> = (Scale, Option<f64>, Option<&'s ReportedNumber>);

fn one(at: usize, group: &Group<'_>, (volts, stop, cut_off): Heights<'_>, html: &mut Html) {
    let title = format!("Voltage under load, {}.", group.subject.in_words());
    let words = words(group);
    let named = Named {
        id: format!("discharge-{at}"),
        title: &title,
        words: &words,
    };
    let draw = |drawing: &mut Drawing<'_>| {
        axes(volts, drawing);
        bars(group, volts, drawing);
        if let Some((stop, cut_off)) = stop.zip(cut_off) {
            let height = volts.at(stop);
            drawing.line("limit", (LEFT, height), (RIGHT, height));
            let said = format!("light stops at {cut_off} per cell");
            drawing.text("halo", (LEFT + 6.0, height - 5.0), &said);
        }
    };
    figure(&named, HEIGHT, html, draw, |_| {});
}

fn words(group: &Group<'_>) -> String {
    let said = |number: Option<&ReportedNumber>| {
        number.map_or_else(|| "unknown".to_owned(), ToString::to_string)
    };
    let along = ALONG.iter().zip(group.along);
    let along = along.map(|((.., called), number)| format!("{called}: {}", said(number)));
    let along: Vec<String> = along.collect();
    format!(
        "{}; when the light stops: {}.",
        along.join("; "),
        said(group.end)
    )
}

fn axes(volts: Scale, drawing: &mut Drawing<'_>) {
    drawing.grid_up(volts, (LEFT, RIGHT));
    drawing.line("axis", (LEFT, TOP), (LEFT, BOTTOM));
    drawing.line("axis", (LEFT, BOTTOM), (RIGHT, BOTTOM));
    drawing.text("bold", (4.0, TOP + 4.0), "V");
    let given = across();
    for share in [0.0, 25.0, 50.0, 75.0, 100.0] {
        let x = given.at(share);
        drawing.line("axis", (x, BOTTOM), (x, BOTTOM + 5.0));
        drawing.text("middle", (x, BOTTOM + 20.0), &format!("{share}"));
    }
    let middle = LEFT.midpoint(GIVEN_TO);
    let label = "charge given, % of what the group gives";
    drawing.text("middle bold", (middle, BOTTOM + 42.0), label);
    drawing.line("axis", (STOPS, BOTTOM), (STOPS, BOTTOM + 5.0));
    drawing.text("middle", (STOPS, BOTTOM + 20.0), "light stops");
}

/// Room is left on either side, so that no bar stands on an axis.
fn across() -> Scale {
    Scale::new((0.0, 100.0), (LEFT + 18.0, GIVEN_TO))
}

fn bars(group: &Group<'_>, volts: Scale, drawing: &mut Drawing<'_>) {
    let given = across();
    let places = ALONG.map(|(_, share, _)| given.at(share));
    let along: Vec<(f64, (f64, f64))> = places
        .into_iter()
        .zip(group.along)
        .filter_map(|(x, number)| Some((x, bar(number?)?)))
        .collect();
    let lows = along.iter().map(|(x, (low, _))| (*x, volts.at(*low)));
    let highs = along.iter().map(|(x, (_, high))| (*x, volts.at(*high)));
    let corners: Vec<(f64, f64)> = lows.chain(highs.rev()).collect();
    if along.len() > 1 {
        drawing.polygon("band", &corners);
    }
    let end = group.end.and_then(bar).map(|ends| (STOPS, ends));
    if end.is_none() {
        let place = (STOPS, TOP.midpoint(BOTTOM));
        drawing.text("middle halo", place, "not known");
    }
    for (x, (low, high)) in along.into_iter().chain(end) {
        let (low, high) = (volts.at(low), volts.at(high));
        drawing.line("bar", (x, low), (x, high));
        for height in [low, high] {
            drawing.line("bar", (x - CAP, height), (x + CAP, height));
        }
    }
}

fn numbers(groups: &[Group<'_>], html: &mut Html) {
    let [first, second, third] = ALONG.map(|(.., called)| called);
    let heads = ["Group", first, second, third, "Light stops", "Charge given"];
    let caption = "Loaded voltage of each cell, and the charge that its group gives";
    table(caption, &heads, html, groups, |group, html| {
        row_head(&group.subject.in_words(), html);
        let numbers = group.along.into_iter().chain([group.end, group.delivered]);
        for number in numbers {
            let text = number.map_or_else(|| "unknown".to_owned(), ToString::to_string);
            cells(&[&text], html);
        }
    });
}
