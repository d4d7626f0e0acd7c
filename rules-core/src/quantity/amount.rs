//! A number with its unit, as written.

use std::fmt;
use std::ops::Range;

use super::cursor::Cursor;
use super::number::NumberText;
use super::{QuantityError, QuantityFault, Unit};

/// A number and its unit, with the bytes they take.
#[derive(Clone, Debug)]
pub(super) struct Amount {
    pub(super) number: NumberText,
    pub(super) unit: Option<Unit>,
    pub(super) span: Range<usize>,
}

impl Amount {
    /// The amount that makes up the whole text, if it is written as most are: digits, maybe with a
    /// point, one space or none, and a unit or none.
    pub(super) fn plain(text: &str) -> Option<Self> {
        let (number, used) = NumberText::plain_prefix(text)?;
        let rest = text.get(used..)?;
        let word = rest.strip_prefix(' ').unwrap_or(rest);
        let unit = match rest {
            "" => None,
            _ => Some(Unit::parse(word)?),
        };
        Some(Self {
            number,
            unit,
            span: 0..text.len(),
        })
    }

    /// Reads a number and the unit after it.
    pub(super) fn read(cursor: &mut Cursor<'_>) -> Result<Self, QuantityError> {
        let start = cursor.at();
        let number = cursor.number()?;
        let mut end = cursor.at();
        cursor.skip_space();
        let (word, span) = cursor.unit_word();
        if word.is_empty() {
            cursor.go_back(end);
            return Ok(Self {
                number,
                unit: None,
                span: start..end,
            });
        }
        let unknown = || {
            QuantityError::new(
                QuantityFault::UnknownUnit {
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
            QuantityFault::MissingUnit {
                found: self.to_string(),
            },
            self.span.clone(),
        )
    }

    /// The number in a unit.
    pub(super) fn in_unit(&self, unit: Option<Unit>) -> f64 {
        match (self.unit, unit) {
            (Some(own), Some(unit)) if own != unit => {
                unit.from_base(own.scaled(|shift| self.number.value(shift)))
            }
            _ => self.number.value(0),
        }
    }
}

/// Two amounts that say the same are equal, wherever their texts were.
impl PartialEq for Amount {
    fn eq(&self, other: &Self) -> bool {
        self.number == other.number && self.unit == other.unit
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.number)?;
        self.unit.map_or(Ok(()), |unit| write!(f, " {unit}"))
    }
}
