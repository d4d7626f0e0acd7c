//! The margins of a rest voltage: how far it may still be from settled, and how far the curves of
//! cells may lie from those of a class.

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

/// How far below the lowest and above the highest curve of a class a cell of it may lie, in volts,
/// up to a charge state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Width {
    /// The charge state up to which it holds.
    pub up_to: f64,
    /// Below the lowest curve and above the highest, for cobalt.
    pub icr: (f64, f64),
    /// For nickel.
    pub inr: (f64, f64),
    /// For iron phosphate.
    pub ifr: (f64, f64),
}

/// The widths by charge state: the largest excursions of eleven published parameter sets, new and worn to
/// half of their lithium (`curves.csv` of the reference tables), and of a twelfth when new, from the
/// curves of the class, and a quarter more.
pub const CURVE_WIDTHS: [Width; 11] = [
    Width {
        up_to: 0.02,
        icr: (0.15, 0.258),
        inr: (0.036, 0.19),
        ifr: (0.865, 0.01),
    },
    Width {
        up_to: 0.05,
        icr: (0.11, 0.183),
        inr: (0.06, 0.235),
        ifr: (0.809, 0.01),
    },
    Width {
        up_to: 0.10,
        icr: (0.11, 0.08),
        inr: (0.06, 0.218),
        ifr: (0.609, 0.01),
    },
    Width {
        up_to: 0.20,
        icr: (0.06, 0.074),
        inr: (0.027, 0.196),
        ifr: (0.363, 0.01),
    },
    Width {
        up_to: 0.40,
        icr: (0.069, 0.103),
        inr: (0.051, 0.087),
        ifr: (0.189, 0.01),
    },
    Width {
        up_to: 0.60,
        icr: (0.08, 0.146),
        inr: (0.04, 0.174),
        ifr: (0.107, 0.01),
    },
    Width {
        up_to: 0.80,
        icr: (0.17, 0.129),
        inr: (0.07, 0.108),
        ifr: (0.082, 0.01),
    },
    Width {
        up_to: 0.90,
        icr: (0.17, 0.102),
        inr: (0.07, 0.039),
        ifr: (0.073, 0.01),
    },
    Width {
        up_to: 0.95,
        icr: (0.075, 0.051),
        inr: (0.025, 0.048),
        ifr: (0.058, 0.01),
    },
    Width {
        up_to: 0.975,
        icr: (0.045, 0.025),
        inr: (0.012, 0.019),
        ifr: (0.044, 0.046),
    },
    Width {
        up_to: 1.0,
        icr: (0.035, 0.013),
        inr: (0.012, 0.008),
        ifr: (0.04, 0.162),
    },
];

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
