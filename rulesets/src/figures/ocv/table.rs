//! The curves of the classes, read from their data once.

use std::sync::LazyLock;

use super::curve::Curve;
use crate::class::Class;
use crate::figures::margin::{CURVE_WIDTHS, Width};
use crate::span::span;
use rules_core::quantity::Interval;

/// The table of curves, with its sources.
const DATA: &str = include_str!("../../../data/class_ocv.csv");

/// Points of a curve in a charge state of 1.
const STEPS: f64 = 200.0;

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

/// A curve at equal steps of charge, and its slopes beyond both ends, in volts by charge state.
#[derive(Debug)]
pub(in crate::figures) struct Line {
    points: Vec<f64>,
    below: f64,
    above: f64,
}

/// The curves of a class.
struct Table {
    lowest: Line,
    mean: Line,
    highest: Line,
    floor: Line,
    ceiling: Line,
}

static TABLES: LazyLock<[Table; 4]> = LazyLock::new(|| {
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
    [icr, inr, imr, ifr].map(Table::of)
});

/// The rows of a class, and those of what its cells may be.
struct Rows {
    class: Vec<VoltageRow>,
    may_be: Vec<VoltageRow>,
}

/// The width of a class at a charge state; where two ranges meet the wider of both.
fn width(of: fn(&Width) -> (f64, f64)) -> impl Fn(f64) -> (f64, f64) {
    move |charge| {
        let starts = std::iter::once(0.0).chain(CURVE_WIDTHS.iter().map(|width| width.up_to));
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

impl Table {
    fn of(rows: Rows) -> Self {
        let line =
            |rows: &[VoltageRow], column: fn(&VoltageRow) -> f64, below: f64, above: f64| Line {
                points: rows.iter().map(column).collect(),
                below,
                above,
            };
        let mean: Vec<f64> = rows.class.iter().map(|row| row[1]).collect();
        let (below, above) = (first_slope(&mean), last_slope(&mean).min(STEEPEST_ABOVE));
        Self {
            lowest: line(&rows.class, |row| row[2], below * 2.0, above),
            mean: Line {
                points: mean,
                below,
                above,
            },
            highest: line(&rows.class, |row| row[3], below / 2.0, above),
            floor: line(&rows.may_be, |row| row[2], below * 2.0, above),
            ceiling: line(&rows.may_be, |row| row[3], below / 2.0, above),
        }
    }

    const fn line(&self, curve: Curve) -> &Line {
        match curve {
            Curve::Lowest => &self.lowest,
            Curve::Mean => &self.mean,
            Curve::Highest => &self.highest,
            Curve::Floor => &self.floor,
            Curve::Ceiling => &self.ceiling,
        }
    }
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

impl Line {
    pub(in crate::figures) fn voltage(&self, charge: f64) -> f64 {
        let place = charge * STEPS;
        if place <= 0.0 {
            return self.first() + charge * self.below;
        }
        if place >= STEPS {
            return self.last() + (charge - 1.0) * self.above;
        }
        let step = place as usize;
        match (self.points.get(step), self.points.get(step + 1)) {
            (Some(lower), Some(upper)) => lower + (upper - lower) * (place - step as f64),
            _ => self.last(),
        }
    }

    /// The charge state of a voltage: the least or, where the curve is flat, the greatest.
    pub(super) fn charge(&self, voltage: f64, greatest: bool) -> f64 {
        if voltage <= self.first() {
            return (voltage - self.first()) / self.below;
        }
        if voltage >= self.last() {
            return 1.0 + (voltage - self.last()) / self.above;
        }
        let after = self.points.partition_point(|point| {
            if greatest {
                *point <= voltage
            } else {
                *point < voltage
            }
        });
        let (lower, upper) = (
            self.points.get(after.saturating_sub(1)),
            self.points.get(after),
        );
        let part = lower
            .zip(upper)
            .map_or(0.0, |(lower, upper)| (voltage - lower) / (upper - lower));
        (after.saturating_sub(1) as f64 + part) / STEPS
    }

    /// The least and greatest slope of the steps that touch a range of charge states, in volts by
    /// charge state.
    pub(super) fn slopes(&self, least: f64, greatest: f64) -> Interval {
        let last = self.points.len().saturating_sub(2);
        let from = ((least * STEPS) as usize).min(last);
        let to = ((greatest * STEPS).ceil() as usize)
            .saturating_sub(1)
            .clamp(from, last);
        let pairs = self
            .points
            .iter()
            .zip(self.points.iter().skip(1))
            .skip(from)
            .take(to - from + 1);
        let rises = pairs.map(|(lower, upper)| upper - lower);
        let (least, greatest) = rises.fold((f64::INFINITY, 0.0_f64), |(least, greatest), rise| {
            let least = if rise < least { rise } else { least };
            (least, if rise > greatest { rise } else { greatest })
        });
        span(least.min(greatest) * STEPS, greatest * STEPS)
    }

    pub(super) fn first(&self) -> f64 {
        self.points.first().copied().unwrap_or(0.0)
    }

    pub(super) fn last(&self) -> f64 {
        self.points.last().copied().unwrap_or(0.0)
    }
}

/// One curve of a class.
pub(in crate::figures) fn line(class: Class, curve: Curve) -> &'static Line {
    let [icr, inr, imr, ifr] = &*TABLES;
    let table = match class {
        Class::Icr => icr,
        Class::Inr => inr,
        Class::Imr => imr,
        Class::Ifr => ifr,
    };
    table.line(curve)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_data_is_read() {
        for class in ["ICR", "INR", "IFR"] {
            let written = DATA.lines().filter(|line| line.starts_with(class)).count();
            let read: Vec<VoltageRow> = DATA.lines().filter_map(|line| row(line, class)).collect();
            assert_eq!((written, read.len()), (65, 65), "{class}");
            assert_eq!(rows(class).len(), 201, "{class}");
            for [charge, mean, lowest, highest] in read {
                let class = match class {
                    "ICR" => Class::Icr,
                    "INR" => Class::Inr,
                    _ => Class::Ifr,
                };
                for (curve, given) in [Curve::Lowest, Curve::Mean, Curve::Highest]
                    .into_iter()
                    .zip([lowest, mean, highest])
                {
                    assert!(
                        (line(class, curve).voltage(charge) - given).abs() < 1e-9,
                        "{class:?} {curve:?} at {charge}"
                    );
                }
            }
        }
    }
}
