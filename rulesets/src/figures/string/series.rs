//! A string at both corners of what is known.

use super::corner_cell::{CornerCell, Decides};
use super::margins::Held;
use super::model::StringDuty;
use crate::figures::discharge::{Draw, Duty, Seen};
use crate::span::{VAST, ratio};
use rules_core::quantity::Interval;

/// A string at both corners.
pub(super) struct Series {
    pub(super) duty: StringDuty,
    pub(super) held: Vec<Held>,
    pub(super) low: Vec<CornerCell>,
    pub(super) high: Vec<CornerCell>,
}

impl Series {
    pub(super) fn of(members: &[(Seen, Interval)], duty: &StringDuty) -> Self {
        let each = duty.cut_off / Interval::point(members.len() as f64);
        let of = |(cell, start): &(Seen, Interval)| {
            let duty = Duty {
                draw: duty.draw,
                start: *start,
                temperature: duty.temperature,
                cut_off: each,
            };
            Held::of(cell, duty.within_reach())
        };
        let held: Vec<Held> = members.iter().map(of).collect();
        let (gentle, harsh) = duty.draw.loads();
        let gentle_each = gentle.of_each(members.len() as f64);
        let low = held
            .iter()
            .map(|cell| {
                CornerCell::of(
                    cell.bodies().map(|body| body.worst(harsh, &cell.duty)),
                    Decides::Lowest,
                )
            })
            .collect();
        let high = held
            .iter()
            .map(|cell| {
                CornerCell::of(
                    cell.bodies().map(|body| body.best(gentle_each, &cell.duty)),
                    Decides::Highest,
                )
            })
            .collect();
        Self {
            duty: *duty,
            held,
            low,
            high,
        }
    }

    /// The highest voltage of the string at rest before.
    pub(super) fn at_rest(&self) -> f64 {
        self.held.iter().map(|cell| cell.at_rest.hi()).sum()
    }

    pub(super) fn count(&self) -> f64 {
        self.held.len() as f64
    }

    /// The least and greatest current at the end, in A.
    pub(super) fn end_current(&self) -> (f64, f64) {
        let (least, greatest) = match self.duty.draw {
            Draw::Current(current) => (current.lo(), current.hi()),
            Draw::Power(power) => (
                ratio(power.lo(), self.duty.cut_off.hi()),
                ratio(power.hi(), self.duty.cut_off.lo()),
            ),
        };
        (least.min(VAST), greatest.min(VAST))
    }
}
