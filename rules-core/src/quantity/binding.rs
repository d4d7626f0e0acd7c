//! From the text of a quantity to a value of a kind.

use super::amount::Amount;
use super::bare::BareReading;
use super::tolerance::Tolerance;
use super::written::WrittenForm;
use super::{Interval, Kind, Measure, Meter, Quantity, QuantityError, QuantityFault, Unit};
use crate::snapshot::stored;

/// How a value came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Nature {
    /// Read from an instrument: without a tolerance it is as good as its meter and its digits.
    Measured,
    /// Read off a label: without a tolerance it is as good as its digits.
    Printed,
    /// Set, rated or chosen: without a tolerance it is exact.
    Stated,
}

impl Nature {
    /// The word in lists and reports.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Printed => "printed",
            Self::Stated => "stated",
        }
    }
}

/// Absolute zero is this many hundredths of a degree below 0 °C (SI Brochure, BIPM, 9th edition,
/// section 2.3.1).
const ZERO_CELSIUS: i32 = 27_315;

/// Doubles below this size hold every whole number exactly.
const LARGEST_WHOLE: f64 = 9_007_199_254_740_992.0;

impl Quantity {
    /// The value as one of a kind, in base units. The meter counts for a measured value without a
    /// tolerance of its own. A meter of another kind is ignored.
    ///
    /// # Errors
    /// If the unit is missing or of another kind, if the value or a tolerance is not finite, a
    /// tolerance is negative or a range starts above its end, and for a count that is not whole or
    /// has a tolerance.
    pub fn measure(
        &self,
        kind: Kind,
        nature: Nature,
        meter: Option<&Meter>,
    ) -> Result<Measure, QuantityError> {
        let measure = match &self.form {
            WrittenForm::Range(low, high) => range(low, high, kind),
            WrittenForm::Amount(amount, Some(tolerance)) => with_tolerance(amount, tolerance, kind),
            WrittenForm::Amount(amount, None) => amount.measure(kind, nature, meter),
        };
        measure.map_err(|error| error.expecting(kind))
    }

    /// Reads the text as a quantity of a kind, as [`Quantity::parse`] and [`Quantity::measure`]
    /// together.
    ///
    /// # Errors
    /// Those of both, with help for the kind.
    pub fn read(
        text: &str,
        kind: Kind,
        nature: Nature,
        meter: Option<&Meter>,
    ) -> Result<Measure, QuantityError> {
        Self::read_with_unit(text, kind, nature, meter).map(|(measure, _)| measure)
    }

    /// The same, with the unit that the text has, as [`Quantity::unit`] gives it.
    ///
    /// # Errors
    /// Those of [`Quantity::read`].
    pub fn read_with_unit(
        text: &str,
        kind: Kind,
        nature: Nature,
        meter: Option<&Meter>,
    ) -> Result<(Measure, Option<Unit>), QuantityError> {
        // Nearly every text is plain, and of that no quantity need be made.
        let read = match Amount::plain(text) {
            Some(amount) => amount
                .measure(kind, nature, meter)
                .map(|measure| (measure, amount.unit)),
            None => Self::parse_whole(text)
                .and_then(|quantity| Ok((quantity.measure(kind, nature, meter)?, quantity.unit()))),
        };
        read.map_err(|error| error.expecting(kind))
    }
}

fn range(low: &Amount, high: &Amount, kind: Kind) -> Result<Measure, QuantityError> {
    let wrong_way = || {
        let fault = QuantityFault::LowAboveHigh {
            low: low.to_string(),
            high: high.to_string(),
        };
        QuantityError::new(fault, low.span.start..high.span.end)
    };
    Interval::new(low.value(kind)?, high.value(kind)?)
        .map(Measure::of)
        .ok_or_else(wrong_way)
}

fn with_tolerance(
    amount: &Amount,
    tolerance: &Tolerance,
    kind: Kind,
) -> Result<Measure, QuantityError> {
    let value = amount.value(kind)?;
    let half = tolerance.bind(kind)?.half(value, amount.one_place());
    Ok(Measure::with_nominal(Interval::around(value, half), value))
}

impl Amount {
    /// The value without a tolerance of its own, as [`Quantity::measure`] takes it.
    fn measure(
        &self,
        kind: Kind,
        nature: Nature,
        meter: Option<&Meter>,
    ) -> Result<Measure, QuantityError> {
        if nature == Nature::Stated || kind == Kind::Count {
            return self.value(kind).map(Measure::exact);
        }
        let reading = self.bare(kind)?;
        Ok(match meter.filter(|meter| meter.kind() == kind) {
            Some(meter) => reading.read_by(meter),
            None => reading.as_written(),
        })
    }

    /// The value in base units of the kind.
    fn value(&self, kind: Kind) -> Result<f64, QuantityError> {
        let value = match self.unit {
            None if kind == Kind::Count => return self.whole(),
            None if kind == Kind::Ratio => self.number.value(0),
            None => return Err(self.missing_unit()),
            Some(unit) if !unit.suits(kind) => return Err(self.wrong_kind(unit, kind)),
            Some(unit) if unit.is_kelvin() && kind == Kind::Temperature => {
                self.number.less_hundredths(ZERO_CELSIUS)
            }
            Some(unit) => unit.scaled(|shift| self.number.value(shift)),
        };
        self.finite(value)
    }

    /// The width of a tolerance in base units of the kind. That of a temperature is in kelvins or
    /// degrees.
    pub(super) fn width(&self, kind: Kind) -> Result<f64, QuantityError> {
        match self.unit {
            Some(unit) if kind == Kind::Temperature && unit.is_celsius() => {
                self.finite(self.number.value(0))
            }
            _ if kind == Kind::Temperature => self.value(Kind::TemperatureDifference),
            _ => self.value(kind),
        }
    }

    /// As a reading of the kind, without a tolerance.
    pub(super) fn bare(&self, kind: Kind) -> Result<BareReading, QuantityError> {
        let value = self.value(kind)?;
        Ok(BareReading::new(value, self.half_place(), self.one_place()))
    }

    fn half_place(&self) -> f64 {
        self.scaled(|shift| self.number.half_place(shift))
    }

    fn one_place(&self) -> f64 {
        self.scaled(|shift| self.number.one_place(shift))
    }

    fn scaled(&self, of_shift: impl Fn(i32) -> f64) -> f64 {
        self.unit
            .map_or_else(|| of_shift(0), |unit| unit.scaled(&of_shift))
    }

    fn whole(&self) -> Result<f64, QuantityError> {
        let value = self.finite(self.number.value(0))?;
        if value.fract() == 0.0 && value.abs() < LARGEST_WHOLE {
            return Ok(value);
        }
        Err(QuantityError::new(
            QuantityFault::NotWhole {
                found: self.to_string(),
            },
            self.span.clone(),
        ))
    }

    fn finite(&self, value: f64) -> Result<f64, QuantityError> {
        let error = || {
            QuantityError::new(
                QuantityFault::NotFinite {
                    found: self.to_string(),
                },
                self.span.clone(),
            )
        };
        if value.is_finite() {
            Ok(value)
        } else {
            Err(error())
        }
    }

    fn wrong_kind(&self, unit: Unit, expected: Kind) -> QuantityError {
        let dimension = unit.dimension();
        let actual = match dimension.kind() {
            Some(kind) if unit.suits(kind) => kind.with_article(),
            _ => format!("in {unit}"),
        };
        let fault = QuantityFault::WrongKind {
            found: self.to_string(),
            actual,
            expected,
        };
        QuantityError::new(fault, self.span.clone())
    }
}

stored!(
    enum Nature {
        Measured,
        Printed,
        Stated,
    }
);
