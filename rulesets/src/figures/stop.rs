//! When to stop a light that does not stop by itself.

use crate::class::{Class, Classes};
use crate::span::{not_negative, span, times};
use rules_core::quantity::Interval;

/// A plan by which somebody stops in time a light without a cut-off. Of each interval the cautious
/// end counts: the high end of the voltages, the low end of the time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopPlan {
    /// Stop when a cell rests at this voltage, in V.
    pub rest: Interval,
    /// Stop when a cell shows this voltage under load, in V.
    pub loaded: Interval,
    /// Look for the first time no later than this, in hours after a full start.
    pub first_check: Interval,
}

/// The part of the run time after which to look for the first time. Common practice: recharge after
/// 60 to 70 % of a tested run time, or at 3.5 to 3.6 V at rest.
const FIRST_CHECK: f64 = 0.6;

/// The resistance grows by up to this part over a discharge, in the model of `discharge`.
const MOST_GROWTH: f64 = 0.5;

/// The rest voltage in V at which to stop. Common practice for the 4.2 V classes. For iron
/// phosphate, whose voltage hardly falls, where its curve holds 15 to 25 %.
const fn rest_stop(class: Class) -> (f64, f64) {
    if class.is_four_volt() {
        (3.5, 3.6)
    } else {
        (3.20, 3.25)
    }
}

/// A stop plan for cells of these classes under a current in A, with a resistance in ohms at the
/// temperature of use, that would run for so many hours.
#[must_use]
pub fn stop_plan(
    classes: Classes,
    current: Interval,
    resistance: Interval,
    run_time: Interval,
) -> StopPlan {
    let rest = classes.hull(|class| {
        let (least, greatest) = rest_stop(class);
        span(least, greatest)
    });
    let [current, resistance] = [current, resistance].map(not_negative);
    let sag = span(
        times(current.lo(), resistance.lo()),
        times(current.hi(), resistance.hi()) * (1.0 + MOST_GROWTH),
    );
    StopPlan {
        rest,
        loaded: not_negative(rest - sag),
        first_check: not_negative(run_time) * Interval::point(FIRST_CHECK),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(value: f64) -> Interval {
        Interval::point(value)
    }

    /// Common practice: 3.5 to 3.6 V at rest. Ohm's law: 3 A in 60 mohm sag by 0.18 V, in 150 mohm
    /// by 0.45 V.
    #[test]
    fn the_loaded_stop_is_the_rest_stop_less_the_sag() {
        let plan = stop_plan(
            Classes::of(Class::Icr),
            point(3.0),
            span(0.060, 0.150),
            point(0.61),
        );
        assert_eq!(plan.rest, span(3.5, 3.6));
        assert!((plan.loaded.hi() - (3.6 - 0.18)).abs() < 1e-9 && plan.loaded.lo() <= 3.5 - 0.45);
        assert!(plan.first_check.lo() <= 0.6 * 0.61 && plan.first_check.lo() > 0.3);
    }

    #[test]
    fn what_is_not_known_asks_to_look_at_once() {
        let plan = stop_plan(
            Classes::ALL,
            Interval::WHOLE,
            Interval::WHOLE,
            Interval::WHOLE,
        );
        assert_eq!((plan.first_check.lo(), plan.loaded.hi()), (0.0, 3.6));
        assert_eq!(plan.rest, span(3.2, 3.6));
    }
}
