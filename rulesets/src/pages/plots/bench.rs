//! The cells of a bench by capacity and resistance, each grade with a mark of its own, with the limits of
//! both and a chosen set joined.

use std::cmp::Reverse;

use rules_core::quantity::{Kind, Quantity};

use super::drawing::{Drawing, Named, Place, WIDTH, figure};
use super::labels::Labels;
use super::scale::Scale;
use crate::jobs::sort::{CellLimit, Grade, SortReport, SortedCell};
use crate::pages::html::Html;

const HEIGHT: f64 = 420.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = WIDTH - 14.0;
const TOP: f64 = 30.0;
const BOTTOM: f64 = 330.0;
/// Where the marks are explained, and how far they are apart.
const LIST: f64 = 400.0;
const LIST_STEP: f64 = 108.0;
/// Half the size of a mark, and of the ring around a chosen one.
const MARK: f64 = 5.0;
const CHOSEN: f64 = 9.0;
/// Thousandths are read more easily here: mAh and mΩ.
const THOUSAND: f64 = 1000.0;
/// So many limits of a fact are drawn, those of the most cells.
const LIMITS: usize = 4;

/// A cell of which both are known.
struct Point<'r> {
    cell: &'r SortedCell,
    capacity: f64,
    resistance: f64,
}

/// The scales of both.
#[derive(Clone, Copy)]
struct Scales {
    across: Scale,
    up: Scale,
}

/// Writes the plot with what follows it; nothing where no cell has both readings. The chosen cells are
/// those of parallel groups, which stand in series.
pub(in crate::pages) fn write(
    report: &SortReport,
    limits: &[CellLimit],
    chosen: &[Vec<String>],
    html: &mut Html,
) {
    let points: Vec<Point<'_>> = report.cells.iter().filter_map(Point::of).collect();
    let across = points.iter().map(|point| point.capacity);
    let up = points.iter().map(|point| point.resistance);
    let scales = Scale::around(across, (LEFT, RIGHT)).zip(Scale::around(up, (BOTTOM, TOP)));
    let Some((across, up)) = scales else {
        return;
    };
    let scales = Scales { across, up };
    let words = words(points.len(), report.cells.len(), chosen);
    let named = Named {
        id: "bench".to_owned(),
        title: "Cells by capacity and resistance.",
        words: &words,
    };
    let draw = |drawing: &mut Drawing<'_>| {
        let mut labels = Labels::within((LEFT, RIGHT));
        for point in &points {
            labels.keep(scales.of(point), MARK);
        }
        axes(scales, drawing);
        lines_of(limits, scales, &mut labels, drawing);
        join(chosen, &points, scales, drawing);
        for point in &points {
            mark(point.cell.grade, scales.of(point), drawing);
        }
        names(&points, scales, &mut labels, drawing);
        list(&points, drawing);
    };
    figure(&named, HEIGHT, html, draw, |_| {});
}

impl Scales {
    fn of(self, point: &Point<'_>) -> Place {
        (self.across.at(point.capacity), self.up.at(point.resistance))
    }
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

fn words(drawn: usize, all: usize, chosen: &[Vec<String>]) -> String {
    let joined = match chosen {
        [] => "",
        [_] => " Rings are the chosen cells, which are in parallel.",
        [..] if chosen.iter().all(|group| group.len() == 1) => {
            " Rings are the chosen cells, which are in series."
        }
        [..] => {
            " Rings are the chosen cells: those in parallel are joined by a line, groups in series by dashes."
        }
    };
    format!(
        "{drawn} of {all} cells have both readings. They are drawn as they were read, whatever the method \
         and the meter; better is further right and further down.{joined} The table has them all."
    )
}

fn axes(Scales { across, up }: Scales, drawing: &mut Drawing<'_>) {
    drawing.grid_up(up, (LEFT, RIGHT));
    for (value, _) in across.ticks() {
        let x = across.at(value);
        drawing.line("grid", (x, TOP), (x, BOTTOM));
    }
    drawing.ticks_across(across, BOTTOM);
    drawing.line("axis", (LEFT, TOP), (LEFT, BOTTOM));
    drawing.line("axis", (LEFT, BOTTOM), (RIGHT, BOTTOM));
    drawing.text("bold", (4.0, TOP - 14.0), "resistance, mΩ");
    let middle = (LEFT.midpoint(RIGHT), BOTTOM + 40.0);
    drawing.text("middle bold", middle, "capacity, mAh");
}

/// The limits, where they lie within what is drawn.
fn lines_of(
    limits: &[CellLimit],
    Scales { across, up }: Scales,
    labels: &mut Labels,
    drawing: &mut Drawing<'_>,
) {
    let of_capacity = drawn(limits, (Kind::Charge, across));
    let of_resistance = drawn(limits, (Kind::Resistance, up));
    for (_, x) in &of_capacity {
        drawing.line("limit", (*x, TOP), (*x, BOTTOM));
    }
    for (_, y) in &of_resistance {
        drawing.line("limit", (LEFT, *y), (RIGHT, *y));
    }
    for (limit, x) in of_capacity {
        let starts = [12.0, 28.0, 44.0, 60.0].map(|down| (x + 4.0, TOP + down));
        labels.write("halo", &limit.text, &starts, drawing);
    }
    for (limit, y) in of_resistance {
        let starts = [90.0, 180.0, 270.0].map(|before| (RIGHT - before, y - 5.0));
        labels.write("halo", &limit.text, &starts, drawing);
    }
}

/// The limits of a fact that lie on its scale, with their places there: those of the most cells.
fn drawn(limits: &[CellLimit], (kind, scale): (Kind, Scale)) -> Vec<(&CellLimit, f64)> {
    let limits = limits.iter();
    let limits = limits.filter_map(|limit| Some((limit, limit.base(kind)? * THOUSAND)));
    let mut shown: Vec<_> = limits.filter(|(_, value)| scale.holds(*value)).collect();
    shown.sort_by_key(|(limit, _)| Reverse(limit.cells.len()));
    let shown = shown.into_iter().take(LIMITS);
    shown
        .map(|(limit, value)| (limit, scale.at(value)))
        .collect()
}

/// Lines through chosen cells and rings around them.
fn join(chosen: &[Vec<String>], points: &[Point<'_>], scales: Scales, drawing: &mut Drawing<'_>) {
    let place = |id: &String| {
        let point = points.iter().find(|point| point.cell.id == *id)?;
        Some(scales.of(point))
    };
    let groups = chosen.iter();
    let groups: Vec<Vec<Place>> = groups
        .map(|group| group.iter().filter_map(place).collect())
        .collect();
    for (one, next) in groups.iter().zip(groups.iter().skip(1)) {
        if let Some((from, to)) = one.last().zip(next.first()) {
            drawing.line("apart", *from, *to);
        }
    }
    for group in &groups {
        for (from, to) in group.iter().zip(group.iter().skip(1)) {
            drawing.line("joined", *from, *to);
        }
        for place in group {
            drawing.dot("own", *place, CHOSEN);
        }
    }
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

/// The names of cells beside their marks, where there is room; the table has the others.
fn names(points: &[Point<'_>], scales: Scales, labels: &mut Labels, drawing: &mut Drawing<'_>) {
    let beside = MARK + 5.0;
    for point in points {
        let name = point.cell.id.as_str();
        let ((x, y), width) = (scales.of(point), Labels::width(name));
        let starts = [
            (x + beside, y + 4.5),
            (x - beside - width, y + 4.5),
            (x - width / 2.0, y - beside),
            (x - width / 2.0, y + beside + 10.0),
        ];
        labels.write("name", name, &starts, drawing);
    }
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
