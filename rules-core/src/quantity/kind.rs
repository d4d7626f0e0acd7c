//! The kinds of quantity, and which of them a dimension is.

use std::fmt;

use super::Dimension;
use crate::snapshot::stored;

/// What a quantity is about. A fact, a limit and a figure each have one kind, and only like kinds
/// compare.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Electric potential difference, in volts.
    Voltage,
    /// Electric current, in amperes.
    Current,
    /// Electric charge, in ampere-hours.
    Charge,
    /// Electric resistance, in ohms.
    Resistance,
    /// Power, in watts.
    Power,
    /// Energy, in watt-hours.
    Energy,
    /// A temperature on a scale, in degrees Celsius.
    Temperature,
    /// A difference of two temperatures, in kelvins.
    TemperatureDifference,
    /// A duration, in hours.
    Time,
    /// A length, in millimetres.
    Length,
    /// A share of something, as a plain number: 5 % is 0.05.
    Ratio,
    /// Current by capacity, per hour: 1 C is one per hour.
    Rate,
    /// Change of voltage by time, in volts per hour.
    Drift,
    /// A whole number of things.
    Count,
}

impl Kind {
    /// Every kind, in the order of the language's table.
    pub const ALL: [Self; 14] = [
        Self::Voltage,
        Self::Current,
        Self::Charge,
        Self::Resistance,
        Self::Power,
        Self::Energy,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Time,
        Self::Length,
        Self::Ratio,
        Self::Rate,
        Self::Drift,
        Self::Count,
    ];

    /// The kind's name as rulesets write it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Charge => "charge",
            Self::Resistance => "resistance",
            Self::Power => "power",
            Self::Energy => "energy",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Time => "time",
            Self::Length => "length",
            Self::Ratio => "ratio",
            Self::Rate => "rate",
            Self::Drift => "drift",
            Self::Count => "count",
        }
    }

    /// The kind of that name, or none.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// The kind's name with its article, as "a voltage".
    #[must_use]
    pub fn with_article(self) -> String {
        let article = if self == Self::Energy { "an" } else { "a" };
        format!("{article} {}", self.name())
    }

    /// What multiplies and divides to this kind. Counts and ratios are both plain numbers.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Voltage => Dimension::of([1, 0, 0, 0, 0]),
            Self::Current => Dimension::of([0, 1, 0, 0, 0]),
            Self::Charge => Dimension::of([0, 1, 1, 0, 0]),
            Self::Resistance => Dimension::of([1, -1, 0, 0, 0]),
            Self::Power => Dimension::of([1, 1, 0, 0, 0]),
            Self::Energy => Dimension::of([1, 1, 1, 0, 0]),
            Self::Temperature => Dimension::TEMPERATURE,
            Self::TemperatureDifference => Dimension::of([0, 0, 0, 0, 1]),
            Self::Time => Dimension::of([0, 0, 1, 0, 0]),
            Self::Length => Dimension::of([0, 0, 0, 1, 0]),
            Self::Ratio | Self::Count => Dimension::NONE,
            Self::Rate => Dimension::of([0, 0, -1, 0, 0]),
            Self::Drift => Dimension::of([1, 0, -1, 0, 0]),
        }
    }

    /// The units of this kind. A drift takes any voltage unit by any time unit; a count takes none.
    #[must_use]
    pub const fn unit_names(self) -> &'static [&'static str] {
        match self {
            Self::Voltage => &["V", "mV", "µV", "kV"],
            Self::Current => &["A", "mA", "µA"],
            Self::Charge => &["Ah", "mAh"],
            Self::Resistance => &["ohm", "Ω", "mohm", "mΩ"],
            Self::Power => &["W", "mW", "kW"],
            Self::Energy => &["Wh", "mWh", "kWh"],
            Self::Temperature => &["degC", "°C", "K"],
            Self::TemperatureDifference => &["K"],
            Self::Time => &["s", "min", "h", "d"],
            Self::Length => &["mm", "cm", "m"],
            Self::Ratio => &["%"],
            Self::Rate => &["C", "1/h"],
            Self::Drift => &["mV/d", "mV/h", "V/d", "V/h"],
            Self::Count => &[],
        }
    }

    /// An example of how a value of this kind is written.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Voltage => "2.5 V",
            Self::Current => "1.2 A",
            Self::Charge => "2300 mAh",
            Self::Resistance => "60 mohm",
            Self::Power => "7.5 W",
            Self::Energy => "20 Wh",
            Self::Temperature => "20 degC",
            Self::TemperatureDifference => "5 K",
            Self::Time => "90 min",
            Self::Length => "65 mm",
            Self::Ratio => "80 %",
            Self::Rate => "0.5 C",
            Self::Drift => "1.5 mV/d",
            Self::Count => "2",
        }
    }

    /// How to write a value of this kind: its usual units and an example.
    pub fn how_to_write(self) -> String {
        let way = match self {
            Self::Voltage => "in V or mV",
            Self::Current => "in A or mA",
            Self::Charge => "in Ah or mAh",
            Self::Resistance => "in ohm or mohm",
            Self::Power => "in W or mW",
            Self::Energy => "in Wh or mWh",
            Self::Temperature => "in degC",
            Self::TemperatureDifference => "in K",
            Self::Time => "in s, min, h or d",
            Self::Length => "in mm, cm or m",
            Self::Ratio => "in % or as a plain number",
            Self::Rate => "in C or 1/h",
            Self::Drift => "in mV/d or V/h",
            Self::Count => "as a plain whole number, with no unit",
        };
        format!("write it {way}, as `{}`", self.example())
    }

    /// The unit that numbers of the kind are held in.
    #[must_use]
    pub const fn base_unit(self) -> &'static str {
        match self {
            Self::Voltage => "V",
            Self::Current => "A",
            Self::Charge => "Ah",
            Self::Resistance => "ohm",
            Self::Power => "W",
            Self::Energy => "Wh",
            Self::Temperature => "degC",
            Self::TemperatureDifference => "K",
            Self::Time => "h",
            Self::Length => "mm",
            Self::Rate => "C",
            Self::Drift => "V/h",
            Self::Ratio | Self::Count => "",
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl Dimension {
    /// The first kind of this dimension (a ratio for a plain number), or none if it has no name.
    #[must_use]
    pub fn kind(self) -> Option<Kind> {
        Kind::ALL.into_iter().find(|kind| kind.dimension() == self)
    }
}

/// The kind's name, else the product of units.
impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.kind() {
            Some(kind) => f.pad(kind.name()),
            None => f.pad(&self.unit_product()),
        }
    }
}

stored!(
    enum Kind {
        Voltage,
        Current,
        Charge,
        Resistance,
        Power,
        Energy,
        Temperature,
        TemperatureDifference,
        Time,
        Length,
        Ratio,
        Rate,
        Drift,
        Count,
    }
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    #[test]
    fn names_lead_back_to_their_kind() {
        for kind in Kind::ALL {
            assert_eq!(Kind::from_name(kind.name()), Some(kind));
            assert_eq!(kind.to_string(), kind.name());
        }
        assert_eq!(
            Kind::from_name("temperature difference"),
            Some(Kind::TemperatureDifference)
        );
        assert_eq!(Kind::from_name("Voltage"), None);
    }

    #[test]
    fn the_listed_units_have_the_dimension_of_their_kind() {
        for kind in Kind::ALL {
            assert_eq!(kind.unit_names().is_empty(), kind == Kind::Count, "{kind}");
            for name in kind.unit_names() {
                let unit = Unit::parse(name).unwrap();
                let kelvin_scale = kind == Kind::Temperature && *name == "K";
                assert!(
                    kelvin_scale || unit.dimension() == kind.dimension(),
                    "{name} of {kind}"
                );
                assert!(unit.suits(kind), "{name} of {kind}");
            }
        }
    }

    #[test]
    fn articles_and_ways_of_writing() {
        assert_eq!(Kind::Energy.with_article(), "an energy");
        assert_eq!(Kind::Voltage.with_article(), "a voltage");
        assert_eq!(
            Kind::Voltage.how_to_write(),
            "write it in V or mV, as `2.5 V`"
        );
        assert_eq!(
            Kind::Count.how_to_write(),
            "write it as a plain whole number, with no unit, as `2`"
        );
    }
}
