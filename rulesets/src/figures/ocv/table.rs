//! The curves of the classes, as the build script draws them from their data.

use super::curve::Curve;
use super::lines::{Line, STEPS, Table};
use crate::class::Class;
use crate::span::span;
use rules_core::quantity::Interval;

/// Those of ICR, INR, IMR and IFR.
static TABLES: [Table; 4] = include!(concat!(env!("OUT_DIR"), "/curves.rs"));

impl Table {
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
    let [icr, inr, imr, ifr] = &TABLES;
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

    const DATA: &str = include_str!("../../../data/class_ocv.csv");

    /// A row: charge state, and the mean, lowest and highest voltage.
    fn row(line: &str) -> [f64; 4] {
        let numbers = line.split(',').skip(1).take(4);
        let numbers: Vec<f64> = numbers.map(|number| number.parse().unwrap()).collect();
        numbers.try_into().unwrap()
    }

    #[test]
    fn every_row_of_the_data_is_on_its_curves() {
        for (name, class) in [
            ("ICR", Class::Icr),
            ("INR", Class::Inr),
            ("IFR", Class::Ifr),
        ] {
            let rows: Vec<[f64; 4]> = DATA
                .lines()
                .filter(|line| line.starts_with(name))
                .map(row)
                .collect();
            assert_eq!(rows.len(), 65, "{name}");
            for [percent, mean, lowest, highest] in rows {
                for (curve, given) in [Curve::Lowest, Curve::Mean, Curve::Highest]
                    .into_iter()
                    .zip([lowest, mean, highest])
                {
                    let found = line(class, curve).voltage(percent / 100.0);
                    assert!(
                        (found - given).abs() < 1e-9,
                        "{name} {curve:?} at {percent} %"
                    );
                }
            }
        }
    }
}
