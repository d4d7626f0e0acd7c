//! The operating point of a load that takes a constant power: `I = (V - sqrt(V² - 4·R·P)) / (2·R)`.

use crate::span::{VAST, not_negative, ratio, span, times};
use rules_core::quantity::{Holds, Interval};

/// Where a source and a constant power meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OperatingPoint {
    /// Whether the power can be had at all. Undecided where that depends on what is not known.
    pub exists: Holds,
    /// Current, in A. Open upwards unless the point surely exists.
    pub current: Interval,
    /// Voltage under load, in V. Down to 0 unless the point surely exists.
    pub voltage: Interval,
    /// The most power that the source can give, in W: `V² / (4·R)`.
    pub most_power: Interval,
    /// The voltage under load at which it collapses, in V: `sqrt(P·R)`.
    pub collapse: Interval,
}

/// The operating point of a source of `source` volts at rest and `resistance` ohms under a constant
/// power in W.
#[must_use]
pub fn operating_point(source: Interval, resistance: Interval, power: Interval) -> OperatingPoint {
    let [source, resistance, power] =
        [source.min(Interval::point(VAST)), resistance, power].map(not_negative);
    let most = |volts: f64, ohms: f64| ratio(times(volts, volts), 4.0 * ohms);
    let most_power = span(
        most(source.lo(), resistance.hi()),
        most(source.hi(), resistance.lo()),
    );
    let exists = power.at_most(most_power);
    let highest = loaded(source.hi(), resistance.lo(), power.lo());
    let lowest = loaded(source.lo(), resistance.hi(), power.hi());
    let sure = exists == Holds::Yes;
    OperatingPoint {
        exists,
        current: span(
            ratio(power.lo(), highest),
            if sure {
                ratio(power.hi(), lowest)
            } else {
                f64::INFINITY
            },
        ),
        voltage: span(if sure { lowest } else { 0.0 }, highest),
        most_power,
        collapse: span(
            times(power.lo(), resistance.lo()).sqrt(),
            times(power.hi(), resistance.hi()).sqrt(),
        ),
    }
}

/// The voltage under load; half the source's where the power cannot be had.
fn loaded(source: f64, resistance: f64, power: f64) -> f64 {
    let half = source / 2.0;
    let spare = times(half, half) - times(power, resistance);
    half + if spare > 0.0 { spare.sqrt() } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(volts: f64, ohms: f64, watts: f64) -> OperatingPoint {
        operating_point(
            Interval::point(volts),
            Interval::point(ohms),
            Interval::point(watts),
        )
    }

    fn near(value: Interval, expected: f64, within: f64) {
        assert!(
            (value.lo() - expected).abs() < within && (value.hi() - expected).abs() < within,
            "{value:?} {expected}"
        );
    }

    /// Circuit theory, worked by hand: a 10 W light with a driver of 85 %, and a 20 W light with
    /// one of 90 %.
    #[test]
    fn worked_examples_come_out() {
        let light = 10.0 / 0.85;
        let fresh = at(3.7, 0.060, light);
        near(fresh.current, 3.36, 0.005);
        near(fresh.voltage, 3.50, 0.005);
        let tired = at(3.2, 0.120, light);
        near(tired.current, 4.40, 0.005);
        near(tired.voltage, 2.67, 0.005);
        assert_eq!((fresh.exists, tired.exists), (Holds::Yes, Holds::Yes));
        let spent = at(3.0, 0.200, light);
        assert_eq!(spent.exists, Holds::No);
        near(spent.most_power, 11.25, 1e-9);
        let pair = 20.0 / 0.9;
        near(at(7.4, 0.12, pair).current, 3.17, 0.005);
        near(at(6.2, 0.30, pair).current, 4.61, 0.005);
        near(at(6.2, 0.30, pair).voltage, 4.82, 0.005);
    }

    /// At the boundary `P = V² / (4·R)` the point still exists, at half the voltage.
    #[test]
    fn the_most_power_can_just_be_had() {
        let most = at(3.0, 0.200, 11.25);
        assert_eq!(most.exists, Holds::Yes);
        near(most.voltage, 1.5, 1e-6);
        near(most.collapse, 1.5, 1e-9);
        assert_eq!(at(3.0, 0.200, 11.2501).exists, Holds::No);
        assert_eq!(at(3.0, 0.200, 11.2499).exists, Holds::Yes);
    }

    #[test]
    fn what_is_not_known_leaves_it_open() {
        let power = Interval::point(11.0);
        let doubtful = operating_point(
            Interval::new(2.9, 3.1).unwrap(),
            Interval::point(0.2),
            power,
        );
        assert_eq!(doubtful.exists, Holds::Undecided);
        assert_eq!(
            (doubtful.current.hi(), doubtful.voltage.lo()),
            (f64::INFINITY, 0.0)
        );
        let unknown = operating_point(Interval::WHOLE, Interval::WHOLE, Interval::WHOLE);
        assert_eq!(unknown.exists, Holds::Undecided);
        assert_eq!(unknown.current, Interval::new(0.0, f64::INFINITY).unwrap());
        assert_eq!(at(3.7, 0.0, 10.0).exists, Holds::Yes);
        near(at(3.7, 0.0, 3.7).current, 1.0, 1e-12);
        near(at(0.0, 0.1, 0.0).current, 0.0, 1e-12);
        assert_eq!(at(0.0, 0.1, 1.0).exists, Holds::No);
    }
}
