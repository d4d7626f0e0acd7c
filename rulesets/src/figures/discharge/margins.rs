//! The model's own error at work on one cell of one class.

use super::body::Body;
use super::model::{Draw, Duty};
use crate::class::Class;
use crate::figures::margin::{
    Mark, OpenReason, PARTIAL_TIME, TimeMargin, TimeUse, VoltageMargin, VoltageUse, time,
};
use crate::span::{not_negative, ratio, span, times};
use rules_core::quantity::Interval;

/// A cell whose end voltage leaves less than this part of its charge to give may also stop at once,
/// or not.
pub(in crate::figures) const EARLY: f64 = 0.3;

/// The most that a cell can give then, by its charge.
pub(in crate::figures) const MOST_GIVEN: f64 = 1.2;

/// The charge state from which a start counts as partial.
const NEARLY_FULL: f64 = 0.9;

/// What the margins of one use of a cell depend on.
#[derive(Clone, Copy, Debug)]
pub(in crate::figures) struct Margins {
    time: TimeUse,
    voltage: VoltageUse,
    /// How far the front of the charge may lag, as a charge state.
    lag: f64,
}

impl Margins {
    /// The margins of a cell under a current in A, to be given where the draw is a power.
    pub(in crate::figures) fn of(body: &Body, duty: &Duty, current: Interval) -> Self {
        let (charge, test) = (body.charge(), body.test());
        let rate = |current: Interval| {
            span(
                ratio(current.lo(), charge.hi()),
                ratio(current.hi(), charge.lo()),
            )
        };
        let rated = rate(current);
        let drop = body.drop(current);
        let temperature = duty.temperature;
        let slowed = body.slowed(temperature);
        Self {
            time: TimeUse {
                class: body.class(),
                rate: rated,
                tested: rate(not_negative(test.current)),
                temperature,
                test_temperature: test.temperature,
                cut_off: duty.cut_off,
                test_cut_off: not_negative(test.cut_off),
                drop: span(times(drop.lo(), slowed.lo()), times(drop.hi(), slowed.hi())),
                power: matches!(duty.draw, Draw::Power(_)),
                slow: body.slow(),
            },
            voltage: VoltageUse {
                class: body.class(),
                rate: rated.hi(),
                drop: drop.hi(),
                temperature,
                partial: duty.start.lo() < NEARLY_FULL,
            },
            lag: times(rated.hi(), body.lag(temperature.lo())),
        }
    }

    /// The margin of the voltage at a mark, where the mean charge state is between two.
    pub(in crate::figures) fn voltage(
        &self,
        mark: Mark,
        (least, greatest): (f64, f64),
    ) -> VoltageMargin {
        self.voltage.margin(mark, span(least - self.lag, greatest))
    }

    /// What the margin of what is given depends on.
    pub(super) const fn use_of_time(&self) -> &TimeUse {
        &self.time
    }

    /// The margin of what is given, as a part of what a full cell gives.
    pub(in crate::figures) fn time(&self) -> TimeMargin {
        let margin = time(&self.time);
        if self.voltage.partial {
            margin.wider_by(PARTIAL_TIME)
        } else {
            margin
        }
    }

    /// The bounds on what a cell gives that starts at a charge state, where the worst corner stops
    /// at another, and the best at a third.
    pub(super) fn bounds(&self, start: f64, short: f64, long: f64) -> Bounds {
        let early = 1.0 - short < EARLY;
        Bounds::of(
            self.time(),
            (1.0 - start).max(0.0),
            (1.0 - long).max(0.0),
            early.then_some(MOST_GIVEN),
        )
    }
}

/// From the model's value of what is given to its bounds.
///
/// The error is one of the charge in a full cell, so that a cell that starts with less has it all.
#[derive(Clone, Copy, Debug)]
pub(in crate::figures) struct Bounds {
    margin: TimeMargin,
    /// What is missing of a full charge at the start, at most.
    missing: f64,
    /// What a full charge would give at most.
    whole: f64,
    /// What it may give where it may also stop at once.
    early: Option<f64>,
}

impl Bounds {
    pub(in crate::figures) fn of(
        margin: TimeMargin,
        missing: f64,
        whole: f64,
        early: Option<f64>,
    ) -> Self {
        Self {
            margin,
            missing,
            whole,
            early,
        }
    }

    /// The bounds where the end voltage is above all that the cells have at rest: nothing is given.
    pub(in crate::figures) const fn nothing() -> Self {
        Self {
            margin: TimeMargin {
                least: 1.0,
                greatest: 1.0,
                open: None,
            },
            missing: 0.0,
            whole: 0.0,
            early: None,
        }
    }

    /// Why the lower bound is open, if it is.
    pub(in crate::figures) fn open(&self) -> Option<OpenReason> {
        self.margin
            .open
            .or(self.early.map(|_| OpenReason::EarlyEnd))
    }

    /// The least that is given, where the model says `given` and a charge is worth at most `worth`.
    pub(in crate::figures) fn least(&self, given: f64, worth: f64) -> f64 {
        if self.open().is_some() {
            return 0.0;
        }
        (times(given, self.margin.least) - times(self.missing, 1.0 - self.margin.least) * worth)
            .max(0.0)
    }

    /// The most that is given, where the model says `given` and a charge is worth about `worth`.
    pub(in crate::figures) fn most(&self, given: f64, worth: f64) -> f64 {
        let more = if self.margin.greatest.is_infinite() {
            f64::INFINITY
        } else {
            times(self.whole, self.margin.greatest - 1.0)
        };
        let all = given + times(more, worth);
        // Where nothing bounds it, the arithmetic of infinities must not either.
        if all.is_nan() {
            f64::INFINITY
        } else {
            all.max(times(self.early.unwrap_or(0.0), worth))
        }
    }
}

/// The voltage in V that a charge is worth at most, full.
pub(in crate::figures) const fn full_voltage(class: Class) -> f64 {
    if class.is_four_volt() { 4.2 } else { 3.6 }
}

/// The voltage in V that a charge is worth on the whole, at most.
pub(in crate::figures) const fn mean_voltage(class: Class) -> f64 {
    if class.is_four_volt() { 3.9 } else { 3.35 }
}

/// How much more than the voltage half way the mean voltage may be lower, in V.
pub(in crate::figures) const fn mean_below_mid(class: Class) -> f64 {
    if class.is_four_volt() { 0.0 } else { 0.06 }
}
