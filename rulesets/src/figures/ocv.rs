//! Open-circuit voltage by charge state, for each class.
//!
//! The curves come from `data/class_ocv.csv`, which names its sources. They are model output at 25
//! degC, from one to three published parameter sets for a class. A charge state is a part of the
//! charge between the class's own ends: 0 is the voltage at which the table starts (2.75 V; iron
//! phosphate 2.0 V), 1 is full (4.20 V; iron phosphate 3.6 V).
//!
//! How a curve moves with temperature is not modelled: a rest reading comes without one, and the
//! shift, some tenths of a millivolt per kelvin (from memory), is small beside the widths in
//! `margin`.
//!
//! Beyond its ends a curve goes on as a straight line. Below 0 the mean curve keeps the slope of
//! its last step, the lowest curve falls twice as fast and the highest half as fast: cut-offs lie
//! under the start of the table, and a weak cell in series is pushed further. Above 1 all three
//! keep the slope of the last step, or 10 V for a whole charge if that is less. This is a stated
//! extrapolation, not data.

mod curve;
mod lines;
mod table;

pub use self::curve::Curve;
pub(super) use self::lines::Line;
pub(super) use self::table::line;
use crate::class::{Class, Classes};
use crate::span::span;
use rules_core::quantity::Interval;

/// The open-circuit voltage in volts at a charge state, on one curve of a class. It rises with the
/// charge state, and is not NaN unless that is.
#[must_use]
pub fn voltage(class: Class, curve: Curve, charge: f64) -> f64 {
    line(class, curve).voltage(charge)
}

/// The least charge state at which a curve reaches a voltage. It may lie below 0 or above 1: see
/// the module's word on extrapolation.
#[must_use]
pub fn least_charge(class: Class, curve: Curve, voltage: f64) -> f64 {
    line(class, curve).charge(voltage, false)
}

/// The greatest charge state at which a curve is no higher than a voltage.
#[must_use]
pub fn greatest_charge(class: Class, curve: Curve, voltage: f64) -> f64 {
    line(class, curve).charge(voltage, true)
}

/// The open-circuit voltages, in volts, that cells of these classes may have at these charge
/// states.
#[must_use]
pub fn voltages(classes: Classes, charge: Interval) -> Interval {
    classes.hull(|class| {
        span(
            voltage(class, Curve::Floor, charge.lo()),
            voltage(class, Curve::Ceiling, charge.hi()),
        )
    })
}

/// The charge states that cells of these classes may have at these open-circuit voltages, in volts.
/// Below 0 and above 1 they are extrapolated.
#[must_use]
pub fn charges(classes: Classes, voltage: Interval) -> Interval {
    classes.hull(|class| {
        let least = least_charge(class, Curve::Ceiling, voltage.lo());
        span(least, greatest_charge(class, Curve::Floor, voltage.hi()))
    })
}

/// The least and greatest slope, in V by charge state, of one curve of a class in a range of charge
/// states. Beyond the table it is that of the table's end.
#[must_use]
pub fn slopes(class: Class, curve: Curve, least: f64, greatest: f64) -> Interval {
    line(class, curve).slopes(least, greatest)
}

/// The voltages between which the table of a class has data, in volts: 0 to 100 %, on its mean
/// curve.
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
    fn curves_rise_and_keep_their_order() {
        for class in Class::ALL {
            for step in -100..=300 {
                let at = |curve, step: i32| voltage(class, curve, f64::from(step) / 200.0);
                for curve in CURVES.into_iter().chain(BOUNDS) {
                    assert!(
                        at(curve, step) <= at(curve, step + 1),
                        "{class:?} {curve:?} at {step}"
                    );
                }
                assert!(
                    at(Curve::Floor, step) <= at(Curve::Lowest, step)
                        && at(Curve::Highest, step) <= at(Curve::Ceiling, step),
                    "{class:?} {step}"
                );
                assert!(
                    at(Curve::Lowest, step) <= at(Curve::Mean, step)
                        && at(Curve::Mean, step) <= at(Curve::Highest, step),
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
                    let (least, greatest) = (
                        least_charge(class, curve, volts),
                        greatest_charge(class, curve, volts),
                    );
                    // Where a bound is level, points of the table are equal but for their last digit.
                    let is_level = || {
                        charge - greatest < 0.01 && volts - voltage(class, curve, greatest) < 1e-9
                    };
                    assert!(
                        least <= charge + 1e-9 && (charge <= greatest + 1e-9 || is_level()),
                        "{class:?} {curve:?}: {least} {charge} {greatest}"
                    );
                }
            }
        }
    }

    #[test]
    fn what_is_unknown_stays_open() {
        assert_eq!(charges(Classes::ALL, Interval::WHOLE), Interval::WHOLE);
        assert_eq!(voltages(Classes::ALL, Interval::WHOLE), Interval::WHOLE);
    }

    /// Rest voltages of two nickel cells by percent of their own charge between 2.5 and 4.2 V: a
    /// measured 18650 cell of 3.0 Ah (public open-circuit data set of 2022, MIT licence, mean of
    /// charge and discharge at C/20) and the set of J. Electrochem. Soc. 167 (2020) 080534,
    /// evaluated at its own stoichiometries.
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
            assert!(
                bounds.contains(measured) && bounds.contains(published),
                "{percent} %: {bounds:?} {measured} {published}"
            );
        }
    }

    /// The open-circuit formula of IEEE Trans. Energy Conversion 21 (2006) for a cobalt cell of
    /// 0.85 Ah; the sign of its quadratic term is given.
    fn formula_of_2006(charge: f64, quadratic: f64) -> f64 {
        -1.031 * (-35.0 * charge).exp()
            + 3.685
            + 0.2156 * charge
            + quadratic * charge.powi(2)
            + 0.3201 * charge.powi(3)
    }

    /// Copies with the wrong sign are about: they give 4.339 V for a full cell, which no 4.2 V cell
    /// rests at.
    #[test]
    fn a_cobalt_cell_of_2006_lies_near_the_cobalt_curve() {
        assert!((formula_of_2006(1.0, -0.1178) - 4.103).abs() < 5e-4);
        assert!((formula_of_2006(1.0, 0.1178) - 4.339).abs() < 6e-4);
        for percent in (10..=95).step_by(5) {
            let charge = f64::from(percent) / 100.0;
            let ours = voltage(Class::Icr, Curve::Mean, charge);
            assert!(
                (formula_of_2006(charge, -0.1178) - ours).abs() < 0.09,
                "{percent} %: {ours}"
            );
        }
        assert!(
            formula_of_2006(1.0, 0.1178)
                > voltages(Classes::of(Class::Icr), span(0.0, 1.0)).hi() + 0.1
        );
    }

    /// The lesson of both tables: 3.7 V is 44 % of a nickel cell, and 13 % to 20 % of a cobalt
    /// cell. The curves of worn cells lie so far apart that both classes hold either.
    #[test]
    fn charge_from_voltage_needs_the_class() {
        let at = |class| charges(Classes::of(class), Interval::point(3.7));
        assert!(
            at(Class::Inr).contains(0.44)
                && at(Class::Icr).contains(0.13)
                && at(Class::Icr).lo() < at(Class::Inr).lo(),
            "{:?} {:?}",
            at(Class::Inr),
            at(Class::Icr)
        );
        assert!(
            charges(Classes::ALL, Interval::point(3.7))
                .encloses(at(Class::Inr).hull(at(Class::Icr)))
        );
    }
}
