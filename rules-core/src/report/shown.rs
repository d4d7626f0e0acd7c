//! What reports show: numbers, values and filled-in texts, as data. They become text where they are
//! printed or written as JSON, in [`super::words`].

use std::fmt;
use std::sync::Arc;

use super::words;
use crate::formula::{Evaluated, Sort};
use crate::quantity::{Kind, Measure, Unit};

/// A number with its interval.
#[derive(Debug, Clone, PartialEq)]
pub struct Shows {
    /// What it came to.
    pub number: Evaluated,
    /// What kind of number it is.
    pub sort: Sort,
    /// The limit it is, where it is nothing else.
    pub limit: Option<String>,
}

impl Shows {
    /// The low end, in the base unit of the kind; none if there is none.
    #[must_use]
    pub fn low(&self) -> Option<f64> {
        Some(self.number.value.range().lo()).filter(|end| end.is_finite())
    }

    /// The high end, in the base unit of the kind; none if there is none.
    #[must_use]
    pub fn high(&self) -> Option<f64> {
        Some(self.number.value.range().hi()).filter(|end| end.is_finite())
    }

    /// Nothing is known of it: something is missing, and no end is left.
    #[must_use]
    pub fn is_unknown(&self) -> bool {
        self.number.missing && self.low().is_none() && self.high().is_none()
    }
}

impl fmt::Display for Shows {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&words::number(self.number, self.sort))
    }
}

/// By how much a limit is kept, at the worst.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// The amount, in the base unit of the kind. Negative where the limit is not kept.
    pub amount: f64,
    /// The kind of the amount.
    pub kind: Kind,
    /// In per cent of the right side, where that is not equal to zero and the percentage is finite.
    pub percent: Option<f64>,
}

impl fmt::Display for Margin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.amount > 0.0 { "+" } else { "" };
        write!(f, "{sign}{}", words::exact(self.amount, self.kind, 3))
    }
}

/// A value in a text, or beside the name of a fact.
#[derive(Debug, Clone, PartialEq)]
pub enum ShownValue {
    /// A number as it was given: it is shown in the unit that it was written in.
    Given(Measure, Kind, Arc<str>),
    /// A limit, in the unit that it was written in.
    Limit(Measure, Kind, Option<Unit>),
    /// A number that was worked out.
    WorkedOut(Measure, Kind),
    /// Words of the library.
    Words(&'static str),
    /// Words of a proposal or ruleset.
    Text(Arc<str>),
}

impl fmt::Display for ShownValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Given(value, kind, written) => {
                f.write_str(&words::in_written_unit(*value, *kind, written))
            }
            Self::Limit(value, kind, unit) => {
                let shown = value.shown(*kind);
                unit.map_or(shown, |unit| shown.in_unit(unit)).fmt(f)
            }
            Self::WorkedOut(value, kind) => f.write_str(&words::worked_out(*value, *kind)),
            Self::Words(words) => f.write_str(words),
            Self::Text(text) => f.write_str(text),
        }
    }
}

/// A reason or remedy with its values put in, piece by piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled(pub Vec<ShownValue>);

impl fmt::Display for Filled {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|piece| piece.fmt(f))
    }
}
