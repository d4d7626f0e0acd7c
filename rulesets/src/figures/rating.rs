//! Heat, rate and energy of a cell: plain arithmetic.

use crate::span::{not_negative, ratio, span, times};
use rules_core::quantity::Interval;

/// Heat in a resistance, in W: `I²·R`, of a current in A and a resistance in ohms.
#[must_use]
pub fn heat(current: Interval, resistance: Interval) -> Interval {
    let (current, resistance) = (current.abs(), not_negative(resistance));
    let at = |current: f64, resistance: f64| times(times(current, current), resistance);
    span(
        at(current.lo(), resistance.lo()),
        at(current.hi(), resistance.hi()),
    )
}

/// The rate of a current in A, in C, for a capacity in Ah. No capacity at all makes any current
/// infinitely fast.
#[must_use]
pub fn rate(current: Interval, capacity: Interval) -> Interval {
    let (current, capacity) = (current.abs(), not_negative(capacity));
    span(
        ratio(current.lo(), capacity.hi()),
        ratio(current.hi(), capacity.lo()),
    )
}

/// Energy in Wh of a charge in Ah at a voltage in V.
#[must_use]
pub fn energy(charge: Interval, voltage: Interval) -> Interval {
    not_negative(charge) * not_negative(voltage)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(value: f64) -> Interval {
        Interval::point(value)
    }

    fn near(value: Interval, expected: f64, within: f64) {
        assert!(
            (value.lo() - expected).abs() < within && (value.hi() - expected).abs() < within,
            "{value:?} {expected}"
        );
    }

    /// Ohm's law, worked by hand: 3 A in 60 mohm and in 150 mohm; and the heat of three operating
    /// points.
    #[test]
    fn heat_is_ohms_law() {
        near(heat(point(3.0), point(0.060)), 0.54, 1e-9);
        near(heat(point(3.0), point(0.150)), 1.35, 1e-9);
        near(heat(point(3.36), point(0.060)), 0.68, 0.005);
        near(heat(point(4.40), point(0.120)), 2.33, 0.01);
        near(heat(point(4.61), point(0.30)), 6.4, 0.05);
    }

    /// 2.2 Ah at 3.7 V are 29 kJ; 10.8 V and 2.5 Ah are 27 Wh (a published example for air
    /// travellers).
    #[test]
    fn energy_is_charge_by_voltage() {
        near(energy(point(2.2), point(3.7)) * point(3.6), 29.3, 0.1);
        near(energy(point(2.5), point(10.8)), 27.0, 1e-9);
        near(rate(point(1.3), point(2.6)), 0.5, 1e-12);
        assert!(rate(point(1.0), point(0.0)).hi().is_infinite());
    }
}
