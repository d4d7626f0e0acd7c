//! Values to words: the one place where the numbers of a report become text.

use std::borrow::Cow;
use std::fmt;

use crate::check::{FilledText, Margin, MarginShown, NumberShown, ReportedNumber, ReportedValue};
use crate::formula::{Evaluated, Sort};
use crate::quantity::{Kind, Measure};

/// A number in the unit that suits its kind and size.
#[must_use]
pub fn measure(value: Measure, kind: Kind) -> String {
    value.shown(kind).text()
}

/// A number of a report, or that it is unknown.
fn number(number: Evaluated, sort: Sort, is_unknown: bool) -> String {
    match (is_unknown, sort.named_kind()) {
        (true, _) => "unknown".to_owned(),
        (false, Some(kind)) => worked_out(number.value, kind),
        (false, None) => format!(
            "{} {}",
            significant(number.value.nominal(), WORKED_OUT_DIGITS),
            unit_of_sort(sort)
        ),
    }
}

impl ReportedNumber {
    /// The unit of its ends: the base unit of its kind.
    #[must_use]
    pub fn unit(&self) -> Cow<'static, str> {
        match &self.shown {
            NumberShown::As(sort) => unit_of_sort(*sort),
            NumberShown::Told(told) => told.unit.clone(),
        }
    }
}

impl Margin {
    /// The unit of its amount: the base unit of its kind.
    #[must_use]
    pub fn unit(&self) -> Cow<'static, str> {
        match &self.shown {
            MarginShown::As(kind) => kind.base_unit().into(),
            MarginShown::Told(told) => told.unit.clone(),
        }
    }
}

fn unit_of_sort(sort: Sort) -> Cow<'static, str> {
    sort.kind.map_or_else(
        || sort.dimension.unit_product().into(),
        |kind| kind.base_unit().into(),
    )
}

/// So many significant digits of a number are told: the last bits of a double say nothing and would
/// differ between machines.
pub(super) const DIGITS: usize = 9;

/// Numbers are equal where reports show them alike.
impl PartialEq for ReportedNumber {
    fn eq(&self, other: &Self) -> bool {
        let end = |end: Option<f64>| end.map(|end| significant(end, DIGITS).to_bits());
        let ends = |one: &Self| (end(one.low()), end(one.high()), one.number.missing);
        ends(self) == ends(other)
            && self.limit == other.limit
            && self.unit() == other.unit()
            && self.to_string() == other.to_string()
    }
}

/// Margins are equal where reports show them alike.
impl PartialEq for Margin {
    fn eq(&self, other: &Self) -> bool {
        let bits = |number: f64| significant(number, DIGITS).to_bits();
        let amounts = |one: &Self| (bits(one.amount), one.percent.map(bits));
        amounts(self) == amounts(other)
            && self.unit() == other.unit()
            && self.to_string() == other.to_string()
    }
}

/// Values are equal where reports show them alike.
impl PartialEq for ReportedValue {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
}

/// Texts are equal where they read alike, however they are cut.
impl PartialEq for FilledText {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
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
    if !range.is_single() {
        return text;
    }
    let is_long = text
        .trim_start_matches(['-', '0', '.'])
        .chars()
        .take_while(|c| *c != ' ')
        .filter(char::is_ascii_digit)
        .count()
        > SHORT_DIGITS;
    if is_long {
        exact(value.nominal(), kind, WORKED_OUT_DIGITS)
    } else {
        text
    }
}

/// An exact number to so many significant digits, in the unit that suits its kind and size.
#[must_use]
pub fn exact(value: f64, kind: Kind, digits: usize) -> String {
    let shown = Measure::exact(value).shown(kind);
    shown
        .in_few_digits(digits)
        .unwrap_or_else(|| shortened(&shown.text(), digits))
}

/// A text of a number, with the number to so many significant digits.
fn shortened(text: &str, digits: usize) -> String {
    let (number, unit) = text
        .split_once(' ')
        .map_or((text, None), |(number, unit)| (number, Some(unit)));
    let Ok(number) = number.parse::<f64>() else {
        return text.to_owned();
    };
    let short = significant(number, digits);
    unit.map_or_else(|| short.to_string(), |unit| format!("{short} {unit}"))
}

/// A number to so many significant digits: the last bits of a double say nothing and would differ
/// between machines.
#[must_use]
pub fn significant(value: f64, digits: usize) -> f64 {
    crate::quantity::significant(value, digits)
}

impl ReportedNumber {
    /// As a text.
    pub(super) fn text(&self) -> String {
        match &self.shown {
            NumberShown::As(sort) => number(self.number, *sort, self.is_unknown()),
            NumberShown::Told(told) => told.text.to_string(),
        }
    }
}

impl fmt::Display for ReportedNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text())
    }
}

impl Margin {
    /// As a text.
    pub(super) fn text(&self) -> String {
        match &self.shown {
            MarginShown::As(kind) if self.amount > 0.0 => {
                ["+", &exact(self.amount, *kind, 3)].concat()
            }
            MarginShown::As(kind) => exact(self.amount, *kind, 3),
            MarginShown::Told(told) => told.text.to_string(),
        }
    }
}

impl fmt::Display for Margin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text())
    }
}

impl ReportedValue {
    /// As a text.
    pub(super) fn text(&self) -> String {
        match self {
            Self::Given(value, kind, unit) => {
                let shown = value.shown(*kind);
                unit.map_or(shown, |unit| shown.in_unit(unit)).text()
            }
            Self::WorkedOut(value, kind) => worked_out(*value, *kind),
            Self::Words(words) => (*words).to_owned(),
            Self::Text(text) => text.to_string(),
        }
    }
}

impl fmt::Display for ReportedValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Words(words) => f.write_str(words),
            Self::Text(text) => f.write_str(text),
            Self::Given(..) | Self::WorkedOut(..) => f.write_str(&self.text()),
        }
    }
}

impl fmt::Display for FilledText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut values = self.values.iter();
        self.words.iter().try_for_each(|words| match words {
            Some(words) => f.write_str(words),
            None => values.next().map_or(Ok(()), |value| value.fmt(f)),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Interval;

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
