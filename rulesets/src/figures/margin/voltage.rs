//! The margin of the voltage under load.

use super::fade::fades;
use crate::class::Class;
use crate::figures::resistance::{LEAST_ENERGY, MOST_ENERGY, RESISTANCE_ENERGY, arrhenius};
use crate::span::times;
use rules_core::quantity::Interval;

/// A point of a discharge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Mark {
    /// Half of the charge that will be given is given.
    Mid,
    /// Nine tenths of it are given.
    Late,
}

/// What the margin of a voltage depends on. Each is taken at its worst.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::figures) struct VoltageUse {
    /// The cell's class.
    pub(in crate::figures) class: Class,
    /// The highest current by the charge of the cell, in C.
    pub(in crate::figures) rate: f64,
    /// The highest current by the grown resistance at 25 degC, in V.
    pub(in crate::figures) drop: f64,
    /// Temperature of the cell, in degC.
    pub(in crate::figures) temperature: Interval,
    /// Whether the cell starts, or may start, below nine tenths of its charge.
    pub(in crate::figures) partial: bool,
}

/// By how much a voltage may be off, in volts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VoltageMargin {
    /// How much lower it may be; infinite where it is not known at all.
    pub down: f64,
    /// How much higher.
    pub up: f64,
}

impl VoltageMargin {
    /// The wider of both.
    pub(in crate::figures) fn or(self, other: Self) -> Self {
        Self {
            down: self.down.max(other.down),
            up: self.up.max(other.up),
        }
    }
}

/// Down and up, in volts: what the shape of the curves leaves open, and what is added for a whole
/// loss of charge. Cells that lost half of their lithium show the most half way in the classes of 4.2 V,
/// and the least in iron phosphate: what holds them, and half of what was missing as much again.
struct Shape {
    curve: (f64, f64),
    loss: (f64, f64),
}

const fn shape(class: Class, mark: Mark) -> Shape {
    match (class, mark) {
        (Class::Inr, Mark::Mid) => Shape {
            curve: (0.10, 0.178),
            loss: (0.10, 0.05),
        },
        (Class::Icr, Mark::Mid) => Shape {
            curve: (0.09, 0.098),
            loss: (0.10, 0.05),
        },
        (Class::Imr, Mark::Mid) => Shape {
            curve: (0.10, 0.178),
            loss: (0.10, 0.05),
        },
        (Class::Ifr, Mark::Mid) => Shape {
            curve: (0.102, 0.03),
            loss: (0.09, 0.03),
        },
        (Class::Inr, Mark::Late) => Shape {
            curve: (0.16, 0.308),
            loss: (0.27, 0.06),
        },
        (Class::Icr, Mark::Late) => Shape {
            curve: (0.11, 0.12),
            loss: (0.145, 0.06),
        },
        (Class::Imr, Mark::Late) => Shape {
            curve: (0.16, 0.308),
            loss: (0.27, 0.06),
        },
        (Class::Ifr, Mark::Late) => Shape {
            curve: (0.485, 0.04),
            loss: (0.05, 0.03),
        },
    }
}

/// For a start below nine tenths: charge state of the front up to which a row holds, and down and
/// up.
const fn partial(class: Class) -> &'static [(f64, f64, f64)] {
    match class {
        Class::Inr | Class::Imr => &[(0.35, 0.19, 0.28), (f64::INFINITY, 0.16, 0.15)],
        Class::Icr => &[(0.35, 0.16, 0.13), (f64::INFINITY, 0.12, 0.11)],
        Class::Ifr => &[
            (0.06, 0.68, 0.05),
            (0.15, 0.42, 0.05),
            (0.35, 0.32, 0.05),
            (f64::INFINITY, 0.11, 0.05),
        ],
    }
}

/// A loss of charge above which the voltage is not known.
const MOST_LOSS: f64 = 0.55;

/// The ratio of resistances, at a temperature to at 25 degC, at which the upper margin is widest on
/// the warm side.
const WIDEST: f64 = 0.61;

impl VoltageUse {
    /// The margin at a mark where the front's charge state is within `front`.
    pub(in crate::figures) fn margin(&self, mark: Mark, front: Interval) -> VoltageMargin {
        let (rated_down, rated_up) = self.curve(mark, front);
        let loss = self.loss();
        let Shape {
            loss: (lost_down, lost_up),
            ..
        } = shape(self.class, mark);
        let (cold, warm) = (self.temperature.lo(), self.temperature.hi());
        let down =
            rated_down + times(self.drop, sag_down(cold).max(sag_down(warm))) + lost_down * loss;
        let up = rated_up + times(self.drop, sag_up(cold).max(sag_up(warm))) + lost_up * loss;
        VoltageMargin {
            down: if loss > MOST_LOSS {
                f64::INFINITY
            } else {
                down
            },
            up,
        }
    }

    fn curve(&self, mark: Mark, front: Interval) -> (f64, f64) {
        let (down, up) = shape(self.class, mark).curve;
        if !self.partial {
            return (down, up);
        }
        let rows = partial(self.class);
        let from = rows.partition_point(|(below, ..)| *below <= front.lo());
        let to = rows.partition_point(|(below, ..)| *below <= front.hi());
        let touched = rows.iter().skip(from).take(to - from + 1);
        touched.fold((down, up), |(down, up), (_, other_down, other_up)| {
            (down.max(*other_down), up.max(*other_up))
        })
    }

    fn loss(&self) -> f64 {
        1.0 - fades(self.class)
            .iter()
            .map(|fade| fade.left(self.rate, self.temperature.lo()))
            .fold(1.0, f64::min)
    }
}

/// How much more a volt of sag may be, and how much less, as the resistance may depend on
/// temperature otherwise than the model says. Each falls towards 25 degC and rises beyond it, so
/// that the ends of a range of temperatures are its worst.
fn sag_down(temperature: f64) -> f64 {
    let [least, nominal, most] =
        [LEAST_ENERGY, RESISTANCE_ENERGY, MOST_ENERGY].map(|energy| arrhenius(energy, temperature));
    least.max(most) - 0.75 * nominal
}

fn sag_up(temperature: f64) -> f64 {
    let nominal = arrhenius(RESISTANCE_ENERGY, temperature).max(WIDEST);
    // The other energies are a tenth and the double of the nominal one.
    1.22 * nominal
        - nominal
            .powf(LEAST_ENERGY / RESISTANCE_ENERGY)
            .min(nominal.powf(MOST_ENERGY / RESISTANCE_ENERGY))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(temperature: f64) -> VoltageUse {
        VoltageUse {
            class: Class::Icr,
            rate: 0.5,
            drop: 0.1,
            temperature: Interval::point(temperature),
            partial: false,
        }
    }

    #[test]
    fn it_is_narrowest_at_room_temperature_and_in_the_middle() {
        let full = Interval::point(0.5);
        let mid = at(25.0).margin(Mark::Mid, full);
        assert!(
            (0.11..0.13).contains(&mid.down) && (0.11..0.13).contains(&mid.up),
            "{mid:?}"
        );
        for temperature in [-10.0, 0.0, 10.0, 40.0, 60.0] {
            let other = at(temperature).margin(Mark::Mid, full);
            assert!(
                other.down > mid.down && other.up > mid.up,
                "{temperature}: {other:?}"
            );
        }
        assert!(at(25.0).margin(Mark::Late, full).down > mid.down);
    }

    #[test]
    fn a_partial_start_is_known_less() {
        let late = |front| {
            VoltageUse {
                partial: true,
                class: Class::Ifr,
                ..at(25.0)
            }
            .margin(Mark::Late, front)
        };
        let span = |lo, hi| Interval::new(lo, hi).unwrap();
        assert!(late(span(0.02, 0.04)).down > late(span(0.5, 0.6)).down);
        assert!((late(span(0.02, 0.6)).down - late(span(0.02, 0.04)).down).abs() < 1e-12);
        assert!(
            VoltageUse {
                rate: 3.4,
                ..at(25.0)
            }
            .margin(Mark::Mid, span(0.5, 0.5))
            .down
            .is_infinite()
        );
    }
}
