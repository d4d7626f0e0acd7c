//! What a cell gives into a load: voltages, run time, charge and energy until its cut-off.
//!
//! The model: with the rate `C = I / Q`, the charge state is `s = s0 - charge / Q`; the front of
//! the charge lags behind it, `f = s - C · lag · (1 - exp(-t / 900 s))`; and the voltage is `U(f) -
//! I · R · (1 + growth · (1 - exp(-t / 300 s)))`, where `U` is the class's open-circuit curve and
//! `R` the 10-second resistance at the temperature of use. `Q` is such that the model gives the
//! measured capacity at its own current and end voltage. A constant power takes the current of its
//! operating point, and ends where there is none.
//!
//! Each end of a figure comes of the inputs' worse or better ends (a corner), worked out once;
//! `margin` widens the result by the model's own error.

mod body;
mod by_tests;
mod compared_tests;
mod load;
mod margins;
mod model;
mod path;
mod seen;
pub mod taken_up;
#[cfg(test)]
mod tests;
mod warmth;

use self::model::ANYTHING;
use self::path::Path;
pub(super) use self::{
    body::Body,
    compared_tests::is_proved_unlimited,
    load::Load,
    margins::{Bounds, EARLY, MOST_GIVEN, Margins, full_voltage, mean_below_mid, mean_voltage},
    path::{Corner, LEAST, come_of_growth, come_of_lag},
    seen::{Pick, Seen, picks},
};
pub use self::{
    by_tests::bounded,
    compared_tests::{Compared, compared_tests},
    model::{CapacityTest, CellModel, Discharge, Draw, Duty, MOST_LEVELS, MOST_TESTS, Shown},
};
use super::margin::{self, Mark, OpenReason, VoltageMargin};
use super::ocv::{self, Curve};
use crate::class::{Class, Classes};
use crate::span::{VAST, not_negative, ratio, span, times};
use rules_core::quantity::Interval;

/// The charge state of a cell that was charged to a voltage, in V, until the current had tapered
/// off. It may lie above 1.
#[must_use]
pub fn charged_to(classes: Classes, termination: Interval) -> Interval {
    ocv::charges(classes, termination)
}

/// The discharge of a cell. Where nothing is known of an input, the result is as open as that
/// leaves it.
#[must_use]
pub fn discharge(cell: &CellModel, duty: &Duty) -> Discharge {
    let duty = duty.within_reach();
    let as_class = |class: Class| {
        let stated = of_class(class, cell, &duty);
        by_tests::as_shown(class, cell, &duty, &stated)
    };
    let all: Vec<(Discharge, usize)> = cell.classes.iter().map(as_class).collect();
    // A class of which no cell shows what its tests showed is not the cell's, if another is.
    let least = all.iter().map(|(_, misfits)| *misfits).min();
    let fitting = all.iter().filter(|(_, misfits)| Some(*misfits) == least);
    fitting
        .map(|(discharge, _)| *discharge)
        .reduce(|one, other| one.hull(&other))
        .unwrap_or(ANYTHING)
}

/// Taken to be of one class: what every test shows by the model, and what every test bounds without
/// it.
fn of_class(class: Class, cell: &CellModel, duty: &Duty) -> Discharge {
    picks()
        .filter_map(|pick| cell.seen_by(pick))
        .map(|seen| Run::of(Body::of(class, &seen), *duty).discharge())
        .map(|model| by_tests::within(class, cell, duty, &model))
        .reduce(|one, other| one.and(&other))
        .unwrap_or(ANYTHING)
}

/// A cell of one class in use, at both corners.
struct Run {
    body: Body,
    duty: Duty,
    /// The corner that gives least, and its path to the higher cut-off.
    worst: Corner,
    short: Path,
    /// The corner that gives most, and its path to the lower cut-off.
    best: Corner,
    long: Path,
}

impl Run {
    fn of(body: Body, duty: Duty) -> Self {
        let (gentle, harsh) = duty.draw.loads();
        let (worst, best) = (body.worst(harsh, &duty), body.best(gentle, &duty));
        let short = Path::of(
            &worst,
            duty.cut_off.hi(),
            duty.cut_off.lo(),
            duty.cut_off.lo(),
        );
        let long = Path::of(
            &best,
            duty.cut_off.lo(),
            duty.cut_off.lo(),
            duty.cut_off.hi(),
        );
        Self {
            body,
            duty,
            worst,
            short,
            best,
            long,
        }
    }

    /// The charge states between which a part of the charge that will be given is given.
    fn along(&self, part: f64) -> (f64, f64) {
        let at = |start: f64, stop: f64| start + (stop.min(start) - start) * part;
        (
            at(self.worst.start, self.long.stop()),
            at(self.best.start, self.short.stop()),
        )
    }

    /// The model's voltage there: the one at the start if the cut-off is above that already.
    fn voltage(&self, part: f64) -> Interval {
        let (least, greatest) = self.along(part);
        span(
            self.short.voltage(least).min(self.worst.first_voltage()),
            self.long.voltage(greatest).min(self.best.first_voltage()),
        )
    }

    /// The voltages of the first minute, with the model's error.
    fn start(&self) -> Interval {
        let class = self.body.class();
        let at_rest = ocv::voltages(self.body.classes(), self.duty.start);
        let first = margin::first_minute(class);
        let resistance =
            self.body.resistance(self.duty.temperature) * span(first.least, first.greatest);
        let (gentle, harsh) = self.duty.draw.loads();
        let lowest = at_rest.lo() - first.fall_from(self.duty.start);
        not_negative(span(
            harsh.loaded(lowest, resistance.hi().min(VAST)),
            gentle.loaded(at_rest.hi(), resistance.lo().min(VAST)),
        ))
    }

    /// The currents in A by which the model's error is reckoned.
    fn current(&self, start: Interval, mid: Interval) -> Interval {
        match self.duty.draw {
            Draw::Current(current) => current,
            Draw::Power(power) => span(
                ratio(power.lo(), start.hi()),
                ratio(
                    power.hi(),
                    self.duty.cut_off.lo().min(mid.lo()).midpoint(mid.lo()),
                ),
            ),
        }
    }

    fn discharge(&self) -> Discharge {
        let start = self.start();
        let (mid, late) = (self.voltage(0.5), self.voltage(0.9));
        let margins = Margins::of(&self.body, &self.duty, self.current(start, mid));
        let (near_mid, near_late) = (
            margins.voltage(Mark::Mid, self.along(0.5)),
            margins.voltage(Mark::Late, self.along(0.9)),
        );
        let bounds = self.bounds(&margins);
        let (mid, late) = self.widened(start, (mid, near_mid), (late, near_late));
        let charge = self.body.charge();
        let delivered = span(
            bounds.least(self.short.given(), 1.0),
            bounds.most(self.long.given(), 1.0),
        );
        let delivered = span(
            times(charge.lo(), delivered.lo()),
            times(charge.hi(), delivered.hi()),
        );
        let energy = self.energy(&bounds, near_mid);
        Discharge {
            start,
            mid,
            late,
            end: self
                .duty
                .cut_off
                .max(lowest_kept(&self.body, &self.duty))
                .min(start),
            delivered,
            run_time: self.duty.draw.time(delivered, energy),
            energy,
            open: bounds.open().map(|open| {
                if self.body.is_doubtful() {
                    OpenReason::DoubtfulTest
                } else {
                    open
                }
            }),
        }
    }

    fn bounds(&self, margins: &Margins) -> Bounds {
        if self.duty.cut_off.lo() >= self.highest() {
            return Bounds::nothing();
        }
        margins.bounds(
            self.worst.start,
            self.short.stop(),
            self.long.stop().min(self.worst.start),
        )
    }

    /// The highest voltage at rest before.
    fn highest(&self) -> f64 {
        ocv::voltage(self.body.class(), Curve::Ceiling, self.best.start)
    }

    /// The voltages half way and near the end with the model's error. While it runs, the voltage is
    /// no lower than the cut-off and no higher than at rest before, and it only falls.
    fn widened(
        &self,
        start: Interval,
        mid: (Interval, VoltageMargin),
        late: (Interval, VoltageMargin),
    ) -> (Interval, Interval) {
        let highest = self.highest();
        let lowest = self.duty.cut_off.lo().min(start.lo());
        let volts = |(value, by): (Interval, VoltageMargin)| {
            span(
                (value.lo() - by.down).max(lowest),
                (value.hi() + by.up).min(highest).max(lowest),
            )
        };
        let (mid, late) = (volts(mid), volts(late));
        (
            span(mid.lo().max(late.lo()), mid.hi()),
            span(late.lo(), late.hi().min(mid.hi())),
        )
    }

    /// The energy given, in Wh. Of a constant power it is as well known as the time; of a constant
    /// current it has the error of the mean voltage too.
    fn energy(&self, bounds: &Bounds, near_mid: VoltageMargin) -> Interval {
        let class = self.body.class();
        let (down, up) = match self.duty.draw {
            Draw::Power(_) => (0.0, 0.0),
            Draw::Current(_) => (near_mid.down + mean_below_mid(class), near_mid.up),
        };
        let least = bounds.least(self.short.energy(down), full_voltage(class));
        let most = bounds.most(
            self.long.energy(0.0) + times(up, self.long.given()),
            mean_voltage(class),
        );
        span(
            times(self.body.charge().lo(), least),
            times(self.body.charge().hi(), most),
        )
    }
}

/// The least voltage at which the draw can be had, in V: 0 for a constant current.
fn lowest_kept(body: &Body, duty: &Duty) -> Interval {
    match duty.draw {
        Draw::Current(_) => Interval::point(0.0),
        Draw::Power(power) => {
            let resistance = body.resistance(duty.temperature);
            let grown = times(resistance.hi(), 1.0 + body.growth());
            span(
                times(power.lo(), resistance.lo()).sqrt(),
                times(power.hi(), grown).sqrt(),
            )
        }
    }
}
