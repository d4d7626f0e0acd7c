//! What reports show: numbers, values and filled-in texts, as data. They become text where they are
//! printed or written as JSON, in [`crate::report`].

use std::sync::Arc;

use crate::formula::{Evaluated, Sort};
use crate::quantity::{Kind, Measure, Unit};

/// A number with its interval.
#[derive(Debug, Clone, PartialEq)]
pub struct ReportedNumber {
    /// What it came to.
    pub number: Evaluated,
    /// What kind of number it is.
    pub sort: Sort,
    /// The limit it is, where it is nothing else.
    pub limit: Option<String>,
    /// Whether it is a figure of the library: its interval says something though facts are missing.
    pub is_figure: bool,
}

impl ReportedNumber {
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

    /// Nothing is known of it: something is missing, and it is no figure that has both ends all the
    /// same.
    #[must_use]
    pub fn is_unknown(&self) -> bool {
        self.number.missing && !(self.is_figure && self.number.value.range().is_bounded())
    }
}

/// A value in a text, or beside the name of a fact.
#[derive(Debug, Clone, PartialEq)]
pub enum ReportedValue {
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

/// A reason or remedy with its values put in, piece by piece.
#[derive(Debug, Clone, PartialEq)]
pub struct FilledText(pub Vec<ReportedValue>);
