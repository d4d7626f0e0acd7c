//! Units as written, and what they are in base units.

use std::fmt;

use super::number::NumberText;
use super::simple_unit::{SIMPLE, Simple, simple_prefix, simple_unit};
use super::{Dimension, Kind};
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored};

/// A unit as written: a simple unit, or one by another as `mV/d`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Unit {
    over: &'static Simple,
    under: Option<&'static Simple>,
}

impl Unit {
    /// The unit that makes up the whole text, or none.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        if let Some(over) = simple_unit(text) {
            return Some(Self { over, under: None });
        }
        let (over, under) = text.split_once('/')?;
        let (over, under) = (simple_unit(over)?, simple_unit(under)?);
        (over.divides() && under.divides()).then_some(Self {
            over,
            under: Some(under),
        })
    }

    /// The longest unit at the start of the text, with the bytes it takes. A longer word is not
    /// split: `Cat` has no unit, and of `V/cable` only `V` is one.
    #[must_use]
    pub fn longest_prefix(text: &str) -> Option<(Self, usize)> {
        let (over, used) = simple_prefix(text)?;
        let alone = (Self { over, under: None }, used);
        let Some(rest) = text.get(used..).and_then(|rest| rest.strip_prefix('/')) else {
            return Some(alone);
        };
        match simple_prefix(rest) {
            Some((under, more)) if over.divides() && under.divides() => Some((
                Self {
                    over,
                    under: Some(under),
                },
                used + 1 + more,
            )),
            _ => Some(alone),
        }
    }

    /// The dimension of this unit. `K` is a difference of temperatures.
    #[must_use]
    pub fn dimension(self) -> Dimension {
        let over = self.over.kind.dimension();
        // Units that divide are never temperatures, and no two of them leave the bound on
        // exponents.
        self.under.map_or(over, |under| {
            over.per(under.kind.dimension()).unwrap_or(over)
        })
    }

    /// Whether values of this kind may be written in this unit.
    #[must_use]
    pub fn suits(self, kind: Kind) -> bool {
        match self.under {
            None => self.over.kind == kind || self.is_kelvin() && kind == Kind::Temperature,
            Some(under) => {
                kind == Kind::Drift && self.over.kind == Kind::Voltage && under.kind == Kind::Time
            }
        }
    }

    /// A number of this unit in base units. For a number still in text, [`Unit::read`] rounds once
    /// only.
    #[must_use]
    pub fn to_base(self, value: f64) -> f64 {
        let scale = self.scale();
        value * scale.up() / scale.down()
    }

    /// A number of base units in this unit.
    #[must_use]
    pub fn from_base(self, value: f64) -> f64 {
        let scale = self.scale();
        value * scale.down() / scale.up()
    }

    /// The decimal number in the text, of this unit, in base units. The SI prefix is applied to the
    /// decimal, so `2310` of `mAh` is the double nearest to 2.310; where minutes, seconds or days
    /// come in, the last bit may be off. None if the text is not a number or not finite.
    #[must_use]
    pub fn read(self, number: &str) -> Option<f64> {
        NumberText::whole(number)
            .map(|number| self.scaled(|shift| number.value(shift)))
            .filter(|value| value.is_finite())
    }

    /// What `of_shift` gives for this unit's power of ten, with the part of the scale that is not
    /// decimal.
    pub(super) fn scaled(self, of_shift: impl FnOnce(i32) -> f64) -> f64 {
        let scale = self.scale();
        of_shift(scale.shift) * f64::from(scale.times) / f64::from(scale.over)
    }

    /// Whether this is the kelvin, which counts from absolute zero where a temperature is wanted.
    pub(super) fn is_kelvin(self) -> bool {
        self.under.is_none() && self.over.kind == Kind::TemperatureDifference
    }

    /// Whether this is a degree Celsius.
    pub(super) fn is_celsius(self) -> bool {
        self.under.is_none() && self.over.kind == Kind::Temperature
    }

    /// Whether this is the percent sign.
    pub(super) fn is_percent(self) -> bool {
        self.under.is_none() && self.over.kind == Kind::Ratio
    }

    fn scale(self) -> Scale {
        let Simple {
            shift, times, over, ..
        } = *self.over;
        match self.under {
            None => Scale { shift, times, over },
            Some(under) => Scale {
                shift: shift - under.shift,
                times: times * under.over,
                over: over * under.times,
            },
        }
    }
}

/// The way from a unit to base units.
struct Scale {
    shift: i32,
    times: u32,
    over: u32,
}

impl Scale {
    fn up(&self) -> f64 {
        f64::from(self.times) * 10_f64.powi(self.shift.max(0))
    }

    fn down(&self) -> f64 {
        f64::from(self.over) * 10_f64.powi((-self.shift).max(0))
    }
}

/// The unit as it was written.
impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write_to(f)
    }
}

impl Unit {
    pub(super) fn write_to(self, out: &mut impl fmt::Write) -> fmt::Result {
        out.write_str(self.over.spelling)?;
        let Some(under) = self.under else {
            return Ok(());
        };
        out.write_str("/")?;
        out.write_str(under.spelling)
    }
}

impl Stored for Unit {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        let place = |one: &Simple| SIMPLE.iter().position(|simple| simple == one);
        place(self.over).unwrap_or(SIMPLE.len()).write(to);
        self.under.and_then(place).write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let over = SIMPLE.get(usize::read(from)?)?;
        let under = match Option::<usize>::read(from)? {
            Some(place) => Some(SIMPLE.get(place)?),
            None => None,
        };
        Some(Self { over, under })
    }
}

#[cfg(test)]
mod tests {
    use super::super::simple_unit::SIMPLE;
    use super::*;

    fn unit(text: &str) -> Unit {
        Unit::parse(text).unwrap()
    }

    /// SI prefixes after the SI Brochure (BIPM, 9th edition, table 7); minute, hour and day after
    /// its table 8.
    #[test]
    fn one_of_each_unit_in_base_units() {
        let table = [
            ("V", 1.0),
            ("mV", 1e-3),
            ("µV", 1e-6),
            ("\u{3bc}V", 1e-6),
            ("uV", 1e-6),
            ("kV", 1e3),
            ("A", 1.0),
            ("mA", 1e-3),
            ("µA", 1e-6),
            ("\u{3bc}A", 1e-6),
            ("uA", 1e-6),
            ("Ah", 1.0),
            ("mAh", 1e-3),
            ("ohm", 1.0),
            ("\u{3a9}", 1.0),
            ("\u{2126}", 1.0),
            ("mohm", 1e-3),
            ("m\u{3a9}", 1e-3),
            ("m\u{2126}", 1e-3),
            ("W", 1.0),
            ("mW", 1e-3),
            ("kW", 1e3),
            ("Wh", 1.0),
            ("mWh", 1e-3),
            ("kWh", 1e3),
            ("degC", 1.0),
            ("°C", 1.0),
            ("K", 1.0),
            ("s", 1.0 / 3600.0),
            ("min", 1.0 / 60.0),
            ("h", 1.0),
            ("d", 24.0),
            ("mm", 1.0),
            ("cm", 10.0),
            ("m", 1000.0),
            ("%", 0.01),
            ("C", 1.0),
            ("1/h", 1.0),
            ("mV/d", 1.0 / 24_000.0),
            ("mV/mA", 1.0),
            ("V/mA", 1e3),
            ("mV/A", 1e-3),
            ("V/h", 1.0),
            ("V/s", 3600.0),
            ("V/d", 1.0 / 24.0),
        ];
        // Both a power of ten and a factor of time: the last bit may differ.
        assert!((unit("µV/min").read("1").unwrap() / 60e-6 - 1.0).abs() < 1e-15);
        for (text, base) in table {
            assert_eq!(unit(text).read("1"), Some(base), "{text}");
            assert_eq!(unit(text).to_string(), text);
            assert!(
                (unit(text).to_base(3.0) / (3.0 * base) - 1.0).abs() < 1e-15,
                "{text}"
            );
            assert!((unit(text).from_base(base) - 1.0).abs() < 1e-15, "{text}");
        }
    }

    #[test]
    fn decimals_are_rounded_once() {
        assert_eq!(unit("mAh").read("2310"), Some(2.310));
        assert_eq!(unit("mV").read("2.3"), Some(0.0023));
        assert_eq!(unit("min").read("90"), Some(1.5));
        assert_eq!(unit("kV").read("1e308"), None);
        assert_eq!(unit("V").read("1 "), None);
    }

    #[test]
    fn a_unit_is_the_whole_text() {
        for text in [
            "", "V\0", "\0V", "V\0\0\0", "mV ", "V/", "/d", "mV/d\0", "mV\0/d", "V/1/h",
        ] {
            assert_eq!(Unit::parse(text), None, "{text:?}");
        }
    }

    #[test]
    fn whole_words_only() {
        for text in [
            "Cat", "Volt", "mv", "K4", "h_2", "V-2", "cable", "", "/h", "min_of", "h.x", "%x",
            "1/hour",
        ] {
            assert_eq!(Unit::longest_prefix(text), None, "{text}");
        }
        let table = [
            ("min of", "min"),
            ("C * 2", "C"),
            ("C", "C"),
            ("mV/d)", "mV/d"),
            ("1/h", "1/h"),
            ("V/cable", "V"),
            ("V / h", "V"),
            ("V/h/2", "V/h"),
            ("V/2", "V"),
            ("V..4 V", "V"),
            ("V - 2", "V"),
            ("m/s", "m/s"),
            ("V/degC", "V"),
            ("degC/h", "degC"),
            ("%/h", "%"),
            ("V±0.1", "V"),
            ("A/Ah", "A/Ah"),
            ("V/1/h", "V"),
        ];
        for (text, expected) in table {
            let (found, used) = Unit::longest_prefix(text).unwrap();
            assert_eq!(
                (found.to_string().as_str(), used),
                (expected, expected.len()),
                "{text}"
            );
        }
    }

    #[test]
    fn dimensions_of_compound_units() {
        assert_eq!(unit("mV/d").dimension(), Kind::Drift.dimension());
        assert_eq!(unit("A/Ah").dimension(), Kind::Rate.dimension());
        assert_eq!(unit("W/A").dimension(), Kind::Voltage.dimension());
        assert!(unit("K").dimension() == Kind::TemperatureDifference.dimension());
    }

    #[test]
    fn only_the_units_of_the_table_suit_a_kind() {
        assert!(unit("K").suits(Kind::Temperature) && unit("K").suits(Kind::TemperatureDifference));
        assert!(!unit("degC").suits(Kind::TemperatureDifference));
        assert!(!unit("W/A").suits(Kind::Voltage) && !unit("A/Ah").suits(Kind::Rate));
        assert!(!unit("%").suits(Kind::Count) && !unit("mV/K").suits(Kind::Drift));
    }

    #[test]
    fn no_product_of_units_leaves_the_bound() {
        for over in SIMPLE.iter().filter(|simple| simple.divides()) {
            for under in SIMPLE.iter().filter(|simple| simple.divides()) {
                assert!(over.kind.dimension().per(under.kind.dimension()).is_some());
            }
        }
    }
}
