//! The time of a charge.

use crate::span::{not_negative, ratio, span, times};
use rules_core::quantity::Interval;

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
}
