//! Draws the open-circuit curves of the classes, and writes them as the values that `ocv/table.rs`
//! includes.

use std::iter;

#[allow(unreachable_pub, reason = "it is a part of the crate too")]
#[path = "../src/figures/margin/curve_widths.rs"]
mod curve_widths;
#[allow(dead_code, reason = "all of it is read where it is shown")]
#[path = "../src/figures/ocv/lines.rs"]
mod lines;

use self::curve_widths::{CURVE_WIDTHS, Width};
use self::lines::{Line, POINTS, STEPS, Table};

/// The table of curves, with its sources.
const DATA: &str = include_str!("../data/class_ocv.csv");

/// How far the mixtures called IMR may lie below the curves of the nickel and cobalt cells, in
/// volts (from memory; there is no open data set among the sources).
const IMR_BELOW: f64 = 0.05;

/// How far they may lie above, in volts, but not over a straight line from the first to the second
/// of these voltages, empty to full: pure spinel keeps about 3.9 to 4.1 V for most of its charge
/// (from memory).
const IMR_ABOVE: f64 = 0.30;
const SPINEL: (f64, f64) = (3.95, 4.20);

/// The steepest that a curve goes on above full, in volts by charge state.
const STEEPEST_ABOVE: f64 = 10.0;

/// The curves of all classes, of ICR, INR, IMR and IFR; none where the data does not fill them.
pub(crate) fn tables() -> Option<String> {
    let [icr, inr, ifr] = ["ICR", "INR", "IFR"].map(rows);
    let [icr, inr, ifr] = [
        (icr, width(|width| width.icr)),
        (inr, width(|width| width.inr)),
        (ifr, width(|width| width.ifr)),
    ]
    .map(Rows::widened);
    let imr = Rows {
        class: mixed(&icr.class, &inr.class),
        may_be: mixed(&icr.may_be, &inr.may_be),
    };
    let tables: Option<Vec<Table>> = [icr, inr, imr, ifr].iter().map(table).collect();
    // What is shown of them is how they are written in Rust.
    Some(format!("{:?}", tables?))
}

/// The width of a class at a charge state; where two ranges meet the wider of both.
fn width(of: fn(&Width) -> (f64, f64)) -> impl Fn(f64) -> (f64, f64) {
    move |charge| {
        let starts = iter::once(0.0).chain(CURVE_WIDTHS.iter().map(|width| width.up_to));
        let holding = CURVE_WIDTHS
            .iter()
            .zip(starts)
            .filter(|(width, from)| (from - 1e-9..=width.up_to + 1e-9).contains(&charge));
        holding
            .map(|(width, _)| of(width))
            .fold((0.0, 0.0), |(down, up): (f64, f64), (below, above)| {
                (down.max(below), up.max(above))
            })
    }
}

/// The rows of a class, and those of what its cells may be.
struct Rows {
    class: Vec<VoltageRow>,
    may_be: Vec<VoltageRow>,
}

impl Rows {
    /// Lowest and highest drawn apart; the lowest made to rise from full downwards, the highest
    /// from empty upwards, so that each stays the bound that it is.
    fn widened((class, width): (Vec<VoltageRow>, impl Fn(f64) -> (f64, f64))) -> Self {
        let drawn_apart = |row: &VoltageRow| {
            let (below, above) = width(row[0]);
            [row[0], row[1], row[2] - below, row[3] + above]
        };
        let mut may_be: Vec<VoltageRow> = class.iter().map(drawn_apart).collect();
        let mut highest = f64::NEG_INFINITY;
        for row in &mut may_be {
            highest = highest.max(row[3]);
            row[3] = highest;
        }
        let mut lowest = f64::INFINITY;
        for row in may_be.iter_mut().rev() {
            lowest = lowest.min(row[2]);
            row[2] = lowest;
        }
        Self { class, may_be }
    }
}

/// One row: charge state, and the mean, lowest and highest voltage.
type VoltageRow = [f64; 4];

/// The rows of a class at equal steps. The table has wider steps in the middle, each a whole number
/// of ours.
fn rows(class: &str) -> Vec<VoltageRow> {
    let given: Vec<VoltageRow> = DATA.lines().filter_map(|line| row(line, class)).collect();
    let steps = STEPS as usize;
    (0..=steps)
        .filter_map(|step| at_step(&given, step as f64 / STEPS))
        .collect()
}

fn row(line: &str, class: &str) -> Option<VoltageRow> {
    let mut fields = line.split(',');
    (fields.next()? == class).then_some(())?;
    let mut number = || fields.next()?.parse::<f64>().ok();
    Some([number()? / 100.0, number()?, number()?, number()?])
}

fn at_step(given: &[VoltageRow], charge: f64) -> Option<VoltageRow> {
    let after = given.partition_point(|row| row[0] < charge - 1e-9);
    let upper = given.get(after)?;
    let lower = given.get(after.saturating_sub(1))?;
    let width = upper[0] - lower[0];
    let part = if width > 0.0 {
        (charge - lower[0]) / width
    } else {
        0.0
    };
    let between = |lower: f64, upper: f64| lower + (upper - lower) * part;
    Some([
        charge,
        between(lower[1], upper[1]),
        between(lower[2], upper[2]),
        between(lower[3], upper[3]),
    ])
}

/// The class between two others: what either holds, widened.
fn mixed(one: &[VoltageRow], other: &[VoltageRow]) -> Vec<VoltageRow> {
    let both = one.iter().zip(other);
    both.map(|(one, other)| {
        let (lowest, highest) = (one[2].min(other[2]), one[3].max(other[3]));
        let spinel = SPINEL.0 + (SPINEL.1 - SPINEL.0) * one[0];
        [
            one[0],
            one[1].midpoint(other[1]),
            lowest - IMR_BELOW,
            highest.max(spinel).min(highest + IMR_ABOVE),
        ]
    })
    .collect()
}

fn table(rows: &Rows) -> Option<Table> {
    let mean = column(&rows.class, |row| row[1])?;
    let (below, above) = (first_slope(&mean), last_slope(&mean).min(STEEPEST_ABOVE));
    let line = |points, below| Line {
        points,
        below,
        above,
    };
    Some(Table {
        lowest: line(column(&rows.class, |row| row[2])?, below * 2.0),
        mean: line(mean, below),
        highest: line(column(&rows.class, |row| row[3])?, below / 2.0),
        floor: line(column(&rows.may_be, |row| row[2])?, below * 2.0),
        ceiling: line(column(&rows.may_be, |row| row[3])?, below / 2.0),
    })
}

fn column(rows: &[VoltageRow], of: fn(&VoltageRow) -> f64) -> Option<[f64; POINTS]> {
    let points: Vec<f64> = rows.iter().map(of).collect();
    points.try_into().ok()
}

fn first_slope(points: &[f64]) -> f64 {
    points
        .first()
        .zip(points.get(1))
        .map_or(0.0, |(first, second)| (second - first) * STEPS)
}

fn last_slope(points: &[f64]) -> f64 {
    let mut backwards = points.iter().rev();
    backwards
        .next()
        .zip(backwards.next())
        .map_or(0.0, |(last, before)| (last - before) * STEPS)
}
