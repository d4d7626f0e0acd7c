//! The margins of a rest voltage: how far it may still be from settled.

use crate::class::Class;
use rules_core::quantity::Interval;

/// How far the settled voltage may be from a reading, in volts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settling {
    /// How much higher: after a load the voltage still rises.
    pub rises: f64,
    /// How much lower: after a charge it still falls.
    pub falls: f64,
}

/// Hours of rest, and how much the voltage of a cell may still rise after a load, fall after a
/// charge, and fall if it is of iron phosphate.
///
/// Generous against the relaxation of the parameter sets (0.13 V at 1 min, 0.02 V at 10 min), since
/// real cells settle longer: common practice, from memory.
const STEPS: [(f64, f64, f64, f64); 6] = [
    (1.0 / 60.0, 0.17, 0.05, 0.15),
    (10.0 / 60.0, 0.05, 0.025, 0.05),
    (0.5, 0.025, 0.015, 0.03),
    (1.0, 0.015, 0.010, 0.02),
    (4.0, 0.008, 0.006, 0.012),
    (24.0, 0.004, 0.003, 0.006),
];

/// The same right after a current, or where nobody knows.
const AT_ONCE: (f64, f64, f64) = (0.30, 0.08, 0.30);

/// What a charge or a discharge before leaves in an iron phosphate cell, in volts, however long it
/// rests.
const HYSTERESIS: f64 = 0.012;

/// How far the settled voltage may be from a reading that was taken after so many hours without
/// current. Without `after` nothing is known of the rest.
#[must_use]
pub fn settling(class: Class, after: Option<Interval>) -> Settling {
    let (rises, falls, iron_falls) = unsettled(after.map_or(0.0, Interval::lo));
    if class.is_four_volt() {
        Settling { rises, falls }
    } else {
        Settling {
            rises: rises + HYSTERESIS,
            falls: iron_falls + HYSTERESIS,
        }
    }
}

/// Straight lines over the logarithm of the time.
fn unsettled(hours: f64) -> (f64, f64, f64) {
    let after = STEPS.partition_point(|(from, ..)| *from <= hours);
    match (
        after.checked_sub(1).and_then(|before| STEPS.get(before)),
        STEPS.get(after),
    ) {
        (Some((from, rises, falls, iron)), Some((to, less_rises, less_falls, less_iron))) => {
            let part = (hours / from).ln() / (to / from).ln();
            let between = |one: f64, other: f64| one + (other - one) * part;
            (
                between(*rises, *less_rises),
                between(*falls, *less_falls),
                between(*iron, *less_iron),
            )
        }
        (Some((_, rises, falls, iron)), None) => (*rises, *falls, *iron),
        (None, _) => AT_ONCE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The rest voltages of the parameter sets after 1 and 10 minutes and an hour, against those
    /// after 24 h, lie within (PyBaMM 26.10.1.1: after 30 min at 1 C and after a discharge at 1 C
    /// to 3.0 V, and after a charge).
    #[test]
    fn the_relaxation_of_the_sets_lies_within() {
        let after = |hours: f64| settling(Class::Inr, Some(Interval::point(hours)));
        for (minutes, reading, settled) in [
            (1.0, 3.6958, 3.7653),
            (10.0, 3.7546, 3.7653),
            (60.0, 3.7650, 3.7653),
            (1.0, 3.2451, 3.2952),
            (1.0, 4.1813, 4.1727),
        ] {
            let settling = after(minutes / 60.0);
            assert!(
                reading - settling.falls <= settled && settled <= reading + settling.rises,
                "{minutes} min"
            );
        }
        let iron = settling(Class::Ifr, Some(Interval::point(1.0 / 60.0)));
        assert!(3.4659 - iron.falls <= 3.3825);
    }

    #[test]
    fn longer_rests_settle_more() {
        let mut last = settling(Class::Icr, None);
        for minutes in [
            0.5, 1.0, 3.0, 10.0, 20.0, 30.0, 60.0, 120.0, 240.0, 1440.0, 9999.0,
        ] {
            let next = settling(Class::Icr, Some(Interval::point(minutes / 60.0)));
            assert!(
                next.rises <= last.rises && next.falls <= last.falls,
                "{minutes} min"
            );
            last = next;
        }
        assert_eq!(
            settling(Class::Icr, Some(Interval::WHOLE)),
            settling(Class::Icr, None)
        );
    }
}
