//! What was read of cells over time: a line a cell, for each thing that was read more than once.

use rules_core::quantity::{Kind, Quantity};

use super::drawing::{Drawing, Named, Place, WIDTH, figure};
use super::labels::Labels;
use super::scale::Scale;
use crate::bench::Date;
use crate::jobs::sort::{CellReading, SortReport, SortedCell};
use crate::pages::html::Html;
use crate::pages::paper::{cells, row_head, section, table};

const HEIGHT: f64 = 290.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = WIDTH - 64.0;
const TOP: f64 = 30.0;
const BOTTOM: f64 = HEIGHT - 40.0;
const DOT: f64 = 3.5;

/// What is drawn over time.
struct Thing {
    key: &'static str,
    id: &'static str,
    kind: Kind,
    title: &'static str,
    words: &'static str,
    /// What stands at its axis, and how many of the base unit that is.
    axis: (&'static str, f64),
}

const THINGS: [Thing; 3] = [
    Thing {
        key: "rest.voltage",
        id: "rest-over-time",
        kind: Kind::Voltage,
        title: "Rest voltage over time.",
        words: "Each line is a cell that was neither charged nor discharged: it shows what is lost in lying. \
                The table has all readings.",
        axis: ("at rest, V", 1.0),
    },
    Thing {
        key: "capacity.value",
        id: "capacity-over-time",
        kind: Kind::Charge,
        title: "Capacity over time.",
        words: "Each line is a cell, from reading to reading, as they were read. The table has them all.",
        axis: ("capacity, mAh", 1000.0),
    },
    Thing {
        key: "resistance.value",
        id: "resistance-over-time",
        kind: Kind::Resistance,
        title: "Resistance over time.",
        words: "Each line is a cell, from reading to reading, as they were read. The table has them all.",
        axis: ("resistance, mΩ", 1000.0),
    },
];

/// A cell with the readings of one thing.
struct Line<'r> {
    cell: &'r str,
    read: Vec<Read>,
}

#[derive(Clone, Copy)]
struct Read {
    day: Date,
    value: f64,
    /// Whether no line leads to it, because the cell was charged or discharged in between.
    apart: bool,
}

/// Writes the plots with the table of all readings; nothing where nothing was read twice.
pub(in crate::pages) fn write(report: &SortReport, html: &mut Html) {
    let drawn = THINGS.each_ref().map(|thing| (thing, lines(thing, report)));
    if drawn.iter().all(|(_, lines)| lines.is_empty()) {
        return;
    }
    section(("over-time", "Readings over time"), html, |html| {
        for (thing, lines) in &drawn {
            plot(thing, lines, html);
        }
        numbers(report, html);
    });
}

/// The cells of which a thing was read on two days or more.
fn lines<'r>(thing: &Thing, report: &'r SortReport) -> Vec<Line<'r>> {
    let of_cell = |cell: &'r SortedCell| {
        let read = cell.readings.iter().filter_map(|one| number(thing, one));
        let read: Vec<Read> = read.collect();
        let several = read.first()?.day < read.last()?.day;
        several.then_some(Line {
            cell: &cell.id,
            read,
        })
    };
    report.cells.iter().filter_map(of_cell).collect()
}

fn number(thing: &Thing, reading: &CellReading) -> Option<Read> {
    let is_it = reading.key == thing.key;
    let quantity = Quantity::parse(is_it.then_some(reading.value.as_str())?).ok()?;
    let unit = quantity.unit().filter(|unit| unit.suits(thing.kind))?;
    let (_, times) = thing.axis;
    Some(Read {
        day: Date::parse(&reading.date)?,
        value: unit.to_base(quantity.nominal()) * times,
        apart: reading.moved && thing.kind == Kind::Voltage,
    })
}

fn plot(thing: &Thing, lines: &[Line<'_>], html: &mut Html) {
    let read = || lines.iter().flat_map(|line| &line.read);
    let days = read().map(|one| one.day);
    let Some((first, last)) = days.clone().min().zip(days.max()) else {
        return;
    };
    let Some(up) = Scale::around(read().map(|one| one.value), (BOTTOM, TOP)) else {
        return;
    };
    let across = Scale::new((0.0, since(first, last)), (LEFT + 10.0, RIGHT - 6.0));
    let named = Named {
        id: thing.id.to_owned(),
        title: thing.title,
        words: thing.words,
    };
    let place = |one: &Read| (across.at(since(first, one.day)), up.at(one.value));
    let draw = |drawing: &mut Drawing<'_>| {
        axes((up, thing.axis.0), (first, last), drawing);
        let mut labels = Labels::within((LEFT, WIDTH - 2.0));
        for line in lines {
            course(line, place, drawing);
        }
        for line in lines {
            if let Some(end) = line.read.last() {
                let (x, y) = place(end);
                labels.write("name", line.cell, &[(x + 7.0, y + 4.5)], drawing);
            }
        }
    };
    figure(&named, HEIGHT, html, draw, |_| {});
}

/// The days from one to another.
fn since(first: Date, day: Date) -> f64 {
    f64::from(u32::try_from(day.days_since(first)).unwrap_or(0))
}

fn course(line: &Line<'_>, place: impl Fn(&Read) -> Place, drawing: &mut Drawing<'_>) {
    for (from, to) in line.read.iter().zip(line.read.iter().skip(1)) {
        if !to.apart {
            drawing.line("course", place(from), place(to));
        }
    }
    for read in &line.read {
        drawing.dot("dot", place(read), DOT);
    }
}

fn axes((up, label): (Scale, &str), (first, last): (Date, Date), drawing: &mut Drawing<'_>) {
    drawing.grid_up(up, (LEFT, RIGHT));
    drawing.line("axis", (LEFT, TOP), (LEFT, BOTTOM));
    drawing.line("axis", (LEFT, BOTTOM), (RIGHT, BOTTOM));
    drawing.text("bold", (4.0, TOP - 14.0), label);
    drawing.text("list", (LEFT, BOTTOM + 20.0), &first.to_string());
    drawing.text("end", (RIGHT, BOTTOM + 20.0), &last.to_string());
}

fn numbers(report: &SortReport, html: &mut Html) {
    let is_drawn = |reading: &&CellReading| THINGS.iter().any(|thing| thing.key == reading.key);
    let read = report.cells.iter().flat_map(|cell| {
        let readings = cell.readings.iter().filter(is_drawn);
        readings.map(move |reading| (cell, reading))
    });
    let heads = ["Cell", "Read on", "What", "Value"];
    let caption = "The dated readings of these, the oldest of each cell first";
    table(caption, &heads, html, read, |(cell, reading), html| {
        row_head(&cell.id, html);
        cells(&[&reading.date, &reading.key, &reading.value], html);
    });
}
