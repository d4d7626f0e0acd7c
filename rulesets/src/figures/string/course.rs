//! How a string's voltage goes, by the model.

use super::margins::Held;
use super::path::StringPath;
use super::series::Series;
use crate::figures::discharge::{Draw, Load};
use crate::span::{VAST, not_negative, ratio, span};
use rules_core::quantity::Interval;

/// How a string's voltage goes, by the model.
pub(super) struct Course {
    /// The least and greatest charge that it gives, in Ah.
    pub(super) least: f64,
    pub(super) greatest: f64,
    pub(super) short: StringPath,
    pub(super) long: StringPath,
    pub(super) start: Interval,
    pub(super) mid: Interval,
    pub(super) late: Interval,
}

impl Course {
    pub(super) fn of(string: &Series, least: f64, greatest: f64) -> Self {
        let (gentle, harsh) = string.duty.draw.loads();
        let cut_off = string.duty.cut_off;
        let short = StringPath::of(&string.low, harsh, pace(harsh, string.count()), greatest);
        let long = StringPath::of(&string.high, gentle, pace(gentle, string.count()), greatest);
        let add = |(volts, ohms): (Interval, Interval), cell: &Held| {
            (volts + cell.at_rest, ohms + cell.first_resistance())
        };
        let (volts, ohms) = string
            .held
            .iter()
            .fold((Interval::point(0.0), Interval::point(0.0)), add);
        let start = not_negative(span(
            harsh.loaded(volts.lo(), ohms.hi().min(VAST)),
            gentle.loaded(volts.hi(), ohms.lo().min(VAST)),
        ));
        let at = |part: f64| {
            span(
                short.voltage(greatest * part, cut_off.lo()),
                long.voltage(least * part, cut_off.hi()),
            )
        };
        let (mid, late) = (at(0.5), at(0.9));
        Self {
            least,
            greatest,
            short,
            long,
            start,
            mid,
            late,
        }
    }

    /// The currents in A by which the model's error is reckoned.
    pub(super) fn current(&self, string: &Series) -> Interval {
        match string.duty.draw {
            Draw::Current(current) => current,
            Draw::Power(power) => span(
                ratio(power.lo(), self.start.hi()),
                ratio(
                    power.hi(),
                    string
                        .duty
                        .cut_off
                        .lo()
                        .min(self.mid.lo())
                        .midpoint(self.mid.lo()),
                ),
            ),
        }
    }
}

/// The current in A by which the time of the slow terms is reckoned.
const fn pace(load: Load, count: f64) -> f64 {
    match load {
        Load::Current(_) => load.pace(),
        Load::Power(_) => load.pace() / count,
    }
}
