//! The cells of a bench by capacity and resistance, each grade with a mark of its own.

use rules_core::quantity::{Kind, Quantity};

use super::drawing::{Drawing, Named, Place, WIDTH, figure};
use super::scale::Scale;
use crate::jobs::sort::{Grade, SortReport, SortedCell};
use crate::pages::html::Html;

const HEIGHT: f64 = 420.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = WIDTH - 14.0;
const TOP: f64 = 30.0;
const BOTTOM: f64 = 330.0;
/// Where the marks are explained, and how far they are apart.
const LIST: f64 = 400.0;
const LIST_STEP: f64 = 108.0;
/// Half the size of a mark, and the size of the letters beside it.
const MARK: f64 = 5.0;
const LETTER: (f64, f64) = (8.5, 13.0);
/// Thousandths are read more easily here: mAh and mΩ.
const THOUSAND: f64 = 1000.0;

/// A cell of which both are known.
struct Point<'r> {
    cell: &'r SortedCell,
    capacity: f64,
    resistance: f64,
}

/// Writes the plot with what follows it; nothing where no cell has both readings.
pub(in crate::pages) fn write(report: &SortReport, html: &mut Html) {
    let points: Vec<Point<'_>> = report.cells.iter().filter_map(Point::of).collect();
    let across = points.iter().map(|point| point.capacity);
    let up = points.iter().map(|point| point.resistance);
    let scales = Scale::around(across, (LEFT, RIGHT)).zip(Scale::around(up, (BOTTOM, TOP)));
    let Some((across, up)) = scales else {
        return;
    };
    let words = words(points.len(), report.cells.len());
    let named = Named {
        id: "bench".to_owned(),
        title: "Cells by capacity and resistance.",
        words: &words,
    };
    let draw = |drawing: &mut Drawing<'_>| {
        axes(across, up, drawing);
        let at = |point: &Point<'_>| (across.at(point.capacity), up.at(point.resistance));
        for point in &points {
            mark(point.cell.grade, at(point), drawing);
        }
        let named = points
            .iter()
            .map(|point| (point.cell.id.as_str(), at(point)));
        names(&named.collect::<Vec<_>>(), drawing);
        list(&points, drawing);
    };
    figure(&named, HEIGHT, html, draw, |_| {});
}

impl<'r> Point<'r> {
    fn of(cell: &'r SortedCell) -> Option<Self> {
        let read = |text: &Option<String>, kind: Kind| {
            let quantity = Quantity::parse(text.as_deref()?).ok()?;
            let unit = quantity.unit().filter(|unit| unit.suits(kind))?;
            Some(unit.to_base(quantity.nominal()) * THOUSAND)
        };
        Some(Self {
            cell,
            capacity: read(&cell.known.capacity, Kind::Charge)?,
            resistance: read(&cell.known.resistance, Kind::Resistance)?,
        })
    }
}

fn words(drawn: usize, all: usize) -> String {
    format!(
        "{drawn} of {all} cells have both readings. They are drawn as they were read, whatever the method \
         and the meter; better is further right and further down. The table has them all."
    )
}

fn axes(across: Scale, up: Scale, drawing: &mut Drawing<'_>) {
    for (value, text) in up.ticks() {
        let y = up.at(value);
        drawing.line("grid", (LEFT, y), (RIGHT, y));
        drawing.text("end", (LEFT - 6.0, y + 4.5), &text);
    }
    for (value, text) in across.ticks() {
        let x = across.at(value);
        drawing.line("grid", (x, TOP), (x, BOTTOM));
        drawing.text("middle", (x, BOTTOM + 20.0), &text);
    }
    drawing.line("axis", (LEFT, TOP), (LEFT, BOTTOM));
    drawing.line("axis", (LEFT, BOTTOM), (RIGHT, BOTTOM));
    drawing.text("bold", (4.0, TOP - 14.0), "resistance, mΩ");
    let middle = (LEFT.midpoint(RIGHT), BOTTOM + 40.0);
    drawing.text("middle bold", middle, "capacity, mAh");
}

/// The mark of a grade.
fn mark(grade: Grade, (x, y): Place, drawing: &mut Drawing<'_>) {
    let (left, right, over, under) = (x - MARK, x + MARK, y - MARK, y + MARK);
    match grade {
        Grade::Sound => drawing.dot("dot", (x, y), MARK),
        Grade::Watch => {
            drawing.polygon(
                "dot",
                &[(x, over - 1.0), (right + 1.0, under), (left - 1.0, under)],
            );
        }
        Grade::ToTest => drawing.dot("ring", (x, y), MARK - 1.0),
        Grade::SetAside => drawing.area("ring", (left, over), (right, under)),
        Grade::Retire => {
            drawing.line("bar", (left, over), (right, under));
            drawing.line("bar", (left, under), (right, over));
        }
    }
}

/// A stretch of the drawing that is taken: from its upper left to its lower right.
type Taken = (Place, Place);

/// The names of cells beside their marks, where there is room; the table has the others.
fn names(points: &[(&str, Place)], drawing: &mut Drawing<'_>) {
    let around = |(x, y): Place| ((x - MARK, y - MARK), (x + MARK, y + MARK));
    let mut taken: Vec<Taken> = points.iter().map(|(_, place)| around(*place)).collect();
    for (name, (x, y)) in points {
        let letters = u32::try_from(name.chars().count()).unwrap_or(u32::MAX);
        let width = LETTER.0 * f64::from(letters);
        let beside = MARK + 3.0;
        let starts = [
            (x + beside, y + 4.5),
            (x - beside - width, y + 4.5),
            (x - width / 2.0, y - beside),
            (x - width / 2.0, y + beside + LETTER.1 - 3.0),
        ];
        let room = |(x, y): Place| ((x, y - LETTER.1 + 2.0), (x + width, y + 2.0));
        let is_free = |start: &Place| {
            let wanted = room(*start);
            wanted.0.0 > LEFT && wanted.1.0 < RIGHT && !taken.iter().any(|one| meet(*one, wanted))
        };
        if let Some(start) = starts.into_iter().find(is_free) {
            drawing.text("name", start, name);
            taken.push(room(start));
        }
    }
}

fn meet(one: Taken, other: Taken) -> bool {
    one.0.0 < other.1.0 && other.0.0 < one.1.0 && one.0.1 < other.1.1 && other.0.1 < one.1.1
}

fn list(points: &[Point<'_>], drawing: &mut Drawing<'_>) {
    let is_drawn = |grade: &Grade| points.iter().any(|point| point.cell.grade == *grade);
    let drawn = Grade::ALL.into_iter().filter(is_drawn);
    for (at, grade) in (0_u32..).zip(drawn) {
        let x = LEFT + LIST_STEP * f64::from(at);
        mark(grade, (x, LIST - 4.5), drawing);
        drawing.text("list", (x + 13.0, LIST), grade.words());
    }
}
