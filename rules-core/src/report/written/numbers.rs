//! Numbers with their intervals, of one subject or of each.

use std::borrow::Cow;

use serde::Serialize;

use super::each::Each;
use crate::check::{Margin, ReportedNumber};
use crate::report::words::{DIGITS, significant};

/// A number as shown, with its interval.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Number", deny_unknown_fields))]
pub(super) struct WrittenNumber<'w> {
    /// As a text: `3.87 V ± 0.03 V`.
    text: Each<String>,
    /// The limit it is, where it is nothing else.
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<&'w str>,
    /// Whether a missing fact takes part, so that the interval is only what is possible at all.
    #[serde(skip_serializing_if = "Each::is_default")]
    #[cfg_attr(feature = "schema", schemars(default = "no"))]
    missing: Each<bool>,
    /// The low end, in `unit`; none if there is none.
    low: Each<Option<f64>>,
    /// The high end, in `unit`; none if there is none.
    high: Each<Option<f64>>,
    /// The unit of the two: the base unit of the kind.
    unit: Cow<'static, str>,
}

#[cfg(feature = "schema")]
const fn no() -> Each<bool> {
    Each::Same(false)
}

impl<'w> WrittenNumber<'w> {
    /// One number of several subjects; nothing of none.
    pub(super) fn of(numbers: &[&'w ReportedNumber]) -> Option<Self> {
        let first = numbers.first()?;
        let end = |end: fn(&ReportedNumber) -> Option<f64>| {
            Each::of(
                numbers
                    .iter()
                    .map(|number| end(number).map(|end| significant(end, DIGITS))),
            )
        };
        Some(Self {
            text: Each::of(numbers.iter().map(|number| number.text()))?,
            limit: first.limit.as_deref(),
            missing: Each::of(numbers.iter().map(|number| number.number.missing))?,
            low: end(ReportedNumber::low)?,
            high: end(ReportedNumber::high)?,
            unit: first.unit(),
        })
    }
}

/// By how much a limit is kept, at the worst.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Margin", deny_unknown_fields))]
pub(super) struct WrittenMargin {
    /// As a text: `-0.19 V`.
    text: Each<String>,
    /// The amount, in `unit`.
    amount: Each<f64>,
    /// The base unit of the kind.
    unit: Cow<'static, str>,
    /// In per cent of the right side; none where that is zero.
    #[serde(skip_serializing_if = "Each::is_default")]
    #[cfg_attr(feature = "schema", schemars(default = "none"))]
    percent: Each<Option<f64>>,
}

#[cfg(feature = "schema")]
const fn none() -> Each<Option<f64>> {
    Each::Same(None)
}

impl WrittenMargin {
    /// One margin of several subjects; nothing of none.
    pub(super) fn of(margins: &[&Margin]) -> Option<Self> {
        let first = margins.first()?;
        let percent = |margin: &&Margin| margin.percent.map(|one| significant(one, DIGITS));
        Some(Self {
            text: Each::of(margins.iter().map(|margin| margin.text()))?,
            amount: Each::of(
                margins
                    .iter()
                    .map(|margin| significant(margin.amount, DIGITS)),
            )?,
            unit: first.unit(),
            percent: Each::of(margins.iter().map(percent))?,
        })
    }
}
