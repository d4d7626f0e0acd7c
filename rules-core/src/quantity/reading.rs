//! Reading the text of a quantity, before it is known what kind is wanted.

use std::fmt;
use std::ops::Range;

use super::number::Number;
use super::tolerance::Tolerance;
use super::{Fault, Kind, QuantityError, Unit};
use crate::characters::{is_space, trimmed};

/// A quantity as written: an amount with or without a tolerance, or a range. It is not yet known
/// whether its unit is one of the kind that is wanted. It prints as text that reads back as the
/// same quantity.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    pub(super) form: Form,
}

/// The two forms of a quantity.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Form {
    /// A number with its tolerance.
    Amount(Amount, Option<Tolerance>),
    /// A low and a high end, with the bytes of both.
    Range(Amount, Amount),
}

/// A number and its unit, with the bytes they take.
#[derive(Clone, Debug)]
pub(super) struct Amount {
    pub(super) number: Number,
    pub(super) unit: Option<Unit>,
    pub(super) span: Range<usize>,
}

/// Whether the text starts with a word for no number or an infinite one, as YAML and programs write
/// them.
fn is_not_finite(text: &str) -> bool {
    if text.starts_with(|c: char| c.is_ascii_digit()) {
        return false;
    }
    let bare = trimmed(text).trim_start_matches(['+', '-', '.']);
    let word = bare
        .split(|c: char| !c.is_ascii_alphabetic())
        .next()
        .unwrap_or_default();
    ["nan", "inf", "infinity"]
        .iter()
        .any(|not| word.eq_ignore_ascii_case(not))
}

impl Quantity {
    /// Reads a quantity.
    ///
    /// # Errors
    /// If the text is not an amount, an amount with a tolerance, or a range. A unit may still be
    /// missing.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        Self::read_all(text)
            .map_err(|error| error.naming_odd(text, |plain| Self::read_all(plain).is_ok()))
    }

    fn read_all(text: &str) -> Result<Self, QuantityError> {
        let mut cursor = Cursor::new(text);
        cursor.skip_space();
        if cursor.is_at_end() {
            return Err(QuantityError::new(Fault::Empty, 0..text.len()));
        }
        if is_not_finite(text) {
            return Err(QuantityError::new(
                Fault::NotFinite {
                    found: trimmed(text).to_owned(),
                },
                0..text.len(),
            ));
        }
        let first = Amount::read(&mut cursor)?;
        cursor.skip_space();
        let form = if cursor.take("..") {
            Self::range(first, &mut cursor)?
        } else if cursor.at_tolerance() {
            Form::Amount(first, Some(Tolerance::read(&mut cursor)?))
        } else {
            Form::Amount(first, None)
        };
        cursor.expect_end()?;
        Ok(Self { form })
    }

    fn range(mut low: Amount, cursor: &mut Cursor<'_>) -> Result<Form, QuantityError> {
        cursor.skip_space();
        let high = Amount::read(cursor)?;
        if low.unit.is_some() && high.unit.is_none() {
            return Err(high.missing_unit());
        }
        low.unit = low.unit.or(high.unit);
        Ok(Form::Range(low, high))
    }

    /// The unit as written, if there is one; of a range, that of its end.
    #[must_use]
    pub const fn unit(&self) -> Option<Unit> {
        match &self.form {
            Form::Amount(amount, _) | Form::Range(_, amount) => amount.unit,
        }
    }

    /// The kind that a text shows which nobody has asked for a kind: that of its unit, which has one
    /// or not, or a ratio.
    #[must_use]
    pub fn kind_shown(&self) -> Option<Kind> {
        self.unit()
            .map_or(Some(Kind::Ratio), |unit| unit.dimension().kind())
    }

    /// The nominal value in the unit as written: the number itself, or the middle of a range.
    #[must_use]
    pub fn nominal(&self) -> f64 {
        match &self.form {
            Form::Amount(amount, _) => amount.number.value(0),
            Form::Range(low, high) => low.in_unit(high.unit).midpoint(high.number.value(0)),
        }
    }

    /// Whether the text says how well the value is known, by a tolerance or as a range.
    #[must_use]
    pub const fn has_tolerance(&self) -> bool {
        matches!(self.form, Form::Range(..) | Form::Amount(_, Some(_)))
    }
}

impl Amount {
    /// Reads a number and the unit after it.
    pub(super) fn read(cursor: &mut Cursor<'_>) -> Result<Self, QuantityError> {
        let start = cursor.at;
        let number = cursor.number()?;
        let mut end = cursor.at;
        cursor.skip_space();
        let (word, span) = cursor.unit_word();
        if word.is_empty() {
            cursor.at = end;
            return Ok(Self {
                number,
                unit: None,
                span: start..end,
            });
        }
        let unknown = || {
            QuantityError::new(
                Fault::UnknownUnit {
                    found: word.to_owned(),
                },
                span.clone(),
            )
        };
        let unit = Unit::parse(word).ok_or_else(unknown)?;
        end = span.end;
        Ok(Self {
            number,
            unit: Some(unit),
            span: start..end,
        })
    }

    pub(super) fn missing_unit(&self) -> QuantityError {
        QuantityError::new(
            Fault::MissingUnit {
                found: self.to_string(),
            },
            self.span.clone(),
        )
    }

    fn in_unit(&self, unit: Option<Unit>) -> f64 {
        match (self.unit, unit) {
            (Some(own), Some(unit)) if own != unit => {
                unit.from_base(own.scaled(|shift| self.number.value(shift)))
            }
            _ => self.number.value(0),
        }
    }
}

/// Where the text was does not matter to what it says.
impl PartialEq for Amount {
    fn eq(&self, other: &Self) -> bool {
        self.number == other.number && self.unit == other.unit
    }
}

/// A place in a text that is read from left to right.
pub(super) struct Cursor<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Cursor<'t> {
    pub(super) const fn new(text: &'t str) -> Self {
        Self { text, at: 0 }
    }

    pub(super) const fn at(&self) -> usize {
        self.at
    }

    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn is_at_end(&self) -> bool {
        self.rest().is_empty()
    }

    pub(super) fn skip_space(&mut self) {
        self.at = self.text.len() - self.rest().trim_start_matches(is_space).len();
    }

    /// Takes the mark if it comes next.
    pub(super) fn take(&mut self, mark: &str) -> bool {
        let is_next = self.rest().starts_with(mark);
        if is_next {
            self.at += mark.len();
        }
        is_next
    }

    /// Whether a tolerance comes next.
    pub(super) fn at_tolerance(&self) -> bool {
        self.rest().starts_with('±') || self.rest().starts_with("+/-")
    }

    /// Takes the number that comes next.
    pub(super) fn number(&mut self) -> Result<Number, QuantityError> {
        match Number::prefix(self.rest()) {
            Some((number, used)) if !self.goes_on_as_number(used) => {
                self.at += used;
                Ok(number)
            }
            _ => Err(self.not_a_number()),
        }
    }

    fn not_a_number(&self) -> QuantityError {
        let word = self.word();
        let found = if word.is_empty() {
            self.rest().split(is_space).next().unwrap_or_default()
        } else {
            word
        };
        let span = self.at..self.at + found.len();
        if found.is_empty() {
            return QuantityError::new(Fault::Empty, span);
        }
        QuantityError::new(
            Fault::NotANumber {
                found: found.to_owned(),
                meant: meant_number(found),
            },
            span,
        )
    }

    /// Takes a number of digits, as `2 digits`, if it comes next.
    pub(super) fn digits(&mut self) -> Option<Number> {
        let (number, used) = Number::prefix(self.rest())?;
        let after = self.rest().get(used..)?.trim_start_matches(is_space);
        let end = after
            .find(|c: char| !c.is_alphanumeric())
            .unwrap_or(after.len());
        let (word, after) = after.split_at_checked(end)?;
        if word != "digit" && word != "digits" {
            return None;
        }
        self.at = self.text.len() - after.len();
        Some(number)
    }

    /// Takes a mark that a tolerance needs here.
    pub(super) fn required(&mut self, mark: &str) -> Result<(), QuantityError> {
        self.skip_space();
        if self.take(mark) {
            Ok(())
        } else {
            Err(self.not_a_tolerance())
        }
    }

    /// Whether the number is written in a way that the language does not know: `1,5`, `1_000`,
    /// `3.`, `1.2.3`.
    fn goes_on_as_number(&self, used: usize) -> bool {
        let after = self.rest().get(used..).unwrap_or_default();
        after.starts_with([',', '_', '\'']) || after.starts_with('.') && !after.starts_with("..")
    }

    /// The unit that comes next: letters and signs up to a space or a sign that no unit has.
    pub(super) fn unit_word(&mut self) -> (&'t str, Range<usize>) {
        let word = self.word();
        let begins = |c: char| c.is_alphabetic() || matches!(c, '%' | '°' | '\u{ba}' | '\u{2103}');
        let word = if word.starts_with(begins) || word.starts_with("1/") {
            word
        } else {
            ""
        };
        let span = self.at..self.at + word.len();
        self.at = span.end;
        (word, span)
    }

    /// The text up to the next space, sign or range mark, without taking it.
    fn word(&self) -> &'t str {
        let rest = self.rest();
        let stops = |(at, c): (usize, char)| {
            let range = || rest.get(at..).is_some_and(|rest| rest.starts_with(".."));
            c.is_whitespace()
                || matches!(c, '±' | '(' | ')')
                || c == '+' && at > 0 && !after_exponent(rest, at)
                || range()
        };
        let end = rest
            .char_indices()
            .find(|place| stops(*place))
            .map_or(rest.len(), |(at, _)| at);
        rest.get(..end).unwrap_or_default()
    }

    pub(super) fn expect_end(&mut self) -> Result<(), QuantityError> {
        self.skip_space();
        if self.is_at_end() {
            return Ok(());
        }
        let found = self.rest().trim_end_matches(is_space).to_owned();
        let span = self.at..self.at + found.len();
        Err(QuantityError::new(Fault::TrailingText { found }, span))
    }

    /// An error about what comes next where a tolerance goes on.
    pub(super) fn not_a_tolerance(&self) -> QuantityError {
        let found = trimmed(self.text);
        QuantityError::new(
            Fault::NotATolerance {
                found: found.to_owned(),
            },
            self.at..self.text.trim_end_matches(is_space).len().max(self.at),
        )
    }
}

/// Whether the `+` at that byte is the sign of an exponent.
fn after_exponent(text: &str, at: usize) -> bool {
    let before = text
        .get(..at)
        .and_then(|before| before.strip_suffix(['e', 'E']));
    before.is_some_and(|before| before.ends_with(|c: char| c.is_ascii_digit()))
}

/// The number that was probably meant by one with a comma, with grouped digits, or with a bare
/// point.
fn meant_number(word: &str) -> Option<String> {
    let decimal = |word: &str| {
        Number::prefix(word)
            .filter(|(_, used)| *used == word.len())
            .map(|_| word.to_owned())
    };
    let end = word
        .find(|c: char| !(c.is_ascii_digit() || "+-.,_'".contains(c)))
        .unwrap_or(word.len());
    let (word, after) = word.split_at_checked(end)?;
    let is_cut = after
        .strip_prefix(['e', 'E'])
        .is_some_and(|power| power.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c)));
    if is_cut || !word.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    if word.matches(',').count() == 1 && !word.contains('.') && word.rsplit(',').next()?.len() != 3
    {
        return decimal(&word.replace(',', "."));
    }
    let bare = word.replace(['_', '\''], "");
    let bare = bare.strip_suffix('.').map_or(bare.clone(), str::to_owned);
    decimal(&bare).or_else(|| decimal(&format!("0{bare}")))
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.number)?;
        self.unit.map_or(Ok(()), |unit| write!(f, " {unit}"))
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.form {
            Form::Amount(amount, None) => write!(f, "{amount}"),
            Form::Amount(amount, Some(tolerance)) => write!(f, "{amount} {tolerance}"),
            Form::Range(low, high) if low.unit == high.unit => write!(f, "{}..{high}", low.number),
            Form::Range(low, high) => write!(f, "{low}..{high}"),
        }
    }
}
