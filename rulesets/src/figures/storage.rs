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

/// The current in A that takes a part of a capacity in Ah within 30 days.
#[must_use]
pub fn leak(monthly_loss: Interval, capacity: Interval) -> Interval {
    not_negative(monthly_loss) * not_negative(capacity) / Interval::point(MONTH)
}

/// Hours until a cell is empty (charge state 0 of its class) that starts at a charge state and
/// loses a standby current in A and a part of its charge in 30 days. Infinite where it may lose
/// nothing.
#[must_use]
pub fn lasts(
    charge: Interval,
    capacity: Interval,
    standby: Interval,
    monthly_loss: Interval,
) -> Interval {
    let [charge, capacity, standby, loss] =
        [charge, capacity, standby, monthly_loss].map(not_negative);
    let least = ratio(
        charge.lo(),
        ratio(standby.hi(), capacity.lo()) + loss.hi() / MONTH,
    );
    let greatest = ratio(
        charge.hi(),
        ratio(standby.lo(), capacity.hi()) + loss.lo() / MONTH,
    );
    span(least, greatest)
}

/// A cell that is put away.
#[derive(Debug, Clone, Copy)]
pub struct Stored {
    /// Its charge state.
    pub charge: Interval,
    /// In Ah.
    pub capacity: Interval,
    /// The part of its charge that it loses in 30 days.
    pub monthly_loss: Interval,
}

/// Hours until cells in parallel are empty, which a standby current in A drains together: joined they
/// are at one voltage all the way. Infinite where they may lose nothing.
#[must_use]
pub fn last_together(cells: &[Stored], standby: Interval) -> Interval {
    if let [alone] = cells {
        return lasts(alone.charge, alone.capacity, standby, alone.monthly_loss);
    }
    let sum = |part: fn(&Stored) -> Interval| {
        cells
            .iter()
            .map(part)
            .fold(Interval::point(0.0), |all, one| all + one)
    };
    let held = sum(|one| not_negative(one.charge) * not_negative(one.capacity));
    let drain = not_negative(standby) + sum(|one| leak(one.monthly_loss, one.capacity));
    span(ratio(held.lo(), drain.hi()), ratio(held.hi(), drain.lo()))
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

    /// 2 % of 2.2 Ah in 30 days are 61 µA (arithmetic).
    #[test]
    fn a_monthly_loss_is_a_current() {
        near(leak(point(0.02), point(2.2)), 61e-6, 0.2e-6);
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
        // 2.2 Ah at half charge with 61 µA of drain: 1.1 Ah / 61 µA.
        near(
            lasts(point(0.5), point(2.2), point(61e-6), point(0.0)),
            1.1 / 61e-6,
            1.0,
        );
        near(
            lasts(point(0.5), point(2.2), point(0.0), point(0.02)),
            25.0 * 720.0,
            1e-6,
        );
        assert!(
            lasts(point(0.5), point(2.2), point(0.0), point(0.0))
                .hi()
                .is_infinite()
        );
        near(
            lasts(point(0.0), point(2.2), point(61e-6), point(0.0)),
            0.0,
            1e-12,
        );
        assert_eq!(
            lasts(point(0.5), point(0.0), point(1e-6), point(0.0)),
            point(0.0)
        );
    }

    #[test]
    fn cells_in_parallel_share_the_drain() {
        let cell = |capacity, monthly_loss| Stored {
            charge: point(0.5),
            capacity: point(capacity),
            monthly_loss: point(monthly_loss),
        };
        // 0.5 of 2.2 + 1.8 Ah are 2 Ah; 100 µA take 20,000 h for that, twice one of 2 Ah by itself.
        let both = last_together(&[cell(2.2, 0.0), cell(1.8, 0.0)], point(100e-6));
        assert!((both.middle() - 20_000.0).abs() < 1e-6, "{both:?}");
        let alone = last_together(&[cell(2.0, 0.0)], point(100e-6));
        assert!((alone.middle() - 10_000.0).abs() < 1e-6, "{alone:?}");
        // 7.2 % of 2 Ah in 720 h are 0.2 mA of one of them: with the drain 0.3 mA for 2 Ah.
        let leaks = last_together(&[cell(2.0, 0.072), cell(2.0, 0.0)], point(100e-6));
        assert!((leaks.middle() - 2.0 / 0.3e-3).abs() < 1e-6, "{leaks:?}");
    }
}
