//! The values that a number is varied over: from where to where, in which unit, how finely.

use std::ops::Range;

use rules_core::document::{Fault, Problem, Source, Span};
use rules_core::facts::{FactDef, FactKind, Given, Value};
use rules_core::quantity::{Interval, Kind, Measure, Nature, Quantity, QuantityError, Unit};
use rules_core::report::significant;

use super::decimal::Decimal;
use super::named::Varied;

/// More pieces than these are never told apart.
const MOST_STEPS: usize = 1_000_000;
/// So many kelvins below and above the plan's own temperature, where nothing else is asked for.
const KELVINS: f64 = 30.0;
/// So many times the plan's own value, and this part of it, where nothing else is asked for.
const TIMES: f64 = 4.0;
/// So many digits of what the plan has are told.
const OWN_DIGITS: usize = 9;

/// A text of a caller, with what the caller calls it: `--from`.
#[derive(Debug, Clone, Copy)]
pub struct Written<'a> {
    /// What messages call it.
    pub called: &'a str,
    /// The text.
    pub text: &'a str,
}

/// What is to be varied.
#[derive(Debug, Clone, Copy)]
pub struct Vary<'a> {
    /// The fact, by its path in the plan (`cells[K4].capacity.value`) or its dotted name.
    pub fact: &'a str,
    /// The first value.
    pub from: Option<Written<'a>>,
    /// The last value.
    pub to: Option<Written<'a>>,
    /// How narrow a piece gets at the most.
    pub resolution: Option<Written<'a>>,
}

/// A number that is varied.
#[derive(Debug, Clone)]
pub(super) struct Axis<'r> {
    pub varied: Varied<'r>,
    kind: Kind,
    unit: Option<Unit>,
    place: i32,
    from: i64,
    to: i64,
    step: i64,
    /// Where its ends come from, in words.
    pub chosen: String,
    /// What the plan has, as it is written and as an interval.
    pub own: Option<(String, Interval)>,
}

impl<'r> Axis<'r> {
    /// The values of a fact that are asked for, or those around what the plan has; in so many steps
    /// where no resolution is asked for.
    pub(super) fn of(
        varied: Varied<'r>,
        kind: Kind,
        asked: &Vary<'_>,
        given: Option<&Given>,
        steps: f64,
    ) -> Result<Self, Problem> {
        let own = given.and_then(number);
        let unit = unit(kind, asked, given);
        let asked_for = Ends {
            from: asked.from.map(|text| read(text, kind)).transpose()?,
            to: asked.to.map(|text| read(text, kind)).transpose()?,
        };
        let usual = usual(kind, varied.def, own.as_ref());
        let (from, to) = (
            asked_for.from.unwrap_or(usual.range.lo()),
            asked_for.to.unwrap_or(usual.range.hi()),
        );
        for (end, written) in [(from, asked.from), (to, asked.to)] {
            within(end, written, varied.def, kind)?;
        }
        if !(from.is_finite() && to.is_finite()) {
            return Err(no_ends(asked));
        }
        if from >= to {
            return Err(no_way_up((from, to), kind, asked));
        }
        let in_unit = |value: f64| unit.map_or(value, |unit| unit.from_base(value));
        let (from, to) = (in_unit(from), in_unit(to));
        let step = match asked.resolution {
            Some(text) => resolution(text, kind, unit)?,
            None if kind == Kind::Count => Decimal { units: 1, place: 0 },
            None => Decimal::round_step((to - from) / steps)
                .ok_or_else(|| too_fine(asked.resolution))?,
        };
        // What was not asked for ends at whole steps.
        let snapped = |value: f64, is_asked: bool, outward: fn(f64) -> f64| {
            let to_steps = outward((value / step.value()).clamp(-1e15, 1e15));
            let inside = |steps: f64| {
                let value = unit.map_or(steps * step.value(), |unit| {
                    unit.to_base(steps * step.value())
                });
                varied.def.domain.contains(value)
            };
            match !is_asked && inside(to_steps) {
                true => Decimal::of(to_steps * step.value()),
                false => Decimal::of(value),
            }
        };
        let from = snapped(from, asked.from.is_some(), |steps| (steps + 1e-6).floor());
        let to = snapped(to, asked.to.is_some(), |steps| (steps - 1e-6).ceil());
        let grid = from.zip(to).and_then(|(from, to)| Grid::of(from, to, step));
        let grid = grid.ok_or_else(|| too_fine(asked.resolution))?;
        Ok(Self {
            varied,
            kind,
            unit,
            place: grid.place,
            from: grid.from,
            to: grid.to,
            step: grid.step,
            chosen: match (asked.from, asked.to) {
                (Some(_), Some(_)) => "as asked for".to_owned(),
                _ => usual.chosen,
            },
            own: own.map(|range| {
                let written = given.map_or_else(String::new, |given| given.written.to_string());
                (written, range)
            }),
        })
    }

    const fn is_whole(&self) -> bool {
        matches!(self.kind, Kind::Count)
    }

    /// Whether values lie between its steps.
    pub(super) const fn is_continuous(&self) -> bool {
        !self.is_whole()
    }

    /// How many steps there are; of whole numbers, how many of them.
    pub(super) fn steps(&self) -> usize {
        let all = (self.to - self.from).unsigned_abs();
        let step = self.step.unsigned_abs().max(1);
        let steps = usize::try_from(all.div_ceil(step)).unwrap_or(MOST_STEPS);
        if self.is_whole() { steps + 1 } else { steps }
    }

    fn end(&self, at: usize) -> Decimal {
        let steps = i64::try_from(at).unwrap_or(i64::MAX);
        let units = self.from.saturating_add(self.step.saturating_mul(steps));
        Decimal {
            units: units.min(self.to),
            place: self.place,
        }
    }

    /// The first and the last value of some steps.
    fn ends(&self, steps: &Range<usize>) -> (Decimal, Decimal) {
        let last = if self.is_whole() {
            steps.end.saturating_sub(1)
        } else {
            steps.end
        };
        (self.end(steps.start), self.end(last))
    }

    fn base(&self, end: Decimal) -> f64 {
        let text = end.text();
        match self.unit {
            Some(unit) => unit.read(&text).unwrap_or(f64::NAN),
            None => end.value(),
        }
    }

    fn with_unit(&self, number: &str) -> String {
        self.unit
            .map_or_else(|| number.to_owned(), |unit| format!("{number} {unit}"))
    }

    /// The unit of the ends; empty for plain numbers.
    pub(super) fn unit(&self) -> String {
        self.unit.map_or_else(String::new, |unit| unit.to_string())
    }

    /// The ends of some steps in words and as numbers of the unit.
    pub(super) fn told(&self, steps: &Range<usize>) -> [(String, f64); 2] {
        let (low, high) = self.ends(steps);
        [low, high].map(|end| (self.with_unit(&end.text()), end.value()))
    }

    /// How fine it is, in words.
    pub(super) fn resolution(&self) -> String {
        let step = Decimal {
            units: self.step,
            place: self.place,
        };
        match self.kind {
            Kind::Temperature => format!("{} K", trimmed(step)),
            _ => self.with_unit(&trimmed(step)),
        }
    }

    /// The same as a number of the unit.
    pub(super) fn step(&self) -> f64 {
        let (units, place) = (self.step, self.place);
        Decimal { units, place }.value()
    }

    /// The least and the most that what the plan has can be, in the unit.
    pub(super) fn own_range(&self) -> Option<[f64; 2]> {
        let (_, own) = self.own.as_ref()?;
        let in_unit = |value: f64| self.unit.map_or(value, |unit| unit.from_base(value));
        Some([own.lo(), own.hi()].map(|end| significant(in_unit(end), OWN_DIGITS)))
    }

    /// Whether some of what the plan has lies in these steps.
    pub(super) fn holds_own(&self, steps: &Range<usize>) -> bool {
        let (_, range) = self.supposed(steps);
        let own = self.own.as_ref();
        own.is_some_and(|(_, own)| range.is_some_and(|range| own.meets(range).is_some()))
    }

    /// The values of some steps, as an interval that a check can be given.
    pub(super) fn value(&self, steps: &Range<usize>) -> Option<Given> {
        let (written, range) = self.supposed(steps);
        Some(supposed(Value::Number(Measure::of(range?)), &written))
    }

    /// The value at a step.
    pub(super) fn value_at(&self, at: usize) -> Option<Given> {
        let base = self.base(self.end(at));
        let written = self.with_unit(&format!("{0}..{0}", self.end(at).text()));
        Some(supposed(
            Value::Number(Measure::of(Interval::new(base, base)?)),
            &written,
        ))
    }

    fn supposed(&self, steps: &Range<usize>) -> (String, Option<Interval>) {
        let (low, high) = self.ends(steps);
        let written = self.with_unit(&format!("{}..{}", low.text(), high.text()));
        (written, Interval::new(self.base(low), self.base(high)))
    }
}

/// A value that a plan is supposed to have. It is written as a range, and so as exact as it is: no
/// meter widens it.
pub(super) fn supposed(value: Value, written: &str) -> Given {
    Given {
        value,
        written: written.into(),
        at: None,
        meter_assumed: false,
    }
}

fn trimmed(number: Decimal) -> String {
    let text = number.text();
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// The ends and the step in units of one place.
struct Grid {
    place: i32,
    from: i64,
    to: i64,
    step: i64,
}

impl Grid {
    fn of(from: Decimal, to: Decimal, step: Decimal) -> Option<Self> {
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

/// What is asked for of the ends, in base units.
struct Ends {
    from: Option<f64>,
    to: Option<f64>,
}

fn number(given: &Given) -> Option<Interval> {
    match &given.value {
        Value::Number(measure) => Some(measure.range()),
        _ => None,
    }
}

/// The unit of what is asked for, else of what the plan has, else the usual one.
fn unit(kind: Kind, asked: &Vary<'_>, given: Option<&Given>) -> Option<Unit> {
    let texts = [asked.from, asked.to].into_iter().flatten();
    let texts = texts.map(|one| one.text);
    let written = given.map(|given| &*given.written);
    // Kelvins on a scale start elsewhere than degrees.
    let is_on_scale = |unit: &Unit| unit.dimension() == kind.dimension();
    let suits = |unit: &Unit| unit.suits(kind) && is_on_scale(unit) && kind != Kind::Count;
    let units = texts
        .chain(written)
        .filter_map(|text| Quantity::parse(text).ok()?.unit());
    let usual = match kind {
        Kind::Ratio => Unit::parse("%"),
        _ => Unit::parse(&kind.base_unit()),
    };
    units.chain(usual).find(suits)
}

/// Where a range goes that nobody asked for.
struct Usual {
    range: Interval,
    chosen: String,
}

/// What can be believed of the fact, around what the plan has.
fn usual(kind: Kind, def: &FactDef, own: Option<&Interval>) -> Usual {
    let around = own.and_then(|own| {
        let (range, how) = match kind {
            Kind::Temperature => (
                Interval::new(own.lo() - KELVINS, own.hi() + KELVINS),
                "30 K below to 30 K above what the plan has",
            ),
            _ if own.lo() > 0.0 => (
                Interval::new(own.lo() / TIMES, own.hi() * TIMES),
                "a quarter of what the plan has to four times as much",
            ),
            _ => return None,
        };
        Some((range?.meets(def.domain)?, how))
    });
    let counted = |range: Interval| match kind {
        Kind::Count => Interval::new(range.lo().ceil(), range.hi().floor()).unwrap_or(range),
        _ => range,
    };
    match around {
        Some((range, how)) => Usual {
            range: counted(range),
            chosen: how.to_owned(),
        },
        None => Usual {
            range: counted(def.domain),
            chosen: "all that can be believed of it".to_owned(),
        },
    }
}

/// The kinds of number that a fact is, if it is one.
pub(super) const fn number_kind(def: &FactDef) -> Option<Kind> {
    match &def.kind {
        FactKind::Number(kind) => Some(*kind),
        _ => None,
    }
}

fn read(written: Written<'_>, kind: Kind) -> Result<f64, Problem> {
    let read = Quantity::read(written.text, kind, Nature::Stated, None);
    let measure = read.map_err(|error| unreadable(written, &error))?;
    if measure.range().is_single() {
        return Ok(measure.nominal());
    }
    let message = format!("`{}` is no single value", written.text);
    Err(at(written, Fault::BadNumber, message, kind.how_to_write()))
}

fn resolution(written: Written<'_>, kind: Kind, unit: Option<Unit>) -> Result<Decimal, Problem> {
    let as_kind = match kind {
        Kind::Temperature => Kind::TemperatureDifference,
        other => other,
    };
    let value = read(written, as_kind)?;
    let in_unit = match kind {
        Kind::Temperature => value,
        _ => unit.map_or(value, |unit| unit.from_base(value)),
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

fn within(
    end: f64,
    written: Option<Written<'_>>,
    def: &FactDef,
    kind: Kind,
) -> Result<(), Problem> {
    match written {
        Some(written) if !def.domain.contains(end) => {
            let domain = Measure::of(def.domain).shown(kind).as_range();
            let message = format!("`{}` cannot be believed of it", written.text);
            let help = format!("stay within {domain}: check the unit and the decimal point");
            Err(at(written, Fault::OutOfDomain, message, help))
        }
        _ => Ok(()),
    }
}

/// That nothing says from where to where.
fn no_ends(asked: &Vary<'_>) -> Problem {
    let message = format!("nothing says from where to where `{}` goes", asked.fact);
    Problem::of_file(
        Fault::OutOfDomain,
        message,
        "name the first value and the last one",
    )
}

fn no_way_up((from, to): (f64, f64), kind: Kind, asked: &Vary<'_>) -> Problem {
    let shown = |value: f64| Measure::exact(value).shown(kind).to_string();
    let message = format!(
        "a range from {} to {} has nothing in it",
        shown(from),
        shown(to)
    );
    let help = "name a first value and a last one above it";
    match asked.to.or(asked.from) {
        Some(written) => at(written, Fault::OutOfDomain, message, help),
        None => Problem::of_file(Fault::OutOfDomain, message, help),
    }
}

fn too_fine(written: Option<Written<'_>>) -> Problem {
    let message = format!("that is more than {MOST_STEPS} pieces");
    let help = "name a coarser resolution, or ends that are closer together";
    match written {
        Some(written) => at(written, Fault::TooLarge, message, help),
        None => Problem::of_file(Fault::TooLarge, message, help),
    }
}

fn unreadable(written: Written<'_>, error: &QuantityError) -> Problem {
    let help = match error.suggestion() {
        Some(near) => format!("did you mean `{near}`? {}", error.help()),
        None => error.help(),
    };
    let source = Source::new(written.called, written.text.to_owned());
    let span = Span {
        start: error.span().start,
        end: error.span().end,
    };
    Problem::at(&source, Fault::BadNumber, span, error.message(), help)
}

/// A problem of a text of the caller.
fn at(
    written: Written<'_>,
    fault: Fault,
    message: impl Into<String>,
    help: impl Into<String>,
) -> Problem {
    let source = Source::new(written.called, written.text.to_owned());
    let end = written.text.len();
    Problem::at(&source, fault, Span { start: 0, end }, message, help)
}
