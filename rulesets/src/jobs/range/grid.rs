//! The steps of a range: its ends and its resolution in whole units of one decimal place.

use rules_core::document::{Fault, Problem};
use rules_core::quantity::{Interval, Kind, Unit};

use super::decimal::Decimal;
use super::ends::{Ends, Vary, Written, at, read};

/// More pieces than these are never told apart.
pub(super) const MOST_STEPS: usize = 100_000;
/// Ends that are this part of a step beyond it are at the step.
const SLACK: f64 = 1e-6;

/// The kind of a number, the unit that it is told in, and what can be believed of it.
pub(super) struct Scale {
    pub kind: Kind,
    pub unit: Option<Unit>,
    pub domain: Interval,
}

impl Scale {
    fn in_unit(&self, value: f64) -> f64 {
        self.unit.map_or(value, |unit| unit.from_base(value))
    }

    fn can_be(&self, in_unit: f64) -> bool {
        let value = self.unit.map_or(in_unit, |unit| unit.to_base(in_unit));
        self.domain.contains(value)
    }
}

/// The ends and the step in units of one place.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    pub place: i32,
    pub from: i64,
    pub to: i64,
    pub step: i64,
}

impl Grid {
    /// From end to end, in so many steps where no resolution is asked for.
    pub(super) fn of(
        ends: &Ends,
        asked: &Vary<'_>,
        scale: &Scale,
        steps: f64,
    ) -> Result<Self, Problem> {
        let (from, to) = (scale.in_unit(ends.from), scale.in_unit(ends.to));
        let step = match asked.resolution {
            Some(text) => resolution(text, scale)?,
            None if scale.kind == Kind::Count => Decimal { units: 1, place: 0 },
            None => Decimal::round_step((to - from) / steps)
                .ok_or_else(|| too_fine(asked.resolution))?,
        };
        let snapped = |value: f64, outward: fn(f64) -> f64| {
            let at_step = outward((value / step.value()).clamp(-1e15, 1e15)) * step.value();
            let value = if scale.can_be(at_step) {
                at_step
            } else {
                value
            };
            Decimal::of(value)
        };
        // What was not asked for ends at whole steps.
        let from = match asked.from {
            Some(_) => Decimal::of(from),
            None => snapped(from, |steps| (steps + SLACK).floor()),
        };
        let to = match asked.to {
            Some(_) => Decimal::of(to),
            None => snapped(to, |steps| (steps - SLACK).ceil()),
        };
        let grid = from
            .zip(to)
            .and_then(|(from, to)| Self::joined(from, to, step));
        grid.ok_or_else(|| too_fine(asked.resolution))
    }

    fn joined(from: Decimal, to: Decimal, step: Decimal) -> Option<Self> {
        let place = from.place.min(to.place).min(step.place).min(0);
        let (from, to, step) = (
            from.in_places(place)?,
            to.in_places(place)?,
            step.in_places(place)?,
        );
        let steps = to.checked_sub(from)?.checked_div(step)?;
        let few = usize::try_from(steps).is_ok_and(|steps| steps < MOST_STEPS);
        few.then_some(Self {
            place,
            from,
            to,
            step,
        })
    }
}

fn resolution(written: Written<'_>, scale: &Scale) -> Result<Decimal, Problem> {
    let as_kind = match scale.kind {
        Kind::Temperature => Kind::TemperatureDifference,
        other => other,
    };
    let value = read(written, as_kind)?;
    let in_unit = match scale.kind {
        Kind::Temperature => value,
        _ => scale.in_unit(value),
    };
    let step = Decimal::of(in_unit).filter(|step| step.units > 0);
    step.ok_or_else(|| {
        let message = format!("`{}` is no resolution", written.text);
        at(
            written,
            Fault::OutOfDomain,
            message,
            "write how narrow a piece may get, above zero",
        )
    })
}

fn too_fine(written: Option<Written<'_>>) -> Problem {
    let message = format!("that is more than {MOST_STEPS} pieces");
    let help = "name a coarser resolution, or ends that are closer together";
    match written {
        Some(written) => at(written, Fault::TooLarge, message, help),
        None => Problem::of_file(Fault::TooLarge, message, help),
    }
}
