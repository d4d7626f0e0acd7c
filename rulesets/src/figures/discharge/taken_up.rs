//! How much of each margin of the model a discharge takes up that really came: what the margins are
//! set by, and held against.

use super::Run;
use super::body::Body;
use super::margins::Margins;
use super::model::{CellModel, Duty};
use super::seen::picks;
use crate::class::Class;
use crate::figures::margin::{self, Mark, TimeParts, time_parts};
use crate::figures::ocv;

/// What came of a discharge, as far as it is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Came {
    /// Charge given, in Ah.
    pub delivered: Option<f64>,
    /// Loaded voltage half way, in V.
    pub mid: Option<f64>,
    /// Loaded voltage near the end, in V.
    pub late: Option<f64>,
    /// Loaded voltages in the first minute, in V.
    pub starts: Vec<f64>,
}

/// One margin in one discharge, with all others as they are: what is needed of it, and what it
/// allows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Which margin.
    pub margin: &'static str,
    /// What would just hold what came; 0 or less where the model alone does.
    pub needed: f64,
    /// What the margin allows.
    pub allowed: f64,
}

impl Share {
    /// What a discharge takes up of a margin: over 1 it lies outside.
    #[must_use]
    pub fn taken(&self) -> f64 {
        let needed = self.needed.max(0.0);
        if needed <= 0.0 {
            0.0
        } else {
            needed / self.allowed
        }
    }
}

/// The shares of every margin that bounds a discharge from full, of a cell taken to be of a class,
/// by every way to see it.
#[must_use]
pub fn taken_up(class: Class, cell: &CellModel, duty: &Duty, came: &Came) -> Vec<Share> {
    let duty = duty.within_reach();
    let of = |seen| Run::of(Body::of(class, &seen), duty);
    picks()
        .filter_map(|pick| cell.seen_by(pick))
        .map(of)
        .filter(|run| !run.body.is_doubtful())
        .flat_map(|run| run.shares(came))
        .collect()
}

impl Run {
    fn shares(&self, came: &Came) -> Vec<Share> {
        let start = self.start();
        let margins = Margins::of(
            &self.body,
            &self.duty,
            self.current(start, self.voltage(0.5)),
        );
        let of_charge = came
            .delivered
            .map(|delivered| self.of_charge(&margins, delivered));
        let of_voltage = [(Mark::Mid, 0.5, came.mid), (Mark::Late, 0.9, came.late)]
            .into_iter()
            .filter_map(|(mark, part, volts)| Some(self.of_voltage(&margins, mark, part, volts?)));
        of_charge
            .into_iter()
            .flatten()
            .chain(of_voltage.flatten())
            .chain(came.starts.iter().flat_map(|volts| self.of_start(*volts)))
            .collect()
    }

    /// Of what is given: each bound is the product of what a curve leaves and of the shape.
    fn of_charge(&self, margins: &Margins, delivered: f64) -> Vec<Share> {
        let charge = self.body.charge();
        let model = (
            charge.lo() * self.short.given(),
            charge.hi() * self.long.given(),
        );
        let bounds = self.bounds(margins);
        let parts = time_parts(margins.use_of_time());
        let least = (bounds.open().is_none() && model.0 > 0.0).then(|| delivered / model.0);
        let most =
            (margins.time().greatest.is_finite() && model.1 > 0.0).then(|| delivered / model.1);
        least
            .into_iter()
            .flat_map(|part| gives_less(&parts, part))
            .chain(most.into_iter().flat_map(|part| gives_more(&parts, part)))
            .collect()
    }

    fn of_voltage(&self, margins: &Margins, mark: Mark, part: f64, volts: f64) -> [Share; 2] {
        let model = self.voltage(part);
        let margin = margins.voltage(mark, self.along(part));
        let (down, up) = match mark {
            Mark::Mid => ("half way, down", "half way, up"),
            Mark::Late => ("near the end, down", "near the end, up"),
        };
        [
            share(down, model.lo() - volts, margin.down),
            share(up, volts - model.hi(), margin.up),
        ]
    }

    fn of_start(&self, volts: f64) -> Vec<Share> {
        let rest = ocv::voltages(self.body.classes(), self.duty.start);
        let first = margin::first_minute(self.body.class());
        let resistance = self.body.resistance(self.duty.temperature);
        let (gentle, harsh) = self.duty.draw.loads();
        let sag = |current: f64, ohms: f64| current * ohms;
        let (least, most) = (
            sag(gentle.current(volts), resistance.lo()),
            sag(harsh.current(volts), resistance.hi()),
        );
        let fall = first.fall_from(self.duty.start);
        let deepest = rest.lo() - volts;
        vec![
            share(
                "first minute, greatest sag",
                (deepest - fall) / most,
                first.greatest,
            ),
            share(
                "first minute, fall of a full cell",
                deepest - most * first.greatest,
                fall,
            ),
            // The less a cell sags, the more is taken up: of the sag that it need not have.
            share(
                "first minute, least sag",
                1.0 - (rest.hi() - volts) / least,
                1.0 - first.least,
            ),
        ]
    }
}

fn share(margin: &'static str, needed: f64, allowed: f64) -> Share {
    Share {
        margin,
        needed,
        allowed,
    }
}

/// A cell that gave a part of the model's value: how much less the shape, and the curve, have to say.
fn gives_less(parts: &TimeParts, part: f64) -> Vec<Share> {
    let fade = share("fade", 1.0 - part / (1.0 - parts.short), 1.0 - parts.left);
    with(
        share("shape, short", 1.0 - part / parts.left, parts.short),
        fade,
    )
}

/// The same of one that gave more.
fn gives_more(parts: &TimeParts, part: f64) -> Vec<Share> {
    let regained = share(
        "regained",
        part / (1.0 + parts.long) - 1.0,
        parts.regained - 1.0,
    );
    with(
        share("shape, long", part / parts.regained - 1.0, parts.long),
        regained,
    )
}

/// Less than this of a curve is none: the row is one of the shape alone.
const NO_CURVE: f64 = 0.01;

fn with(shape: Share, curve: Share) -> Vec<Share> {
    if curve.allowed < NO_CURVE {
        vec![shape]
    } else {
        vec![shape, curve]
    }
}
