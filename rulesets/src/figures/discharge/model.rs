//! What the model of a discharge takes and gives: the cell, its use, the figures.

use super::load::Load;
use super::path::{GREATEST, LEAST};
use crate::class::Classes;
use crate::figures::margin::OpenReason;
use crate::span::{VAST, both, not_negative, ratio, span};
use rules_core::quantity::Interval;

/// A capacity test: what the cell gave from full.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CapacityTest {
    /// Charge given, in Ah.
    pub charge: Interval,
    /// Current, in A.
    pub current: Interval,
    /// End voltage under that current, in V.
    pub cut_off: Interval,
    /// Temperature, in degC.
    pub temperature: Interval,
}

/// What a voltage on the way of a test is known to, as a part of the charge: in one worn set of 13 a
/// voltage rises by some millivolts on its way down.
const ON_THE_WAY: f64 = 0.03;

/// At this temperature in degC or above the voltage of a test only falls.
const FALLS_ONLY: f64 = 15.0;

/// What a capacity test showed on its way, where that was noted.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Shown {
    /// Loaded voltage when half of its charge had been given, in V.
    pub half: Option<Interval>,
    /// Loaded voltage when nine tenths of it had been given, in V.
    pub late: Option<Interval>,
    /// Energy that it gave, in Wh.
    pub energy: Option<Interval>,
    /// Charge in Ah that it had given when it came down to a voltage in V.
    pub by: [Option<(Interval, f64)>; MOST_LEVELS],
}

/// Of so many voltages it may be told when a test came down to them.
pub const MOST_LEVELS: usize = 4;

impl CapacityTest {
    /// The test as if it had ended where it showed a voltage: then it had given a part of its charge.
    /// Not of a test in the cold, where a cell may recover as it warms: measured, a cell at 4 degC came
    /// below 2.7 V after a twelfth of its charge (Battery Data Set of the NASA Prognostics Center of
    /// Excellence, 2007).
    pub(in crate::figures) fn ended_at(
        &self,
        voltage: Option<Interval>,
        part: f64,
    ) -> Option<Self> {
        if self.temperature.lo() < FALLS_ONLY {
            return None;
        }
        Some(Self {
            charge: self.charge * span(part * (1.0 - ON_THE_WAY), part * (1.0 + ON_THE_WAY)),
            cut_off: voltage?,
            ..*self
        })
    }

    /// The test as if it had ended when it came down to a voltage.
    pub(in crate::figures) fn came_down(&self, (charge, voltage): (Interval, f64)) -> Option<Self> {
        (self.temperature.lo() >= FALLS_ONLY && self.cut_off.hi() <= voltage).then_some(Self {
            charge,
            cut_off: Interval::point(voltage),
            ..*self
        })
    }
}

/// As many capacity tests as a cell may have.
pub const MOST_TESTS: usize = 4;

/// What the model needs to know of a cell, or of a parallel group taken as one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CellModel {
    /// The classes that it may be of.
    pub classes: Classes,
    /// Its capacity test.
    pub capacity: CapacityTest,
    /// Further capacity tests of it, each in a place of its own.
    pub further: [Option<CapacityTest>; MOST_TESTS - 1],
    /// What its tests showed on their way, by their places.
    pub shown: [Shown; MOST_TESTS],
    /// Whether it is several cells in parallel.
    pub joined: bool,
    /// 10-second direct-current resistance at 25 degC, in ohms.
    pub r10: Interval,
}

/// What is taken from a cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Draw {
    /// A constant current, in A.
    Current(Interval),
    /// A constant power, in W.
    Power(Interval),
}

/// How a cell is used: one discharge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    /// What is taken.
    pub draw: Draw,
    /// Charge state at the start: 1 is full.
    pub start: Interval,
    /// Temperature of the cell, in degC.
    pub temperature: Interval,
    /// Loaded voltage at which it ends, in V; 0 for none.
    pub cut_off: Interval,
}

/// What a discharge gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Discharge {
    /// Loaded voltage at the start, in V. 0 where the draw cannot be had: a light cannot reverse
    /// its only cell.
    pub start: Interval,
    /// Loaded voltage when half of the charge that will be given is given, in V.
    pub mid: Interval,
    /// Loaded voltage when nine tenths of it are given, in V.
    pub late: Interval,
    /// Loaded voltage at the end, in V: the cut-off, or where a constant power can no longer be
    /// had, or the start if it is lower already.
    pub end: Interval,
    /// Charge given, in Ah.
    pub delivered: Interval,
    /// Time until the end, in hours.
    pub run_time: Interval,
    /// Energy given, in Wh.
    pub energy: Interval,
    /// Why the figures are open towards the cautious side, if they are.
    pub open: Option<OpenReason>,
}

/// Nothing known.
pub(super) const ANYTHING: Discharge = Discharge {
    start: Interval::WHOLE,
    mid: Interval::WHOLE,
    late: Interval::WHOLE,
    end: Interval::WHOLE,
    delivered: Interval::WHOLE,
    run_time: Interval::WHOLE,
    energy: Interval::WHOLE,
    open: None,
};

impl Duty {
    /// The duty with numbers that the model follows: nothing negative, and charge states that its
    /// curves reach.
    pub(in crate::figures) fn within_reach(&self) -> Self {
        let start = self
            .start
            .max(Interval::point(LEAST))
            .min(Interval::point(GREATEST));
        Self {
            draw: self.draw.within_reach(),
            start,
            temperature: self.temperature,
            cut_off: not_negative(self.cut_off).min(Interval::point(VAST)),
        }
    }
}

impl Draw {
    /// The draw without what is negative.
    pub(in crate::figures) fn within_reach(self) -> Self {
        match self {
            Self::Current(current) => Self::Current(not_negative(current)),
            Self::Power(power) => Self::Power(not_negative(power)),
        }
    }

    /// The lightest and the heaviest load.
    pub(in crate::figures) const fn loads(self) -> (Load, Load) {
        match self {
            Self::Current(current) => (
                Load::Current(current.lo().min(VAST)),
                Load::Current(current.hi().min(VAST)),
            ),
            Self::Power(power) => (
                Load::Power(power.lo().min(VAST)),
                Load::Power(power.hi().min(VAST)),
            ),
        }
    }

    /// Hours in which the charge (Ah) or energy (Wh) is given.
    pub(in crate::figures) fn time(self, delivered: Interval, energy: Interval) -> Interval {
        let (given, draw) = match self {
            Self::Current(current) => (delivered, current),
            Self::Power(power) => (energy, power),
        };
        span(ratio(given.lo(), draw.hi()), ratio(given.hi(), draw.lo()))
    }
}

impl Discharge {
    /// What both allow, of one cell in one use. Where they contradict each other the first counts:
    /// tests that do so are an error, and no figure is worked out of them.
    pub(super) fn and(&self, other: &Self) -> Self {
        Self {
            start: both_or_first(self.start, other.start),
            mid: both_or_first(self.mid, other.mid),
            late: both_or_first(self.late, other.late),
            end: both_or_first(self.end, other.end),
            delivered: both_or_first(self.delivered, other.delivered),
            run_time: both_or_first(self.run_time, other.run_time),
            energy: both_or_first(self.energy, other.energy),
            open: self.open.and(other.open),
        }
    }

    /// Each figure's hull with that of another discharge.
    pub(super) fn hull(&self, other: &Self) -> Self {
        Self {
            start: self.start.hull(other.start),
            mid: self.mid.hull(other.mid),
            late: self.late.hull(other.late),
            end: self.end.hull(other.end),
            delivered: self.delivered.hull(other.delivered),
            run_time: self.run_time.hull(other.run_time),
            energy: self.energy.hull(other.energy),
            open: self.open.or(other.open),
        }
    }
}

fn both_or_first(one: Interval, other: Interval) -> Interval {
    both(one, other).unwrap_or(one)
}
