//! The model's own error in a string: that of its cells, and what a string adds.

use crate::class::Class;
use crate::figures::discharge::{
    Body, Duty, LEAST, Margins, Seen, full_voltage, mean_below_mid, mean_voltage,
};
use crate::figures::margin::{self, Mark, TimeMargin, VoltageMargin};
use crate::figures::ocv;
use crate::span::{span, times};
use rules_core::quantity::Interval;

pub(super) use crate::figures::discharge::{EARLY, MOST_GIVEN};

/// A cell of the string, taken to be of each of its classes.
pub(super) struct Held {
    bodies: [Option<Body>; Class::ALL.len()],
    pub(super) duty: Duty,
    /// Voltage at rest before the discharge, in V.
    pub(super) at_rest: Interval,
}

impl Held {
    pub(super) fn of(cell: &Seen, duty: Duty) -> Self {
        let mut bodies = [None; Class::ALL.len()];
        for (body, class) in bodies.iter_mut().zip(cell.classes.iter()) {
            *body = Some(Body::of(class, cell));
        }
        Self {
            bodies,
            duty,
            at_rest: ocv::voltages(cell.classes, duty.start),
        }
    }

    pub(super) fn bodies(&self) -> impl Iterator<Item = &Body> {
        self.bodies.iter().flatten()
    }

    fn greatest(&self, of: impl Fn(&Body) -> f64) -> f64 {
        self.bodies().map(of).fold(0.0, f64::max)
    }

    pub(super) fn is_doubtful(&self) -> bool {
        self.bodies().any(Body::is_doubtful)
    }

    /// What may be missing of a full charge at the start, in Ah.
    pub(super) fn missing(&self) -> f64 {
        times(self.most_charge(), 1.0 - self.duty.start.lo())
    }

    /// The most charge between full and empty, in Ah.
    pub(super) fn most_charge(&self) -> f64 {
        self.greatest(|body| body.charge().hi())
    }

    pub(super) fn full_voltage(&self) -> f64 {
        self.greatest(|body| full_voltage(body.class()))
    }

    pub(super) fn mean_voltage(&self) -> f64 {
        self.greatest(|body| mean_voltage(body.class()))
    }

    /// The resistance in ohms of the first minute.
    pub(super) fn first_resistance(&self) -> Interval {
        let each = self.bodies().map(|body| {
            let first = margin::first_minute(body.class());
            body.resistance(self.duty.temperature) * span(first.least, first.greatest)
        });
        each.reduce(Interval::hull).unwrap_or(Interval::WHOLE)
    }

    /// The least voltage in V with which it may start under a current in A.
    pub(super) fn first_voltage(&self, current: f64) -> f64 {
        let fall =
            self.greatest(|body| margin::first_minute(body.class()).fall_from(self.duty.start));
        self.at_rest.lo() - fall - times(current, self.first_resistance().hi())
    }

    /// The margins of time, and of voltage half way and near the end, under a current in A.
    fn margins(&self, current: Interval) -> Option<(TimeMargin, VoltageMargin, VoltageMargin)> {
        let front = (LEAST, self.duty.start.hi());
        let of = |body: &Body| {
            let margins = Margins::of(body, &self.duty, current);
            (
                margins.time(),
                margins.voltage(Mark::Mid, front),
                margins.voltage(Mark::Late, front),
            )
        };
        self.bodies()
            .map(of)
            .reduce(|(time, mid, late), (other_time, other_mid, other_late)| {
                (time.or(other_time), mid.or(other_mid), late.or(other_late))
            })
    }
}

/// The margins of a string.
pub(super) struct StringMargins {
    pub(super) time: TimeMargin,
    /// Of the string's voltage half way and near the end.
    pub(super) mid: VoltageMargin,
    pub(super) whole_late: VoltageMargin,
    /// How much lower its mean voltage may be, in V.
    pub(super) mean_down: f64,
    /// Of each cell's voltage near the end.
    pub(super) late: Vec<VoltageMargin>,
}

const NONE: VoltageMargin = VoltageMargin { down: 0.0, up: 0.0 };

impl StringMargins {
    pub(super) fn of(cells: &[Held], current: Interval) -> Self {
        let mut all = Self {
            time: TimeMargin {
                least: 1.0,
                greatest: 1.0,
                open: None,
            },
            mid: NONE,
            whole_late: NONE,
            mean_down: 0.0,
            late: Vec::with_capacity(cells.len()),
        };
        for cell in cells {
            let Some((time, mid, late)) = cell.margins(current) else {
                continue;
            };
            all.time = all.time.or(time);
            all.mid = sum(all.mid, mid);
            all.whole_late = sum(all.whole_late, late);
            all.mean_down += mid.down + cell.greatest(|body| mean_below_mid(body.class()));
            all.late.push(late);
        }
        all.time = all.time.wider_by(margin::STRING_TIME);
        all
    }

    /// How much lower and higher all cells but one may be together, in V: by as much is that one
    /// higher or lower when the string ends.
    pub(super) fn others(&self, own: &VoltageMargin) -> (f64, f64) {
        let others = (self.late.len() as f64 - 1.0) * margin::STRING_CELL;
        let less = |all: f64, own: f64| {
            if all.is_finite() {
                (all - own).max(0.0)
            } else {
                f64::INFINITY
            }
        };
        (
            less(self.whole_late.down, own.down) + others,
            less(self.whole_late.up, own.up) + others,
        )
    }
}

fn sum(one: VoltageMargin, other: VoltageMargin) -> VoltageMargin {
    VoltageMargin {
        down: one.down + other.down,
        up: one.up + other.up,
    }
}
