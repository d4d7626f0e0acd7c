//! Plain arithmetic on cells: heat, rate, energy, voltages of a class, self-discharge, the time
//! that a stored cell lasts, and the time of a charge.

use super::ocv::{self, Curve};
use crate::class::{Class, Classes};
use crate::span::{not_negative, ratio, span, times};
use rules_core::quantity::Interval;

/// Hours in 30 days.
const MONTH: f64 = 720.0;

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

/// The voltages of a class of cells, in V.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Voltages {
    /// Full, at rest after a charge or at its end.
    pub full: Interval,
    /// Nominal, as labels give it.
    pub nominal: Interval,
    /// Empty: where the class's curve starts.
    pub empty: Interval,
}

/// The voltages of these classes. `full` is the charge's end voltage where the caller knows it.
///
/// Nominal 3.6 to 3.7 V, full 4.20 V (maker sheets ICR18650-26C, INR18650-30Q, INR21700-50E); iron
/// phosphate nominal 3.2 to 3.3 V, full 3.60 to 3.65 V (trade sheet).
#[must_use]
pub fn voltages(classes: Classes, full: Option<Interval>) -> Voltages {
    let usual = |class: Class| {
        if class.is_four_volt() {
            span(4.20, 4.20)
        } else {
            span(3.60, 3.65)
        }
    };
    Voltages {
        full: full.unwrap_or_else(|| classes.hull(usual)),
        nominal: classes.hull(|class| {
            if class.is_four_volt() {
                span(3.6, 3.7)
            } else {
                span(3.2, 3.3)
            }
        }),
        empty: classes.hull(|class| Interval::point(ocv::table_range(class).lo())),
    }
}

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

/// A charge takes up this part of the tested capacity at least, and at most: a charger may stop a
/// little early, and a slow charge puts in more than a test at a higher rate takes out.
const TAKEN_UP: (f64, f64) = (0.95, 1.10);

/// The longest that the part of a charge at constant voltage lasts beyond the charge by the
/// current, in hours.
const LONGEST_TAPER: f64 = 2.0;

/// Hours of a charge at a current in A until the current has tapered off, from a charge state to
/// full, for a cell of a tested capacity in Ah.
///
/// It takes about the charge by the current, and the end of it, at constant voltage, adds to that.
/// In models of six published parameter sets (PyBaMM 26.10.1.1, 10 and 25 degC, 0.2 to 1 C, to 0.05
/// C) that was up to 1.3 h; a worn cell tapers longer, so two hours are allowed (common practice).
/// Data sheets of cells give 3 hours for a whole charge at 0.5 C. This is an estimate to plan by,
/// not a time after which a charge is at fault.
#[must_use]
pub fn charge_time(charge: Interval, capacity: Interval, current: Interval) -> Interval {
    let missing = not_negative(Interval::point(1.0) - charge);
    let [capacity, current] = [capacity, current].map(not_negative);
    let (least, greatest) = (
        times(missing.lo(), capacity.lo()) * TAKEN_UP.0,
        times(missing.hi(), capacity.hi()) * TAKEN_UP.1,
    );
    let taper = if greatest > 0.0 { LONGEST_TAPER } else { 0.0 };
    span(
        ratio(least, current.hi()),
        ratio(greatest, current.lo()) + taper,
    )
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

    /// Data sheets of 2.0 and 2.6 Ah cells: 3 hours at 0.5 C from empty.
    #[test]
    fn a_charge_takes_its_time() {
        assert!(charge_time(point(0.0), point(2.0), point(1.0)).contains(3.0));
        // Modelled charges from empty: tested capacity at 1 C to 2.75 V, current, hours (sets
        // Chen2020 at 10 and 25 degC, and Ai2020, in PyBaMM 26.10.1.1).
        for (capacity, current, hours) in [
            (4.888, 1.0, 5.26),
            (4.888, 2.5, 2.57),
            (4.888, 5.0, 1.84),
            (2.436, 0.456, 5.46),
            (2.436, 2.28, 1.41),
        ] {
            assert!(
                charge_time(point(0.0), point(capacity), point(current)).contains(hours),
                "{capacity} Ah at {current} A"
            );
        }
        assert_eq!(charge_time(point(1.0), point(2.0), point(1.0)), point(0.0));
        assert!(
            charge_time(point(0.5), point(2.0), point(0.0))
                .hi()
                .is_infinite()
        );
    }

    #[test]
    fn classes_have_their_voltages() {
        let (cobalt, iron) = (
            voltages(Classes::of(Class::Icr), None),
            voltages(Classes::of(Class::Ifr), None),
        );
        assert_eq!((cobalt.full, cobalt.empty), (point(4.20), point(2.75)));
        assert!(iron.full.contains(3.65) && iron.nominal.contains(3.2) && iron.empty.contains(2.0));
        assert_eq!(
            voltages(Classes::of(Class::Icr), Some(point(4.1))).full,
            point(4.1)
        );
        assert!(
            voltages(Classes::ALL, None)
                .nominal
                .encloses(cobalt.nominal)
        );
    }
}
