//! Values to words: the one place where the numbers of a report become text.

use std::borrow::Cow;
use std::sync::Arc;

use super::shown::{Filled, ShownValue};
use crate::facts::{FactKind, Given, OptionSet, SubjectId, Value};
use crate::formula::{Bound, Evaluated, Evaluator, FactRef, Number, Sort, Truth};
use crate::quantity::{Interval, Kind, Measure};
use crate::ruleset::{Piece, Placeholder, Rules, Template};

/// Picks out the values that the texts of one sheet show.
#[derive(Debug)]
pub struct Words<'w, 'e> {
    rules: &'w Rules,
    evaluator: &'w Evaluator<'e>,
}

impl<'w, 'e> Words<'w, 'e> {
    /// Words for the values of an evaluator.
    #[must_use]
    pub fn new(rules: &'w Rules, evaluator: &'w Evaluator<'e>) -> Self {
        Self { rules, evaluator }
    }

    /// A reason or remedy with its values.
    #[must_use]
    pub fn filled(&self, template: &Template, bound: &Bound) -> Filled {
        let shown = |piece: &Piece| match piece {
            Piece::Text(text) => ShownValue::Text(Arc::clone(text)),
            Piece::Value(Placeholder::Fact(fact)) => self.fact(*fact, bound),
            Piece::Value(Placeholder::Number(number, sort)) => self.number(number, *sort, bound),
            Piece::Value(Placeholder::Condition(condition)) => {
                ShownValue::Words(truth(self.evaluator.condition(condition, bound)))
            }
        };
        Filled(template.pieces.iter().map(shown).collect())
    }

    /// A fact's value: a number with its uncertainty, an option, yes or no, a text; or that it is
    /// not known.
    #[must_use]
    pub fn fact(&self, fact: FactRef, bound: &Bound) -> ShownValue {
        let position = bound.position(fact.subject);
        let given = self
            .evaluator
            .sheet()
            .known(fact.subject, position, fact.slot);
        let Some(def) = self.rules.catalogue().fact(fact.id) else {
            return ShownValue::Words("");
        };
        match given {
            Some(given) => value(given, &def.kind),
            None if def.name == "id" && !self.name(fact.subject, position).is_empty() => {
                ShownValue::Text(self.name(fact.subject, position).into())
            }
            None if def.nature == crate::quantity::Nature::Measured => {
                ShownValue::Words("(not measured)")
            }
            None => ShownValue::Words("(not stated)"),
        }
    }

    /// What reports call one of a subject, also where nobody gave it a name.
    fn name(&self, subject: SubjectId, position: usize) -> &str {
        self.evaluator
            .sheet()
            .instance(subject, position)
            .map_or("", |one| one.name.as_str())
    }

    fn number(&self, number: &Number, sort: Sort, bound: &Bound) -> ShownValue {
        if let Number::Limit(id) = number
            && let Some(limit) = self.evaluator.program().limits.get(id.0)
        {
            return ShownValue::Limit(limit.value, limit.kind, limit.unit);
        }
        let found = self.evaluator.number(number, bound);
        match found.missing || found.value.range() == Interval::WHOLE {
            true => ShownValue::Words("(unknown)"),
            false => ShownValue::WorkedOut(found.value, shown_kind(sort)),
        }
    }
}

/// A value that was given. A number is shown in the unit it was written in.
#[must_use]
pub fn value(given: &Given, kind: &FactKind) -> ShownValue {
    match (&given.value, kind) {
        (Value::Number(_), _) if &*given.written == "none" => ShownValue::Words("none"),
        (Value::Number(measure), FactKind::Number(kind)) => {
            ShownValue::Given(*measure, *kind, Arc::clone(&given.written))
        }
        (Value::Choice(set), FactKind::Choice(options)) => {
            ShownValue::Text(options_in_words(*set, options).into())
        }
        (Value::YesNo(yes), _) => ShownValue::Words(truth(Truth::decided(*yes))),
        (Value::Text(text), _) => ShownValue::Text(Arc::clone(text)),
        _ => ShownValue::Text(Arc::clone(&given.written)),
    }
}

/// The kind a number is shown in.
#[must_use]
pub fn shown_kind(sort: Sort) -> Kind {
    sort.kind
        .or_else(|| sort.dimension.kind())
        .unwrap_or(Kind::Ratio)
}

/// A number in the unit that suits its kind and size.
#[must_use]
pub fn measure(value: Measure, kind: Kind) -> String {
    value.shown(kind).to_string()
}

/// A number in the unit of a text, if it has one.
pub(super) fn in_written_unit(value: Measure, kind: Kind, written: &str) -> String {
    let unit = crate::quantity::Quantity::parse(written)
        .ok()
        .and_then(|quantity| quantity.unit());
    unit.map_or_else(
        || measure(value, kind),
        |unit| value.shown(kind).in_unit(unit).to_string(),
    )
}

fn options_in_words(set: OptionSet, options: &[String]) -> String {
    let possible = options
        .iter()
        .enumerate()
        .filter(|(at, _)| OptionSet::one(*at).within(set))
        .map(|(_, option)| option.as_str());
    possible.collect::<Vec<_>>().join(" or ")
}

const fn truth(truth: Truth) -> &'static str {
    match truth {
        Truth::Yes => "yes",
        Truth::No => "no",
        _ => "unknown",
    }
}

/// A number of a report.
pub(super) fn number(number: Evaluated, sort: Sort) -> String {
    let named = sort.kind.is_some() || sort.dimension.kind().is_some();
    match (number.missing, named) {
        (true, _) => "unknown".to_owned(),
        (false, true) => worked_out(number.value, shown_kind(sort)),
        (false, false) => format!(
            "{} {}",
            significant(number.value.nominal(), WORKED_OUT_DIGITS),
            unit_of(sort)
        ),
    }
}

/// The unit in which the ends of a number are told.
pub(super) fn unit_of(sort: Sort) -> Cow<'static, str> {
    sort.kind
        .map_or_else(|| sort.dimension.unit_product().into(), Kind::base_unit)
}

/// The digits of an exact number that has been worked out: 7.5 W over 5.4 V is 1.389 A and not
/// 1.38888889 A. An interval shows by itself how far it is known.
const WORKED_OUT_DIGITS: usize = 4;
/// An interval that is wider than so many times its nominal value has no likeliest value worth
/// showing.
const WIDE: f64 = 0.5;
/// An exact number that ends within so many digits is shown as it is.
const SHORT_DIGITS: usize = 6;

/// A number that was worked out.
pub(super) fn worked_out(value: Measure, kind: Kind) -> String {
    let range = value.range();
    if range.is_bounded() && range.width() > WIDE * value.nominal().abs() && !range.is_single() {
        // With a nominal value at its end an interval is shown from end to end.
        return measure(Measure::with_nominal(range, range.hi()), kind);
    }
    let text = measure(value, kind);
    let is_long = text
        .trim_start_matches(['-', '0', '.'])
        .chars()
        .take_while(|c| *c != ' ')
        .filter(char::is_ascii_digit)
        .count()
        > SHORT_DIGITS;
    if value.range().is_single() && is_long {
        exact(value.nominal(), kind, WORKED_OUT_DIGITS)
    } else {
        text
    }
}

/// An exact number to so many significant digits, in the unit that suits its kind and size.
#[must_use]
pub fn exact(value: f64, kind: Kind, digits: usize) -> String {
    let text = measure(Measure::exact(value), kind);
    let (number, unit) = text
        .split_once(' ')
        .map_or((text.as_str(), None), |(number, unit)| (number, Some(unit)));
    let Ok(number) = number.parse::<f64>() else {
        return text;
    };
    let short = significant(number, digits);
    unit.map_or_else(|| short.to_string(), |unit| format!("{short} {unit}"))
}

/// A number to so many significant digits: the last bits of a double say nothing and would differ
/// between machines.
#[must_use]
pub fn significant(value: f64, digits: usize) -> f64 {
    format!("{value:.*e}", digits.saturating_sub(1))
        .parse()
        .unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_numbers_that_are_worked_out_are_short() {
        let shown = |value, kind| worked_out(Measure::exact(value), kind);
        assert_eq!(shown(7.5 / 5.4, Kind::Current), "1.389 A");
        assert_eq!(shown(-2.0 / 3.0, Kind::Ratio), "-66.67 %");
        assert_eq!(shown(1.4256, Kind::Time), "85.536 min"); // short as it is, in the unit that is shown
        assert_eq!(shown(1.425_678_9, Kind::Time), "85.54 min");
        assert_eq!(shown(2.7, Kind::Voltage), "2.7 V");
        assert_eq!(shown(10_000.0, Kind::Count), "10000");
        assert_eq!(
            worked_out(
                Measure::of(Interval::new(1.0, 1.234_567_89).expect("in order")),
                Kind::Current
            ),
            "1.12 A ± 0.12 A"
        ); // covers 1.0 A to 1.234 56789 A
    }

    #[test]
    fn digits_are_those_of_the_unit_shown() {
        assert_eq!(exact(-0.502_332, Kind::Time, 3), "-30.1 min"); // -0.502 h would be -30.12 min
        assert_eq!(exact(0.0, Kind::Voltage, 3), "0 V");
    }
}
