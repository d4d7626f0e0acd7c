//! Tolerances, of a value or of a meter.

use std::fmt;
use std::ops::Range;

use super::amount::Amount;
use super::cursor::{Cursor, read_whole};
use super::number::NumberText;
use super::rounding::{product, sum};
use super::{Holds, Interval, Kind, QuantityError, QuantityFault, Unit};
use crate::snapshot::stored;

/// A tolerance as written: `± 20 mV`, `± 0.5 %`, `± (0.5 % + 2 digits)`.
#[derive(Clone, Debug)]
pub struct Tolerance {
    percent: Option<NumberText>,
    part: TolerancePart,
    span: Range<usize>,
}

/// The part of a tolerance that stands alone, or after a percentage.
#[derive(Clone, Debug, PartialEq)]
enum TolerancePart {
    Amount(Amount),
    Percent(NumberText),
    Digits(NumberText),
}

/// A tolerance bound to a kind, in base units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Width {
    /// The part that grows with the value, as a plain number.
    pub(super) gain: f64,
    /// The part that does not, in base units.
    fixed: f64,
    /// Units of the last place written.
    digits: f64,
}

/// How well a meter reads one kind: its gain error and a fixed part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meter {
    kind: Kind,
    width: Width,
}

impl Meter {
    /// Reads the statement of a meter for one kind, written as a tolerance: `± (0.5 % + 2 digits)`.
    ///
    /// # Errors
    /// If the text is not a tolerance, or not one for this kind.
    pub fn parse(text: &str, kind: Kind) -> Result<Self, QuantityError> {
        let width = Tolerance::parse(text).and_then(|tolerance| tolerance.bind(kind));
        width
            .map(|width| Self { kind, width })
            .map_err(|error| error.expecting(kind))
    }

    /// The kind that the meter reads.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        self.kind
    }

    pub(super) const fn width(&self) -> Width {
        self.width
    }

    /// Whether each part is at least as wide as that of another meter, so that no reading is worth
    /// more by this one.
    #[must_use]
    pub fn is_as_wide_as(&self, other: &Self) -> bool {
        let (own, other) = (self.width, other.width);
        let parts = [
            (own.gain, other.gain),
            (own.fixed, other.fixed),
            (own.digits, other.digits),
        ];
        parts.iter().all(|(own, other)| !is_wider(*other, *own))
    }
}

/// Whether one half width is wider than another, as LANGUAGE.md section 5 compares numbers.
#[must_use]
pub fn is_wider(half: f64, than: f64) -> bool {
    Interval::point(half).at_most(Interval::point(than)) == Holds::No
}

impl Tolerance {
    /// Reads a tolerance.
    ///
    /// # Errors
    /// If the text is not a tolerance from its mark on.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        read_whole(text, Self::read)
    }

    /// Reads a tolerance from its mark on.
    pub(super) fn read(cursor: &mut Cursor<'_>) -> Result<Self, QuantityError> {
        let start = cursor.at();
        if !cursor.take("±") && !cursor.take("+/-") {
            return Err(cursor.not_a_tolerance());
        }
        cursor.skip_space();
        let percent = if cursor.take("(") {
            Some(TolerancePart::percent_before_plus(cursor)?)
        } else {
            None
        };
        let part = TolerancePart::read(cursor)?;
        if percent.is_some() {
            cursor.required(")")?;
        }
        let tolerance = Self {
            percent,
            part,
            span: start..cursor.at(),
        };
        if matches!(
            tolerance,
            Self {
                percent: None,
                part: TolerancePart::Digits(_),
                ..
            }
        ) {
            return Err(QuantityError::new(
                QuantityFault::NotATolerance {
                    found: tolerance.to_string(),
                },
                tolerance.span,
            ));
        }
        Ok(tolerance)
    }

    /// The width for a value of this kind.
    pub(super) fn bind(&self, kind: Kind) -> Result<Width, QuantityError> {
        if kind == Kind::Count {
            return Err(self.error(QuantityFault::ToleranceOnCount));
        }
        let none = Width {
            gain: 0.0,
            fixed: 0.0,
            digits: 0.0,
        };
        let start = self
            .percent
            .as_ref()
            .map_or(Ok(none), |percent| self.with_percent(none, percent, kind))?;
        match &self.part {
            TolerancePart::Percent(percent) => self.with_percent(start, percent, kind),
            TolerancePart::Amount(amount) => {
                let width = self.not_negative(amount.width(kind)?, amount)?;
                Ok(Width {
                    fixed: sum(start.fixed, width).1,
                    ..start
                })
            }
            TolerancePart::Digits(number) => Ok(Width {
                digits: self.not_negative(number.value(0), number)?,
                ..start
            }),
        }
    }

    /// A percentage is of the size of the value, but for a ratio it is percentage points.
    fn with_percent(
        &self,
        start: Width,
        percent: &NumberText,
        kind: Kind,
    ) -> Result<Width, QuantityError> {
        let share = self.not_negative(percent.value(-2), &format_args!("{percent} %"))?;
        match kind {
            Kind::Temperature => Err(self.error(QuantityFault::RelativeTemperature)),
            Kind::Ratio => Ok(Width {
                fixed: sum(start.fixed, share).1,
                ..start
            }),
            _ => Ok(Width {
                gain: sum(start.gain, share).1,
                ..start
            }),
        }
    }

    fn not_negative(&self, value: f64, written: &impl fmt::Display) -> Result<f64, QuantityError> {
        if !value.is_finite() {
            return Err(self.error(QuantityFault::NotFinite {
                found: written.to_string(),
            }));
        }
        if value < 0.0 {
            return Err(self.error(QuantityFault::NegativeTolerance {
                found: written.to_string(),
            }));
        }
        Ok(value)
    }

    fn error(&self, fault: QuantityFault) -> QuantityError {
        QuantityError::new(fault, self.span.clone())
    }
}

impl Width {
    /// The part that does not grow with the value, for a value whose last place is worth `place`.
    pub(super) fn fixed(self, place: f64) -> f64 {
        sum(self.fixed, product(self.digits, place).1).1
    }

    /// The whole half width for a value whose last place is worth `place`, rounded up.
    pub(super) fn half(self, value: f64, place: f64) -> f64 {
        sum(product(self.gain, value.abs()).1, self.fixed(place)).1
    }
}

impl TolerancePart {
    /// Reads the percentage and the plus sign that start a sum.
    fn percent_before_plus(cursor: &mut Cursor<'_>) -> Result<NumberText, QuantityError> {
        cursor.skip_space();
        let percent = cursor.number()?;
        cursor.required("%")?;
        cursor.required("+")?;
        Ok(percent)
    }

    fn read(cursor: &mut Cursor<'_>) -> Result<Self, QuantityError> {
        cursor.skip_space();
        if let Some(digits) = cursor.digits() {
            return Ok(Self::Digits(digits));
        }
        let amount = Amount::read(cursor)?;
        let is_percent = amount.unit.is_some_and(Unit::is_percent);
        Ok(if is_percent {
            Self::Percent(amount.number)
        } else {
            Self::Amount(amount)
        })
    }
}

/// Two tolerances that say the same are equal, wherever their texts were.
impl PartialEq for Tolerance {
    fn eq(&self, other: &Self) -> bool {
        self.percent == other.percent && self.part == other.part
    }
}

impl fmt::Display for Tolerance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.percent {
            Some(percent) => write!(f, "± ({percent} % + {})", self.part),
            None => write!(f, "± {}", self.part),
        }
    }
}

impl fmt::Display for TolerancePart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Amount(amount) => write!(f, "{amount}"),
            Self::Percent(number) => write!(f, "{number} %"),
            Self::Digits(number) => write!(f, "{number} digits"),
        }
    }
}

stored!(struct Width { gain, fixed, digits });
stored!(struct Meter { kind, width });

#[cfg(test)]
mod tests {
    use super::*;

    fn meter(text: &str, kind: Kind) -> Width {
        Meter::parse(text, kind).unwrap().width()
    }

    fn fault(text: &str, kind: Kind) -> QuantityFault {
        Meter::parse(text, kind).unwrap_err().fault().clone()
    }

    #[test]
    fn each_form_of_tolerance() {
        let plain = |gain, fixed, digits| Width {
            gain,
            fixed,
            digits,
        };
        assert_eq!(
            meter("± (0.5 % + 2 digits)", Kind::Voltage),
            plain(0.005, 0.0, 2.0)
        );
        assert_eq!(
            meter("±(0.5%+1 digit)", Kind::Voltage),
            plain(0.005, 0.0, 1.0)
        );
        assert_eq!(meter("+/- 1 %", Kind::Voltage), plain(0.01, 0.0, 0.0));
        assert_eq!(meter(" ± 20 mV ", Kind::Voltage), plain(0.0, 0.02, 0.0));
        assert_eq!(meter("± (1 % + 1 %)", Kind::Voltage), plain(0.02, 0.0, 0.0));
        assert_eq!(
            meter("± (1 % + 0.1 ohm)", Kind::Resistance),
            plain(0.01, 0.1, 0.0)
        );
        assert_eq!(meter("± 2 K", Kind::Temperature), plain(0.0, 2.0, 0.0));
        assert_eq!(meter("± 2 degC", Kind::Temperature), plain(0.0, 2.0, 0.0));
    }

    #[test]
    fn percentages_of_a_ratio_are_points() {
        assert_eq!(
            meter("± 1 %", Kind::Ratio),
            Width {
                gain: 0.0,
                fixed: 0.01,
                digits: 0.0
            }
        );
        let both = meter("± (1 % + 0.02)", Kind::Ratio);
        assert!((both.half(0.5, 1.0) - 0.03).abs() < 1e-15);
    }

    #[test]
    fn digits_are_worth_the_last_place() {
        let width = meter("± (0.5 % + 2 digits)", Kind::Voltage);
        assert!((width.half(-4.0, 0.01) - 0.04).abs() < 1e-15);
        assert!((width.fixed(0.001) - 0.002).abs() < 1e-15);
    }

    #[test]
    fn faults() {
        assert!(matches!(
            fault("20 mV", Kind::Voltage),
            QuantityFault::NotATolerance { .. }
        ));
        assert!(matches!(
            fault("± 2 digits", Kind::Voltage),
            QuantityFault::NotATolerance { .. }
        ));
        assert!(matches!(
            fault("± (2 digits + 0.5 %)", Kind::Voltage),
            QuantityFault::NotATolerance { .. }
        ));
        assert!(matches!(
            fault("± (0.5 % + 2 digits", Kind::Voltage),
            QuantityFault::NotATolerance { .. }
        ));
        assert!(matches!(
            fault("± -20 mV", Kind::Voltage),
            QuantityFault::NegativeTolerance { .. }
        ));
        assert!(matches!(
            fault("± (0.5 % + -2 digits)", Kind::Voltage),
            QuantityFault::NegativeTolerance { .. }
        ));
        assert!(matches!(
            fault("± 20 mA", Kind::Voltage),
            QuantityFault::WrongKind { .. }
        ));
        assert!(matches!(
            fault("± 2 degC", Kind::Voltage),
            QuantityFault::WrongKind { .. }
        ));
        assert!(matches!(
            fault("± 2 V", Kind::Temperature),
            QuantityFault::WrongKind { .. }
        ));
        assert!(matches!(
            fault("± 20", Kind::Voltage),
            QuantityFault::MissingUnit { .. }
        ));
        assert!(matches!(
            fault("± 1 %", Kind::Temperature),
            QuantityFault::RelativeTemperature
        ));
        assert!(matches!(
            fault("± 1", Kind::Count),
            QuantityFault::ToleranceOnCount
        ));
        assert!(matches!(
            fault("± 1e400 V", Kind::Voltage),
            QuantityFault::NotFinite { .. }
        ));
        assert!(matches!(fault("±", Kind::Voltage), QuantityFault::Empty));
    }

    #[test]
    fn prints_so_that_it_reads_back() {
        for text in [
            "± (0.5 % + 2 digits)",
            "± 1 %",
            "± 20 mV",
            "± (0.50 % + 10 mV)",
            "± 0.1",
        ] {
            assert_eq!(Tolerance::parse(text).unwrap().to_string(), text);
        }
    }
}
