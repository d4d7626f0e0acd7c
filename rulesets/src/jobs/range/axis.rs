//! A number that is varied: its steps, as values that a check can be given and as text.

use std::ops::Range;

use rules_core::document::Problem;
use rules_core::facts::{Given, Value};
use rules_core::quantity::{Interval, Kind, Measure, Unit};
use rules_core::report::significant;

use super::decimal::Decimal;
use super::ends::{Ends, Vary, unit};
use super::grid::{Grid, MOST_STEPS, Scale};
use super::named::Varied;

/// So many digits of what the plan has are told.
const OWN_DIGITS: usize = 9;

/// A number that is varied.
#[derive(Debug, Clone)]
pub(super) struct Axis<'r> {
    pub varied: Varied<'r>,
    kind: Kind,
    unit: Option<Unit>,
    grid: Grid,
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
        let own = given.and_then(|given| match &given.value {
            Value::Number(measure) => Some((given.written.to_string(), measure.range())),
            _ => None,
        });
        let range = own.as_ref().map(|(_, range)| range);
        let ends = Ends::of(asked, kind, varied.def, range)?;
        let scale = Scale {
            kind,
            unit: unit(kind, asked, given),
            domain: varied.def.domain,
        };
        let grid = Grid::of(&ends, asked, &scale, steps)?;
        Ok(Self {
            varied,
            kind,
            unit: scale.unit,
            grid,
            chosen: ends.chosen,
            own,
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
        let all = (self.grid.to - self.grid.from).unsigned_abs();
        let step = self.grid.step.unsigned_abs().max(1);
        let steps = usize::try_from(all.div_ceil(step)).unwrap_or(MOST_STEPS);
        if self.is_whole() { steps + 1 } else { steps }
    }

    fn end(&self, at: usize) -> Decimal {
        let steps = i64::try_from(at).unwrap_or(i64::MAX);
        let units = self
            .grid
            .from
            .saturating_add(self.grid.step.saturating_mul(steps));
        Decimal {
            units: units.min(self.grid.to),
            place: self.grid.place,
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
            units: self.grid.step,
            place: self.grid.place,
        };
        match self.kind {
            Kind::Temperature => format!("{} K", trimmed(step)),
            _ => self.with_unit(&trimmed(step)),
        }
    }

    /// The same as a number of the unit.
    pub(super) fn step(&self) -> f64 {
        let (units, place) = (self.grid.step, self.grid.place);
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
    Given::new(value, written, None)
}

fn trimmed(number: Decimal) -> String {
    let text = number.text();
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}
