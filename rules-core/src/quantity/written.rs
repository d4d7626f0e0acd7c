//! Quantities as written, before it is known what kind is wanted.

use std::fmt;

use super::amount::Amount;
use super::cursor::{Cursor, read_whole};
use super::tolerance::Tolerance;
use super::{Kind, QuantityError, QuantityFault, Unit};
use crate::characters::trimmed;

/// A quantity as written: an amount with or without a tolerance, or a range. It is not yet known
/// whether its unit is one of the kind that is wanted. It prints as text that reads back as the
/// same quantity.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    pub(super) form: WrittenForm,
}

/// The two forms of a quantity.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum WrittenForm {
    /// A number with its tolerance.
    Amount(Amount, Option<Tolerance>),
    /// A low and a high end, with the bytes of both.
    Range(Amount, Amount),
}

/// Whether the text starts with a word for a missing or infinite number, as YAML and programs write
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
        match Amount::plain(text) {
            Some(amount) => Ok(Self {
                form: WrittenForm::Amount(amount, None),
            }),
            None => Self::parse_whole(text),
        }
    }

    /// Reads a quantity that is not just a plain amount.
    pub(super) fn parse_whole(text: &str) -> Result<Self, QuantityError> {
        read_whole(text, Self::take_from)
    }

    fn take_from(cursor: &mut Cursor<'_>) -> Result<Self, QuantityError> {
        let text = cursor.text();
        if cursor.is_at_end() {
            return Err(QuantityError::new(QuantityFault::Empty, 0..text.len()));
        }
        if is_not_finite(text) {
            return Err(QuantityError::new(
                QuantityFault::NotFinite {
                    found: trimmed(text).to_owned(),
                },
                0..text.len(),
            ));
        }
        let first = Amount::read(cursor)?;
        cursor.skip_space();
        let form = if cursor.take("..") {
            Self::range(first, cursor)?
        } else if cursor.at_tolerance() {
            WrittenForm::Amount(first, Some(Tolerance::read(cursor)?))
        } else {
            WrittenForm::Amount(first, None)
        };
        Ok(Self { form })
    }

    fn range(mut low: Amount, cursor: &mut Cursor<'_>) -> Result<WrittenForm, QuantityError> {
        cursor.skip_space();
        let high = Amount::read(cursor)?;
        if low.unit.is_some() && high.unit.is_none() {
            return Err(high.missing_unit());
        }
        low.unit = low.unit.or(high.unit);
        Ok(WrittenForm::Range(low, high))
    }

    /// The unit as written, if there is one; of a range, that of its end.
    #[must_use]
    pub const fn unit(&self) -> Option<Unit> {
        match &self.form {
            WrittenForm::Amount(amount, _) | WrittenForm::Range(_, amount) => amount.unit,
        }
    }

    /// The kind of a quantity for which no kind is asked: that of its unit, if it has one, or a
    /// ratio.
    #[must_use]
    pub fn kind_shown(&self) -> Option<Kind> {
        self.unit()
            .map_or(Some(Kind::Ratio), |unit| unit.dimension().kind())
    }

    /// The nominal value in the unit as written: the number itself, or the middle of a range.
    #[must_use]
    pub fn nominal(&self) -> f64 {
        match &self.form {
            WrittenForm::Amount(amount, _) => amount.number.value(0),
            WrittenForm::Range(low, high) => low.in_unit(high.unit).midpoint(high.number.value(0)),
        }
    }

    /// Whether the text says how well the value is known, by a tolerance or as a range.
    #[must_use]
    pub const fn has_tolerance(&self) -> bool {
        matches!(
            self.form,
            WrittenForm::Range(..) | WrittenForm::Amount(_, Some(_))
        )
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.form {
            WrittenForm::Amount(amount, None) => write!(f, "{amount}"),
            WrittenForm::Amount(amount, Some(tolerance)) => write!(f, "{amount} {tolerance}"),
            WrittenForm::Range(low, high) if low.unit == high.unit => {
                write!(f, "{}..{high}", low.number)
            }
            WrittenForm::Range(low, high) => write!(f, "{low}..{high}"),
        }
    }
}
