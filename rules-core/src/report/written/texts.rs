//! The texts of a report, as they are written: those of numbers made once, however often they are
//! told.

use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::Arc;

use serde::{Serialize, Serializer};

use crate::check::{Margin, MarginShown, NumberShown, ReportedNumber, ReportedValue};
use crate::quantity::{Kind, Measure, Unit};

/// A text that is part of what is reported, or was made for it.
#[derive(Debug, Clone)]
pub(super) enum Text<'w> {
    /// Part of what is reported.
    Told(&'w str),
    /// Made for those who tell it alike.
    Shared(Arc<str>),
    /// Made for one place.
    Own(String),
}

impl From<String> for Text<'_> {
    fn from(text: String) -> Self {
        Self::Own(text)
    }
}

impl Deref for Text<'_> {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            Self::Told(text) => text,
            Self::Shared(text) => text,
            Self::Own(text) => text,
        }
    }
}

/// Texts are equal where they read alike.
impl PartialEq for Text<'_> {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Shared(one), Self::Shared(other)) if Arc::ptr_eq(one, other) => true,
            _ => **self == **other,
        }
    }
}

impl Serialize for Text<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Text<'_> {
    fn inline_schema() -> bool {
        String::inline_schema()
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        String::schema_name()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        String::json_schema(generator)
    }
}

/// What the text of a number depends on.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Told {
    low: u64,
    high: u64,
    nominal: u64,
    how: How,
}

/// How a number is told.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum How {
    Given(Kind, Option<Unit>),
    WorkedOut(Kind),
    Margin(Kind),
}

impl Told {
    fn of(value: &Measure, how: How) -> Self {
        Self {
            low: value.range().lo().to_bits(),
            high: value.range().hi().to_bits(),
            nominal: value.nominal().to_bits(),
            how,
        }
    }
}

/// The texts of numbers so far.
#[derive(Default)]
pub(super) struct Texts(BTreeMap<Told, Arc<str>>);

impl Texts {
    /// The text of a value.
    pub(super) fn of_value<'w>(&mut self, value: &'w ReportedValue) -> Text<'w> {
        let (number, how) = match value {
            ReportedValue::Given(number, kind, unit) => (number, How::Given(*kind, *unit)),
            ReportedValue::WorkedOut(number, kind) => (number, How::WorkedOut(*kind)),
            ReportedValue::Words(words) => return Text::Told(words),
            ReportedValue::Text(text) => return Text::Told(text),
        };
        self.made(Told::of(number, how), || value.text())
    }

    /// The text of a number.
    pub(super) fn of_number<'w>(&mut self, number: &'w ReportedNumber) -> Text<'w> {
        match &number.shown {
            NumberShown::Told(told) => Text::Told(&told.text),
            NumberShown::As(_) if number.is_unknown() => Text::Told("unknown"),
            NumberShown::As(sort) => match sort.named_kind().map(How::WorkedOut) {
                Some(how) => self.made(Told::of(&number.number.value, how), || number.text()),
                None => number.text().into(),
            },
        }
    }

    /// The text of a margin.
    pub(super) fn of_margin<'w>(&mut self, margin: &'w Margin) -> Text<'w> {
        match &margin.shown {
            MarginShown::Told(told) => Text::Told(&told.text),
            MarginShown::As(kind) => {
                let amount = Measure::exact(margin.amount);
                self.made(Told::of(&amount, How::Margin(*kind)), || margin.text())
            }
        }
    }

    fn made<'w>(&mut self, told: Told, text: impl FnOnce() -> String) -> Text<'w> {
        let made = self.0.entry(told).or_insert_with(|| text().into());
        Text::Shared(Arc::clone(made))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Interval;

    #[test]
    fn a_text_is_that_of_its_number_and_of_how_it_is_told() {
        let mut texts = Texts::default();
        let mut shown = |value: ReportedValue| texts.of_value(&value).to_string();
        let third = Measure::exact(1.0 / 3.0);
        let wide = Interval::new(0.2, 0.4).expect("in order");
        for _ in 0..2 {
            let volts = ReportedValue::WorkedOut(third, Kind::Voltage);
            assert_eq!(shown(volts), "0.3333 V");
            let amperes = ReportedValue::WorkedOut(third, Kind::Current);
            assert_eq!(shown(amperes), "0.3333 A");
            let given = ReportedValue::Given(third, Kind::Voltage, Unit::parse("mV"));
            assert_eq!(shown(given), "333.333333 mV");
            let wide = ReportedValue::WorkedOut(Measure::of(wide), Kind::Voltage);
            assert_eq!(shown(wide), "0.2..0.4 V");
        }
        assert_eq!(texts.0.len(), 4);
    }
}
