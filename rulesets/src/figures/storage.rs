//! A cell that is stored: what drifts away, and how long it lasts.

use super::ocv::{self, Curve};
use crate::class::Classes;
use crate::span::{not_negative, ratio, span};
use rules_core::quantity::Interval;

/// Hours in 30 days.
const MONTH: f64 = 720.0;

/// How far the slope of a class's curve may be looked for beside the charge state, since features
/// of the curves lie elsewhere from cell to cell.
const BESIDE: f64 = 0.025;

/// The slopes, in V by charge state, that the curves of these classes have at and near these charge
/// states. 0.9 V is 9 mV for each percent.
#[must_use]
pub fn slope(classes: Classes, charge: Interval) -> Interval {
    let least = (charge.lo() - BESIDE).max(0.0);
    let greatest = (charge.hi() + BESIDE).min(1.0);
    classes.hull(|class| {
        let [lowest, mean, highest] = [Curve::Lowest, Curve::Mean, Curve::Highest]
            .map(|curve| ocv::slopes(class, curve, least, greatest));
        lowest.hull(mean).hull(highest)
    })
}

/// The part of the charge lost in 30 days by a cell that rests at a charge state and whose voltage
/// falls by `fall` volts in an hour.
///
/// About 9 mV for each percent of a nickel cell between 40 and 80 %, 3 mV near 85 to 92 %, 17 mV
/// near full: so a fall of 0.3 mV a day is 1 % in 30 days in the first region and 3 % in the
/// second.
#[must_use]
pub fn monthly_loss(classes: Classes, charge: Interval, fall: Interval) -> Interval {
    let slope = slope(classes, charge);
    let fall = not_negative(fall);
    span(
        ratio(fall.lo() * MONTH, slope.hi()),
        ratio(fall.hi() * MONTH, slope.lo()),
    )
}

/// Hours until a standby current in A has taken a charge in Ah. Infinite where it may be none.
#[must_use]
pub fn lasts(charge: Interval, standby: Interval) -> Interval {
    let [charge, standby] = [charge, standby].map(not_negative);
    span(
        ratio(charge.lo(), standby.hi()),
        ratio(charge.hi(), standby.lo()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::Class;

    fn point(value: f64) -> Interval {
        Interval::point(value)
    }

    fn near(value: Interval, expected: f64, within: f64) {
        assert!(
            (value.lo() - expected).abs() < within && (value.hi() - expected).abs() < within,
            "{value:?} {expected}"
        );
    }

    /// At 9 mV for each percent: 1, 2, 5 and 10 % in 30 days are 0.3, 0.6, 1.5 and 3.0 mV a day
    /// (arithmetic).
    #[test]
    fn a_fall_of_voltage_is_a_loss_by_the_slope() {
        for (percent, millivolts) in [(1.0, 0.3), (2.0, 0.6), (5.0, 1.5), (10.0, 3.0)] {
            let loss = monthly_loss(
                Classes::of(Class::Inr),
                span(0.45, 0.75),
                point(millivolts / 1000.0 / 24.0),
            );
            assert!(
                loss.contains(percent / 100.0),
                "{percent} % {millivolts} mV: {loss:?}"
            );
        }
    }

    /// Slopes of two nickel cells, mV for each percent: 7.4 to 11.6 between 40 and 80 %, 2.7 to 5.4
    /// at 85 to 90 %, 17 at 100 % (measured open-circuit data set of 2022, and J. Electrochem. Soc.
    /// 167 (2020) 080534).
    #[test]
    fn slopes_hold_those_of_published_cells() {
        let nickel = |charge| slope(Classes::of(Class::Inr), charge);
        for slope in [7.4, 8.4, 9.0, 9.6] {
            assert!(nickel(span(0.40, 0.80)).contains(slope / 10.0), "{slope}");
        }
        assert!(nickel(span(0.85, 0.92)).lo() < 0.35);
        assert!(nickel(point(1.0)).hi() > 1.4);
        assert!(nickel(point(1.0)).meets(nickel(point(0.5))).is_none());
    }

    #[test]
    fn a_stored_cell_lasts_as_long_as_its_charge() {
        // 1.1 Ah at 61 µA are 18,033 h.
        near(lasts(point(1.1), point(61e-6)), 18_032.8, 0.1);
        assert!(lasts(point(1.1), point(0.0)).hi().is_infinite());
        near(lasts(point(0.0), point(61e-6)), 0.0, 1e-9);
        // What charges while the light is off does not count.
        near(lasts(point(-1.0), point(61e-6)), 0.0, 1e-9);
    }
}
