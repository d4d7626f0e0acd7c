//! Numbers with their intervals, of one subject or of each.

use std::borrow::Cow;

use serde::Serialize;

use super::each::Each;
use super::texts::{Text, Texts};
use crate::check::{Margin, ReportedNumber};
use crate::report::words::{DIGITS, significant};

/// A number as shown, with its interval.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Number", deny_unknown_fields))]
pub(super) struct WrittenNumber<'w> {
    /// As a text: `3.87 V ± 0.03 V`.
    text: Each<Text<'w>>,
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
    pub(super) fn of(
        numbers: impl Iterator<Item = &'w ReportedNumber> + Clone,
        texts: &mut Texts,
    ) -> Option<Self> {
        let first = numbers.clone().next()?;
        let shown = |end: Option<f64>| end.map(|end| significant(end, DIGITS));
        let each = || numbers.clone();
        Some(Self {
            text: Each::of(each().map(|number| texts.of_number(number)))?,
            limit: first.limit.as_deref(),
            missing: Each::of(each().map(|number| number.number.missing))?,
            low: Each::of(each().map(|number| shown(number.low())))?,
            high: Each::of(each().map(|number| shown(number.high())))?,
            unit: first.unit(),
        })
    }
}

/// By how much a limit is kept, at the worst.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Margin", deny_unknown_fields))]
pub(super) struct WrittenMargin<'w> {
    /// As a text: `-0.19 V`.
    text: Each<Text<'w>>,
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

impl<'w> WrittenMargin<'w> {
    /// One margin of several subjects; nothing of none.
    pub(super) fn of(
        margins: impl Iterator<Item = &'w Margin> + Clone,
        texts: &mut Texts,
    ) -> Option<Self> {
        let first = margins.clone().next()?;
        let shown = |number: f64| significant(number, DIGITS);
        let each = || margins.clone();
        Some(Self {
            text: Each::of(each().map(|margin| texts.of_margin(margin)))?,
            amount: Each::of(each().map(|margin| shown(margin.amount)))?,
            unit: first.unit(),
            percent: Each::of(each().map(|margin| margin.percent.map(shown)))?,
        })
    }
}
