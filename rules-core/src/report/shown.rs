//! What reports show: numbers, values and filled-in texts, as data. They become text where they are
//! printed or written as JSON, in [`super::words`].

use std::borrow::Cow;
use std::fmt;
use std::sync::Arc;

use serde::{Serialize, Serializer};

use super::left_out::is_no;
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

/// A number as shown, with its interval.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Shows", deny_unknown_fields))]
struct WrittenNumber<'w> {
    /// As a text: `3.87 V ± 0.03 V`.
    text: String,
    /// The limit it is, where it is nothing else.
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<&'w str>,
    /// Whether a missing fact takes part, so that the interval is only what is possible at all.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(feature = "schema", schemars(default))]
    missing: bool,
    /// The low end, in `unit`; none if there is none.
    low: Option<f64>,
    /// The high end, in `unit`; none if there is none.
    high: Option<f64>,
    /// The unit of the two: the base unit of the kind.
    unit: Cow<'static, str>,
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

impl Serialize for Shows {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let written = WrittenNumber {
            text: self.to_string(),
            limit: self.limit.as_deref(),
            missing: self.number.missing,
            low: self.low().map(|end| words::significant(end, 9)),
            high: self.high().map(|end| words::significant(end, 9)),
            unit: words::unit_of(self.sort),
        };
        written.serialize(serializer)
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

/// By how much a limit is kept, at the worst.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Margin", deny_unknown_fields))]
struct WrittenMargin {
    /// As a text: `-0.19 V`.
    text: String,
    /// The amount, in `unit`.
    amount: f64,
    /// The base unit of the kind.
    unit: Cow<'static, str>,
    /// In per cent of the right side, where that is not equal to zero and the percentage is finite.
    #[serde(skip_serializing_if = "Option::is_none")]
    percent: Option<f64>,
}

impl fmt::Display for Margin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.amount > 0.0 { "+" } else { "" };
        write!(f, "{sign}{}", words::exact(self.amount, self.kind, 3))
    }
}

impl Serialize for Margin {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let written = WrittenMargin {
            text: self.to_string(),
            amount: words::significant(self.amount, 9),
            unit: words::base_unit(self.kind),
            percent: self.percent.map(|percent| words::significant(percent, 9)),
        };
        written.serialize(serializer)
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

impl Serialize for ShownValue {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
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

impl Serialize for Filled {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// The schema of what is written.
#[cfg(feature = "schema")]
mod written {
    use std::borrow::Cow;

    use schemars::{JsonSchema, Schema, SchemaGenerator};

    use super::{Filled, Margin, ShownValue, Shows, WrittenMargin, WrittenNumber};

    macro_rules! written_as {
        ($data:ty, $written:ty) => {
            impl JsonSchema for $data {
                fn inline_schema() -> bool {
                    <$written>::inline_schema()
                }

                fn schema_name() -> Cow<'static, str> {
                    <$written>::schema_name()
                }

                fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                    <$written>::json_schema(generator)
                }
            }
        };
    }

    written_as!(Shows, WrittenNumber<'static>);
    written_as!(Margin, WrittenMargin);
    written_as!(ShownValue, String);
    written_as!(Filled, String);
}
