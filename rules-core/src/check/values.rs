//! What reports show: numbers, values and filled-in texts, as data. They become text where they are
//! printed or written as JSON, in [`crate::report`].

use std::borrow::Cow;
use std::sync::Arc;

use crate::formula::{Evaluated, Sort};
use crate::quantity::{Kind, Measure, Unit};

/// A number with its interval.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct ReportedNumber {
    /// What it came to.
    pub number: Evaluated,
    /// The limit it is, where it is nothing else.
    pub limit: Option<Cow<'static, str>>,
    /// Whether it is a figure of the library: its interval says something though facts are missing.
    pub is_figure: bool,
    /// How it is shown.
    pub(crate) shown: NumberShown,
}

/// How a number of a report is shown.
#[derive(Debug, Clone)]
pub(crate) enum NumberShown {
    /// As this kind of number.
    As(Sort),
    /// As it was told in a report that was read.
    Told(ToldNumber),
}

/// A number as a report tells it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct ToldNumber {
    /// As a text: `3.87 V ± 0.03 V`.
    pub text: Arc<str>,
    /// The unit of its ends.
    pub unit: Cow<'static, str>,
}

impl ReportedNumber {
    /// What was worked out, as this kind of number.
    pub(crate) const fn new(
        number: Evaluated,
        sort: Sort,
        limit: Option<Cow<'static, str>>,
    ) -> Self {
        Self {
            number,
            limit,
            is_figure: false,
            shown: NumberShown::As(sort),
        }
    }

    /// What a figure of the library came to.
    pub(crate) fn of_figure(number: Evaluated, sort: Sort) -> Self {
        Self {
            is_figure: true,
            ..Self::new(number, sort, None)
        }
    }

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
#[derive(Debug, Clone)]
pub enum ReportedValue {
    /// A number as it was given, or a limit: it is shown in the unit that it was written in.
    Given(Measure, Kind, Option<Unit>),
    /// A number that was worked out.
    WorkedOut(Measure, Kind),
    /// Words of the library.
    Words(&'static str),
    /// Words of a proposal.
    Text(Arc<str>),
}

/// A reason or remedy with its values put in.
#[derive(Debug, Clone)]
pub struct FilledText {
    /// The words of the ruleset in order, and none where a value is put in.
    pub words: Arc<[Option<Arc<str>>]>,
    /// What is put in, in order.
    pub values: Vec<ReportedValue>,
}
