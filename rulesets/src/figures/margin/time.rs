//! The margin of run time and charge.

use super::fade::{ELECTROLYTE, Fade, NOT_ELECTROLYTE, along, fades, worst_fades};
use super::open_reason::OpenReason;
use crate::class::Class;
use crate::span::{ratio, times};
use rules_core::quantity::Interval;

/// What the margin of a run time depends on. Each interval is taken at its worst end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeUse {
    /// The cell's class.
    pub class: Class,
    /// The draw's current by the charge of the cell, in C.
    pub rate: Interval,
    /// The capacity test's current by the charge of the cell, in C.
    pub tested: Interval,
    /// Temperature of the cell in use, in degC.
    pub temperature: Interval,
    /// Temperature of the cell in the capacity test, in degC.
    pub test_temperature: Interval,
    /// End voltage in use, in V.
    pub cut_off: Interval,
    /// End voltage of the capacity test, in V.
    pub test_cut_off: Interval,
    /// The draw's current by the grown resistance at the temperature of use, in V.
    pub drop: Interval,
    /// Whether the draw is a constant power.
    pub power: bool,
    /// A second, slow capacity test, if there is one.
    pub slow: Option<SlowCapacity>,
}

/// What a second, slow capacity test shows beside the ordinary one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlowCapacity {
    /// Its current by the charge that it implies, in C.
    pub rate: Interval,
    /// Temperature of the cell in it, in degC.
    pub temperature: Interval,
    /// The charge that the ordinary test implies, by the charge that this one implies. Both are
    /// freed of the sag of their currents: as they were read, the faster test of a sound cell gives
    /// less too, for the sag alone.
    pub ratio: Interval,
}

impl SlowCapacity {
    /// Whether it proves that the rate of the ordinary test did not limit the cell.
    #[must_use]
    pub const fn proves(&self) -> bool {
        self.rate.hi() <= SLOW_RATE && self.ratio.lo() >= NOT_LIMITED
    }
}

/// The fastest slow test, in C: the worst credible cell still gives 96 % there.
const SLOW_RATE: f64 = 0.3;

/// A cell of which a faster test shows at least this part of what a slow one does is not limited by
/// its rate.
const NOT_LIMITED: f64 = 0.95;

/// By how much a run time or charge from full may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeMargin {
    /// The least part of the model's value: from 0 to 1.
    pub least: f64,
    /// The greatest: 1 or more, perhaps infinite.
    pub greatest: f64,
    /// Why the least is 0, if it is.
    pub open: Option<OpenReason>,
}

impl TimeMargin {
    /// Wider both ways by a part of the model's value.
    pub(in crate::figures) fn wider_by(self, part: f64) -> Self {
        Self {
            least: (self.least - part).max(0.0),
            greatest: self.greatest + part,
            open: self.open,
        }
    }

    /// The wider of both.
    pub(in crate::figures) fn or(self, other: Self) -> Self {
        let open = match (self.open, other.open) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        Self {
            least: self.least.min(other.least),
            greatest: self.greatest.max(other.greatest),
            open,
        }
    }
}

/// The coldest and hottest cell, in degC, of which the comparison says anything.
const REACH: (f64, f64) = (-10.0, 45.0);

/// The least part of the charge that a closed interval holds: below it, to say that the charge is
/// not known is the honest answer.
const LEAST_PART: f64 = 0.25;

/// The sag in V above which a run time has no upper bound.
const MOST_SAG: f64 = 0.6;

/// Excess of run time by sag in V: a cell with less resistance than it was taken to have.
const BY_SAG: [(f64, f64); 7] = [
    (0.0, 0.02),
    (0.1, 0.027),
    (0.2, 0.045),
    (0.3, 0.09),
    (0.4, 0.15),
    (0.5, 0.26),
    (0.6, 0.45),
];

/// Lack of run time by temperature in degC.
const BY_WARMTH: [(f64, f64); 3] = [(25.0, 0.0), (35.0, 0.025), (45.0, 0.035)];

/// What the margin of a run time is made of, each as a part of the model's value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeParts {
    /// The least that the worst curve leaves: 0 to 1.
    pub left: f64,
    /// The greatest that a gentler use regains: 1 or more.
    pub regained: f64,
    /// By what part a cell of ordinary shape may give less besides.
    pub short: f64,
    /// By what part it may give more.
    pub long: f64,
}

/// What the margin of a use is made of.
#[must_use]
pub fn time_parts(of: &TimeUse) -> TimeParts {
    let (short, long) = shape(of);
    TimeParts {
        left: least_left(of, of.temperature.lo()),
        regained: most_left(of),
        short,
        long,
    }
}

/// The margin of the run time or charge that a full cell gives, by the model.
#[must_use]
pub fn time(of: &TimeUse) -> TimeMargin {
    let parts = time_parts(of);
    let least = times(parts.left, 1.0 - parts.short);
    let open = why_open(of, parts.left);
    let greatest = if of.drop.hi() > MOST_SAG {
        f64::INFINITY
    } else {
        parts.regained * (1.0 + parts.long)
    };
    TimeMargin {
        least: if open.is_some() { 0.0 } else { least },
        greatest,
        open,
    }
}

/// The part of a loss that the curves have, and of the excess that the shape has, that cobalt takes up:
/// what two thirds of the sets and half of the worn cells do, and half as much again.
const COBALT_FADE: f64 = 0.86;
const COBALT_EXCESS: f64 = 0.5;

/// The least part that a cell of the class may give of what the model says.
fn least_left(of: &TimeUse, temperature: f64) -> f64 {
    let part = |fade: &Fade| {
        let left = fade.left(of.rate.hi(), temperature);
        let shown = fade.left(of.tested.lo(), of.test_temperature.hi());
        if fade.shown {
            ratio(left, shown).min(1.0)
        } else {
            left
        }
    };
    let least = worst_fades(of.class).iter().map(part).fold(1.0, f64::min);
    if of.class == Class::Icr {
        1.0 - COBALT_FADE * (1.0 - least)
    } else {
        least
    }
}

/// The greatest: a cell that was held back in its test is not in a gentler use. Without bound after
/// a test so fast that a cell may have given nothing.
fn most_left(of: &TimeUse) -> f64 {
    let [first, second] =
        fades(of.class).map(|fade| fade.regained(of.used(), of.tested, of.test_temperature));
    let first = of
        .proof()
        .map_or(first, |slow| first.min(regained_at_most(of, &slow)));
    first.max(second).max(1.0)
}

/// The greatest of a cell that is proved not to be limited by its electrolyte: what such cells
/// regain, or if more, what the slow test showed more, and what the use regains of that test.
///
/// The least part has nothing to gain of the proof: up to the rate of the ordinary test it is
/// whole, and beyond nothing is proved.
fn regained_at_most(of: &TimeUse, slow: &SlowCapacity) -> f64 {
    let beyond = ELECTROLYTE
        .regained(of.used(), slow.rate, slow.temperature)
        .max(1.0);
    NOT_ELECTROLYTE
        .regained(of.used(), of.tested, of.test_temperature)
        .max(beyond / slow.ratio.lo())
}

impl TimeUse {
    /// The rate and the temperature of the use.
    const fn used(&self) -> (Interval, Interval) {
        (self.rate, self.temperature)
    }

    /// The slow test, if it proves that the electrolyte does not limit the cell. Iron phosphate has
    /// no such limit.
    fn proof(&self) -> Option<SlowCapacity> {
        self.slow
            .filter(|slow| self.class.is_four_volt() && slow.proves())
    }
}

/// Above this, in degC, nobody would call the cold the reason.
const MILD: f64 = 15.0;

fn why_open(of: &TimeUse, faded: f64) -> Option<OpenReason> {
    if of.temperature.lo() < REACH.0 {
        Some(OpenReason::Cold)
    } else if of.temperature.hi() > REACH.1 {
        Some(OpenReason::Hot)
    } else if faded >= LEAST_PART {
        None
    } else if of.temperature.lo() < MILD
        && least_left(of, of.temperature.lo().max(25.0)) >= LEAST_PART
    {
        Some(OpenReason::Cold)
    } else if fades(of.class)
        .iter()
        .any(|fade| fade.left(of.rate.hi(), 25.0) <= 0.0)
    {
        Some(OpenReason::Fast)
    } else {
        Some(OpenReason::SlowTest)
    }
}

/// By what part a cell of ordinary shape may give less, and more, besides what the curves say.
fn shape(of: &TimeUse) -> (f64, f64) {
    let above = (of.cut_off.hi() - of.test_cut_off.lo()).max(0.0);
    let below = (of.test_cut_off.hi() - of.cut_off.lo()).max(0.0);
    let (short, long) = if of.class.is_four_volt() {
        four_volt(of, above, below)
    } else {
        iron(of, above, below)
    };
    let fast_test = 0.05 * (of.tested.hi() - 1.0).max(0.0);
    let long = long + if of.power { 0.012 } else { 0.0 };
    let long = long + along(&BY_SAG, of.drop.hi()) + fast_test;
    let excess = if of.class == Class::Icr {
        COBALT_EXCESS
    } else {
        1.0
    };
    (
        short + along(&BY_WARMTH, of.temperature.hi()) + fast_test,
        excess * long,
    )
}

/// Under this, in degC, a cell may have warmed itself in its test, which then gave more than such a
/// test of a cold cell.
const COLD_TEST: f64 = 15.0;

/// `above`: by how many volts the use may end above the test; `below`: below it.
fn four_volt(of: &TimeUse, above: f64, below: f64) -> (f64, f64) {
    let fast = (of.rate.hi().max(of.tested.hi()) - 0.6).max(0.0);
    let cold = (25.0 - of.temperature.lo()).max(0.0);
    let cold_test = (COLD_TEST - of.test_temperature.lo()).max(0.0);
    let short = 0.055
        + 0.0005 * cold_test
        + (0.03 + 0.0045 * cold) * above
        + 0.25 * times(above.min(0.25), fast);
    let worn = if of.class == Class::Icr { 0.0 } else { 0.03 };
    let long = 0.015
        + worn
        + 0.006 * of.rate.hi()
        + 0.03 * below
        + 0.25 * times(below.min(0.25), fast)
        + 0.0007 * cold;
    (short, long)
}

/// End voltages closer than this, in V, are the same.
const SAME_END: f64 = 1e-6;

fn iron(of: &TimeUse, above: f64, below: f64) -> (f64, f64) {
    let cold = (25.0 - of.temperature.lo()).max(0.0);
    let other_end = |volts: f64| {
        if volts > SAME_END {
            0.07 + 0.32 * volts + 0.03 * times(volts, of.rate.hi())
        } else {
            0.0
        }
    };
    (
        0.05 + other_end(above),
        0.04 + other_end(below) + 0.012 * cold,
    )
}

#[cfg(test)]
mod tests;
