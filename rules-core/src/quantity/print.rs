//! Printing values: in which unit, in which form, and with how many digits.

use std::fmt;

use super::decimal::{Decimal, Rounding, in_places, magnitude};
use super::interval::close;
use super::{Interval, Kind, Measure, Unit};

/// Rounding outward leaves this part of the last printed place aside, so that a bound such as 3.6
/// that is held a last bit lower is not printed as 3.59.
const SLACK: f64 = 1e-6;

/// A nominal value this close to the middle, as part of the half width, is printed with `±`.
const NEAR_MIDDLE: f64 = 0.05;

/// An interval round zero that is narrower than this, in base units, came about by rounding and is
/// printed as 0.
const ROUNDING_NOISE: f64 = 1e-12;

/// Larger numbers of units of the last place are beyond what doubles tell apart.
const MOST_UNITS: f64 = 9e15;

/// Room for the texts of nearly all values.
const USUAL_LENGTH: usize = 32;

/// A value ready to print, as `2.5 V`, `3.87 V ± 0.03 V`, `3.60..3.82 V`, `at least 3 V` or
/// `unknown`.
///
/// An exact value has at most nine significant digits. An uncertainty has two, rounded up, or one
/// if that says it all; the value has the same last place. Ranges and bounds are rounded outward.
#[derive(Clone, Copy, Debug)]
pub struct Shown {
    range: Interval,
    nominal: f64,
    kind: Kind,
    unit: Option<Unit>,
    as_range: bool,
}

impl Measure {
    /// The value ready to print in the unit that suits its kind and size.
    #[must_use]
    pub fn shown(self, kind: Kind) -> Shown {
        Shown {
            range: self.range(),
            nominal: self.nominal(),
            kind,
            unit: self.shown_in(kind),
            as_range: false,
        }
    }

    /// The unit that suits its kind and size; none for a count.
    #[must_use]
    pub fn shown_in(self, kind: Kind) -> Option<Unit> {
        Unit::parse(usual_unit(kind, largest_finite(self.range())))
    }
}

impl Shown {
    /// The same in this unit. A unit that does not suit the kind is left aside.
    #[must_use]
    pub fn in_unit(self, unit: Unit) -> Self {
        let unit = if unit.suits(self.kind) {
            Some(unit)
        } else {
            self.unit
        };
        Self { unit, ..self }
    }

    /// The same as a range from end to end, as for a domain, that has no likeliest value.
    #[must_use]
    pub fn as_range(self) -> Self {
        Self {
            as_range: true,
            ..self
        }
    }

    /// A value in base units, in the unit that is printed.
    fn converted(&self, value: f64) -> f64 {
        let from_zero_kelvin =
            self.kind == Kind::Temperature && self.unit.is_some_and(Unit::is_kelvin);
        let value = if from_zero_kelvin {
            value + 273.15
        } else {
            value
        };
        self.unit.map_or(value, |unit| unit.from_base(value))
    }

    /// As a text.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::with_capacity(USUAL_LENGTH);
        // A text takes all that is written.
        let _ = self.write(&mut text);
        text
    }

    /// A number with the unit after it.
    fn with_unit(&self, number: Decimal, out: &mut impl fmt::Write) -> fmt::Result {
        number.write_to(out)?;
        let Some(unit) = self.unit else {
            return Ok(());
        };
        out.write_str(" ")?;
        unit.write_to(out)
    }

    fn write(&self, out: &mut impl fmt::Write) -> fmt::Result {
        let (lo, hi) = (
            self.converted(self.range.lo()),
            self.converted(self.range.hi()),
        );
        match (lo.is_finite(), hi.is_finite()) {
            (false, false) => out.write_str("unknown"),
            (true, false) => {
                out.write_str("at least ")?;
                self.with_unit(Decimal::nine_digits(lo, Rounding::Below), out)
            }
            (false, true) => {
                out.write_str("at most ")?;
                self.with_unit(Decimal::nine_digits(hi, Rounding::Above), out)
            }
            (true, true) => self.bounded(lo, hi, out),
        }
    }

    fn bounded(&self, lo: f64, hi: f64, out: &mut impl fmt::Write) -> fmt::Result {
        let nominal = self.converted(self.nominal);
        let is_noise = self.range.contains(0.0) && self.range.width() < ROUNDING_NOISE;
        if is_noise {
            self.with_unit(Decimal::ZERO, out)
        } else if self.range.is_single() {
            self.with_unit(Decimal::nine_digits(nominal, Rounding::Nearest), out)
        } else if !self.as_range
            && self.kind != Kind::Count
            && (nominal - lo.midpoint(hi)).abs() <= NEAR_MIDDLE * (hi - lo) / 2.0
        {
            self.plus_minus(nominal, lo, hi, out)
        } else {
            self.span(lo, hi, out)
        }
    }

    /// The value and its uncertainty, which covers the interval from the value as printed.
    fn plus_minus(&self, nominal: f64, lo: f64, hi: f64, out: &mut impl fmt::Write) -> fmt::Result {
        let finest = magnitude((hi - lo) / 2.0) - 1;
        // Rounding up can carry to a third digit; one place less gives two again.
        let found = (finest..finest + 3).find_map(|place| {
            let value = in_places(nominal, place).round();
            let reach = (in_places(hi, place) - value).max(value - in_places(lo, place));
            let width = (reach - SLACK).ceil();
            (width < 100.0).then_some((value, width, place))
        });
        let Some((value, width, place)) = found.filter(|(value, ..)| value.abs() < MOST_UNITS)
        else {
            return self.span(lo, hi, out);
        };
        let (value, width) = Decimal::without_common_zero(value, width, place);
        self.with_unit(value, out)?;
        out.write_str(" ± ")?;
        match self.unit {
            Some(unit) if unit.is_celsius() => {
                width.write_to(out)?;
                out.write_str(" K")
            }
            _ => self.with_unit(width, out),
        }
    }

    /// The ends, rounded outward to two digits of their distance.
    fn span(&self, lo: f64, hi: f64, out: &mut impl fmt::Write) -> fmt::Result {
        let place = magnitude(hi - lo) - 1;
        let low = (in_places(lo, place) + SLACK).floor();
        let high = (in_places(hi, place) - SLACK).ceil();
        let (low, high) = if !self.as_range && low.abs().max(high.abs()) < MOST_UNITS {
            Decimal::without_common_zero(low, high, place)
        } else {
            (
                Decimal::nine_digits(lo, Rounding::Below),
                Decimal::nine_digits(hi, Rounding::Above),
            )
        };
        match self.low_in_its_own_unit() {
            Some(own) => own.write(out)?,
            None => low.write_to(out)?,
        }
        out.write_str("..")?;
        self.with_unit(high, out)
    }

    /// The lower end with its unit, where that of the upper end would hide it, as it hides a second in days.
    fn low_in_its_own_unit(&self) -> Option<Self> {
        let low = self.range.lo();
        let own = Measure::exact(low);
        let is_other = own.shown_in(self.kind) != self.unit;
        let is_hidden = self.as_range && self.kind == Kind::Time && low != 0.0 && is_other;
        is_hidden.then(|| own.shown(self.kind))
    }

    /// An exact number with so many significant digits of those that are shown of it; none where
    /// these are no plain decimal.
    #[must_use]
    pub(crate) fn in_few_digits(&self, digits: usize) -> Option<String> {
        let nominal = self.converted(self.nominal);
        if !self.range.is_point() || self.nominal == 0.0 || !nominal.is_finite() {
            return None;
        }
        let shown = Decimal::nine_digits(nominal, Rounding::Nearest);
        let few = shown.shortened(digits).filter(|few| few.is_plain())?;
        let mut text = String::with_capacity(USUAL_LENGTH);
        self.with_unit(few, &mut text).ok().map(|()| text)
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if f.width().is_some() || f.precision().is_some() {
            return f.pad(&self.text());
        }
        self.write(f)
    }
}

/// The unit for a value of this kind and size in base units; nothing for a count.
fn usual_unit(kind: Kind, size: f64) -> &'static str {
    let below = |bound: f64| 0.0 < size && size < bound && !close(size, bound);
    match kind {
        Kind::Voltage if below(0.1) => "mV",
        Kind::Voltage => "V",
        Kind::Current if below(0.1) => "mA",
        Kind::Current => "A",
        Kind::Charge if below(10.0) => "mAh",
        Kind::Charge => "Ah",
        Kind::Resistance if below(1.0) => "mΩ",
        Kind::Resistance => "Ω",
        Kind::Power => "W",
        Kind::Energy => "Wh",
        Kind::Temperature => "degC",
        Kind::TemperatureDifference => "K",
        Kind::Time if below(1.0 / 30.0) => "s",
        Kind::Time if below(2.0) => "min",
        Kind::Time if below(48.0) || size <= 0.0 => "h",
        Kind::Time => "d",
        Kind::Length => "mm",
        Kind::Ratio => "%",
        Kind::Rate => "C",
        Kind::Drift => "mV/d",
        Kind::Count => "",
    }
}

/// The size of the end farthest from zero, infinities left out.
fn largest_finite(range: Interval) -> f64 {
    [range.lo(), range.hi()]
        .into_iter()
        .filter(|end| end.is_finite())
        .fold(0.0, |size, end| size.max(end.abs()))
}
