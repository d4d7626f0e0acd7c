//! Open-circuit voltage by charge state, for each class.
//!
//! The curves come from `data/class_ocv.csv`, which names its sources. They are model output at 25 degC, from one to three published parameter sets for a
//! class. A charge state is a part of the charge between the class's own ends: 0 is the voltage at which the table starts (2.75 V; iron phosphate 2.0 V), 1 is
//! full (4.20 V; iron phosphate 3.6 V).
//!
//! Beyond its ends a curve goes on as a straight line. Below 0 the mean curve keeps the slope of its last step, the lowest curve falls twice as fast and the
//! highest half as fast: cut-offs lie under the start of the table, and a weak cell in series is pushed further. Above 1 all three keep the slope of the last
//! step, or 10 V for a whole charge if that is less. This is a stated extrapolation, not data.

use std::sync::LazyLock;

use super::class::{Class, Classes};
use super::margin::{CURVE_WIDTHS, Width};
use super::span::span;
use crate::quantity::Interval;

/// The table of curves, with its sources.
const DATA: &str = include_str!("../../data/class_ocv.csv");

/// Points of a curve in a charge state of 1.
const STEPS: f64 = 200.0;

/// How far the mixtures called IMR may lie below the curves of the nickel and cobalt cells, in volts (from memory; there is no open data set among the sources).
const IMR_BELOW: f64 = 0.05;

/// How far they may lie above, in volts, but not over a straight line from the first to the second of these voltages, empty to full: pure spinel keeps about 3.9
/// to 4.1 V for most of its charge (from memory).
const IMR_ABOVE: f64 = 0.30;
const SPINEL: (f64, f64) = (3.95, 4.20);

/// The steepest that a curve goes on above full, in volts by charge state.
const STEEPEST_ABOVE: f64 = 10.0;

/// Which of a class's three curves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Curve {
    /// The lowest voltage among the class's sets.
    Lowest,
    /// Their mean.
    Mean,
    /// The highest.
    Highest,
    /// The lowest that a cell of the class may have, by `margin`.
    Floor,
    /// The highest that a cell of the class may have.
    Ceiling,
}

/// A curve at equal steps of charge, and its slopes beyond both ends, in volts by charge state.
#[derive(Debug)]
pub(super) struct Line {
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
    let [icr, inr, ifr] = [(icr, width(|width| width.icr)), (inr, width(|width| width.inr)), (ifr, width(|width| width.ifr))].map(Rows::widened);
    let imr = Rows { class: mixed(&icr.class, &inr.class), may_be: mixed(&icr.may_be, &inr.may_be) };
    [icr, inr, imr, ifr].map(Table::of)
});

/// The rows of a class, and those of what its cells may be.
struct Rows {
    class: Vec<Row>,
    may_be: Vec<Row>,
}

/// The width of a class at a charge state; where two ranges meet the wider of both.
fn width(of: fn(&Width) -> (f64, f64)) -> impl Fn(f64) -> (f64, f64) {
    move |charge| {
        let starts = std::iter::once(0.0).chain(CURVE_WIDTHS.iter().map(|width| width.up_to));
        let holding = CURVE_WIDTHS.iter().zip(starts).filter(|(width, from)| (from - 1e-9..=width.up_to + 1e-9).contains(&charge));
        holding.map(|(width, _)| of(width)).fold((0.0, 0.0), |(down, up): (f64, f64), (below, above)| (down.max(below), up.max(above)))
    }
}

impl Rows {
    /// Lowest and highest drawn apart; the lowest made to rise from full downwards, the highest from empty upwards, so that each stays the bound that it is.
    fn widened((class, width): (Vec<Row>, impl Fn(f64) -> (f64, f64))) -> Self {
        let drawn_apart = |row: &Row| {
            let (below, above) = width(row[0]);
            [row[0], row[1], row[2] - below, row[3] + above]
        };
        let mut may_be: Vec<Row> = class.iter().map(drawn_apart).collect();
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
type Row = [f64; 4];

/// The rows of a class at equal steps. The table has wider steps in the middle, each a whole number of ours.
fn rows(class: &str) -> Vec<Row> {
    let given: Vec<Row> = DATA.lines().filter_map(|line| row(line, class)).collect();
    let steps = STEPS as usize;
    (0..=steps).filter_map(|step| at_step(&given, step as f64 / STEPS)).collect()
}

fn row(line: &str, class: &str) -> Option<Row> {
    let mut fields = line.split(',');
    (fields.next()? == class).then_some(())?;
    let mut number = || fields.next()?.parse::<f64>().ok();
    Some([number()? / 100.0, number()?, number()?, number()?])
}

fn at_step(given: &[Row], charge: f64) -> Option<Row> {
    let after = given.partition_point(|row| row[0] < charge - 1e-9);
    let upper = given.get(after)?;
    let lower = given.get(after.saturating_sub(1))?;
    let width = upper[0] - lower[0];
    let part = if width > 0.0 { (charge - lower[0]) / width } else { 0.0 };
    let between = |lower: f64, upper: f64| lower + (upper - lower) * part;
    Some([charge, between(lower[1], upper[1]), between(lower[2], upper[2]), between(lower[3], upper[3])])
}

/// The class between two others: what either holds, widened.
fn mixed(one: &[Row], other: &[Row]) -> Vec<Row> {
    let both = one.iter().zip(other);
    both.map(|(one, other)| {
        let (lowest, highest) = (one[2].min(other[2]), one[3].max(other[3]));
        let spinel = SPINEL.0 + (SPINEL.1 - SPINEL.0) * one[0];
        [one[0], one[1].midpoint(other[1]), lowest - IMR_BELOW, highest.max(spinel).min(highest + IMR_ABOVE)]
    })
    .collect()
}

impl Table {
    fn of(rows: Rows) -> Self {
        let line = |rows: &[Row], column: fn(&Row) -> f64, below: f64, above: f64| Line { points: rows.iter().map(column).collect(), below, above };
        let mean: Vec<f64> = rows.class.iter().map(|row| row[1]).collect();
        let (below, above) = (first_slope(&mean), last_slope(&mean).min(STEEPEST_ABOVE));
        Self {
            lowest: line(&rows.class, |row| row[2], below * 2.0, above),
            mean: Line { points: mean, below, above },
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
    points.first().zip(points.get(1)).map_or(0.0, |(first, second)| (second - first) * STEPS)
}

fn last_slope(points: &[f64]) -> f64 {
    let mut backwards = points.iter().rev();
    backwards.next().zip(backwards.next()).map_or(0.0, |(last, before)| (last - before) * STEPS)
}

impl Line {
    pub(super) fn voltage(&self, charge: f64) -> f64 {
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
    fn charge(&self, voltage: f64, greatest: bool) -> f64 {
        if voltage <= self.first() {
            return (voltage - self.first()) / self.below;
        }
        if voltage >= self.last() {
            return 1.0 + (voltage - self.last()) / self.above;
        }
        let after = self.points.partition_point(|point| if greatest { *point <= voltage } else { *point < voltage });
        let (lower, upper) = (self.points.get(after.saturating_sub(1)), self.points.get(after));
        let part = lower.zip(upper).map_or(0.0, |(lower, upper)| (voltage - lower) / (upper - lower));
        (after.saturating_sub(1) as f64 + part) / STEPS
    }

    /// The least and greatest slope of the steps that touch a range of charge states, in volts by charge state.
    fn slopes(&self, least: f64, greatest: f64) -> Interval {
        let last = self.points.len().saturating_sub(2);
        let from = ((least * STEPS) as usize).min(last);
        let to = ((greatest * STEPS).ceil() as usize).saturating_sub(1).clamp(from, last);
        let pairs = self.points.iter().zip(self.points.iter().skip(1)).skip(from).take(to - from + 1);
        let slopes = pairs.map(|(lower, upper)| (upper - lower) * STEPS);
        let (least, greatest) = slopes.fold((f64::INFINITY, 0.0_f64), |(least, greatest), slope| (least.min(slope), greatest.max(slope)));
        span(least.min(greatest), greatest)
    }

    fn first(&self) -> f64 {
        self.points.first().copied().unwrap_or(0.0)
    }

    fn last(&self) -> f64 {
        self.points.last().copied().unwrap_or(0.0)
    }
}

/// One curve of a class.
pub(super) fn line(class: Class, curve: Curve) -> &'static Line {
    let [icr, inr, imr, ifr] = &*TABLES;
    let table = match class {
        Class::Icr => icr,
        Class::Inr => inr,
        Class::Imr => imr,
        Class::Ifr => ifr,
    };
    table.line(curve)
}

/// The open-circuit voltage in volts at a charge state, on one curve of a class. It rises with the charge state, and is not NaN unless that is.
#[must_use]
pub fn voltage(class: Class, curve: Curve, charge: f64) -> f64 {
    line(class, curve).voltage(charge)
}

/// The least charge state at which a curve reaches a voltage. It may lie below 0 or above 1: see the module's word on extrapolation.
#[must_use]
pub fn least_charge(class: Class, curve: Curve, voltage: f64) -> f64 {
    line(class, curve).charge(voltage, false)
}

/// The greatest charge state at which a curve is no higher than a voltage.
#[must_use]
pub fn greatest_charge(class: Class, curve: Curve, voltage: f64) -> f64 {
    line(class, curve).charge(voltage, true)
}

/// The open-circuit voltages, in volts, that cells of these classes may have at these charge states.
#[must_use]
pub fn voltages(classes: Classes, charge: Interval) -> Interval {
    classes.hull(|class| span(voltage(class, Curve::Floor, charge.lo()), voltage(class, Curve::Ceiling, charge.hi())))
}

/// The charge states that cells of these classes may have at these open-circuit voltages, in volts. Below 0 and above 1 they are extrapolated.
#[must_use]
pub fn charges(classes: Classes, voltage: Interval) -> Interval {
    classes.hull(|class| {
        let least = least_charge(class, Curve::Ceiling, voltage.lo());
        span(least, greatest_charge(class, Curve::Floor, voltage.hi()))
    })
}

/// The least and greatest slope, in V by charge state, of one curve of a class in a range of charge states. Beyond the table it is that of the table's end.
#[must_use]
pub fn slopes(class: Class, curve: Curve, least: f64, greatest: f64) -> Interval {
    line(class, curve).slopes(least, greatest)
}

/// The voltages between which the table of a class has data, in volts: 0 to 100 %, on its mean curve.
#[must_use]
pub fn table_range(class: Class) -> Interval {
    let line = line(class, Curve::Mean);
    span(line.first(), line.last())
}

#[cfg(test)]
mod tests {
    use super::*;

    const CURVES: [Curve; 3] = [Curve::Lowest, Curve::Mean, Curve::Highest];
    const BOUNDS: [Curve; 2] = [Curve::Floor, Curve::Ceiling];

    #[test]
    fn every_row_of_the_data_is_read() {
        for class in ["ICR", "INR", "IFR"] {
            let written = DATA.lines().filter(|line| line.starts_with(class)).count();
            let read: Vec<Row> = DATA.lines().filter_map(|line| row(line, class)).collect();
            assert_eq!((written, read.len()), (65, 65), "{class}");
            assert_eq!(rows(class).len(), 201, "{class}");
            for [charge, mean, lowest, highest] in read {
                let class = match class {
                    "ICR" => Class::Icr,
                    "INR" => Class::Inr,
                    _ => Class::Ifr,
                };
                for (curve, given) in CURVES.into_iter().zip([lowest, mean, highest]) {
                    assert!((voltage(class, curve, charge) - given).abs() < 1e-9, "{class:?} {curve:?} at {charge}");
                }
            }
        }
    }

    #[test]
    fn curves_rise_and_keep_their_order() {
        for class in Class::ALL {
            for step in -100..=300 {
                let at = |curve, step: i32| voltage(class, curve, f64::from(step) / 200.0);
                for curve in CURVES.into_iter().chain(BOUNDS) {
                    assert!(at(curve, step) <= at(curve, step + 1), "{class:?} {curve:?} at {step}");
                }
                assert!(at(Curve::Floor, step) <= at(Curve::Lowest, step) && at(Curve::Highest, step) <= at(Curve::Ceiling, step), "{class:?} {step}");
                assert!(
                    at(Curve::Lowest, step) <= at(Curve::Mean, step) && at(Curve::Mean, step) <= at(Curve::Highest, step),
                    "{class:?} {step}"
                );
            }
        }
    }

    #[test]
    fn a_charge_state_goes_there_and_back() {
        for class in Class::ALL {
            for curve in CURVES.into_iter().chain(BOUNDS) {
                for step in -60..=260 {
                    let charge = f64::from(step) / 200.0 + 0.001;
                    let volts = voltage(class, curve, charge);
                    let (least, greatest) = (least_charge(class, curve, volts), greatest_charge(class, curve, volts));
                    assert!(least <= charge + 1e-9 && charge <= greatest + 1e-9, "{class:?} {curve:?}: {least} {charge} {greatest}");
                }
            }
        }
    }

    #[test]
    fn what_is_unknown_stays_open() {
        assert_eq!(charges(Classes::ALL, Interval::WHOLE), Interval::WHOLE);
        assert_eq!(voltages(Classes::ALL, Interval::WHOLE), Interval::WHOLE);
    }

    /// Rest voltages of two nickel cells by percent of their own charge between 2.5 and 4.2 V: a measured 18650 cell of 3.0 Ah (public open-circuit data set of
    /// 2022, MIT licence, mean of charge and discharge at C/20) and the set of J. Electrochem. Soc. 167 (2020) 080534, evaluated at its own stoichiometries.
    const NICKEL: [(f64, f64, f64); 19] = [
        (5.0, 3.133, 3.109),
        (10.0, 3.268, 3.296),
        (15.0, 3.350, 3.434),
        (20.0, 3.413, 3.485),
        (25.0, 3.499, 3.529),
        (30.0, 3.559, 3.581),
        (35.0, 3.610, 3.629),
        (40.0, 3.661, 3.667),
        (45.0, 3.706, 3.705),
        (50.0, 3.753, 3.751),
        (55.0, 3.798, 3.798),
        (60.0, 3.839, 3.841),
        (65.0, 3.882, 3.890),
        (70.0, 3.923, 3.948),
        (75.0, 3.979, 3.994),
        (80.0, 4.037, 4.042),
        (85.0, 4.075, 4.081),
        (90.0, 4.091, 4.097),
        (95.0, 4.112, 4.124),
    ];

    #[test]
    fn measured_nickel_cells_lie_within_the_curves() {
        for (percent, measured, published) in NICKEL {
            // Both cells reach 2.75 V, our 0 %, at 1.2 % to 1.3 % of their own charge.
            let charge = (percent / 100.0 - 0.0125) / (1.0 - 0.0125);
            let bounds = voltages(Classes::of(Class::Inr), Interval::point(charge));
            assert!(bounds.contains(measured) && bounds.contains(published), "{percent} %: {bounds:?} {measured} {published}");
        }
    }

    /// The open-circuit formula of IEEE Trans. Energy Conversion 21 (2006) for a cobalt cell of 0.85 Ah; the sign of its quadratic term is given.
    fn formula_of_2006(charge: f64, quadratic: f64) -> f64 {
        -1.031 * (-35.0 * charge).exp() + 3.685 + 0.2156 * charge + quadratic * charge.powi(2) + 0.3201 * charge.powi(3)
    }

    /// Copies with the wrong sign are about: they give 4.339 V for a full cell, which no 4.2 V cell rests at.
    #[test]
    fn a_cobalt_cell_of_2006_lies_near_the_cobalt_curve() {
        assert!((formula_of_2006(1.0, -0.1178) - 4.103).abs() < 5e-4);
        assert!((formula_of_2006(1.0, 0.1178) - 4.339).abs() < 6e-4);
        for percent in (10..=95).step_by(5) {
            let charge = f64::from(percent) / 100.0;
            let ours = voltage(Class::Icr, Curve::Mean, charge);
            assert!((formula_of_2006(charge, -0.1178) - ours).abs() < 0.09, "{percent} %: {ours}");
        }
        assert!(formula_of_2006(1.0, 0.1178) > voltages(Classes::of(Class::Icr), span(0.0, 1.0)).hi() + 0.1);
    }

    /// The lesson of both tables: 3.7 V is 44 % of a nickel cell, and 13 % to 20 % of a cobalt cell.
    #[test]
    fn charge_from_voltage_needs_the_class() {
        let at = |class| charges(Classes::of(class), Interval::point(3.7));
        assert!(at(Class::Inr).contains(0.44) && at(Class::Icr).contains(0.13) && !at(Class::Inr).contains(0.13));
        assert!(charges(Classes::ALL, Interval::point(3.7)).encloses(at(Class::Inr).hull(at(Class::Icr))));
    }
}
