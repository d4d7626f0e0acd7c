//! The decimal digits of a double: rounded by arithmetic where that surely gives the digits of the
//! exact value, which is nearly always, else by writing them out.

use std::fmt;

use super::interval::close;
use super::number::{plain, scientific};

/// The powers of ten that are doubles exactly.
const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// The doubles nearest to 0.1, 0.01 and so on.
const PARTS: [f64; 12] = [
    1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11, 1e-12,
];

/// A power of ten that is a double exactly.
fn power(exponent: i32) -> Option<f64> {
    POWERS.get(usize::try_from(exponent).ok()?).copied()
}

/// The power of ten of the first significant digit; 0 for what has none.
pub(super) fn magnitude(value: f64) -> i32 {
    let size = value.abs();
    let above = POWERS.partition_point(|power| *power <= size);
    let below = PARTS.partition_point(|part| *part > size);
    let found = match (above, below) {
        // The shortest digits of a double below a power of ten, or below the double nearest to it,
        // are below that power too.
        (0, below) if size > 0.0 && below < PARTS.len() => {
            i32::try_from(below).map(|below| -1 - below)
        }
        (1.., _) if above < POWERS.len() => i32::try_from(above).map(|above| above - 1),
        _ => return parts(&format!("{value:e}")).map_or(0, |(_, exponent)| exponent),
    };
    found.unwrap_or(0)
}

/// The digits and the exponent of a number in scientific notation.
fn parts(scientific: &str) -> Option<(String, i32)> {
    let (digits, exponent) = scientific.split_once('e')?;
    Some((digits.replace('.', ""), exponent.parse().ok()?))
}

/// The value counted in units of a decimal place.
pub(super) fn in_places(value: f64, place: i32) -> f64 {
    let power =
        power(place.saturating_abs()).unwrap_or_else(|| 10_f64.powi(place.saturating_abs()));
    if place < 0 {
        value * power
    } else {
        value / power
    }
}

/// Which way to round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rounding {
    Below,
    Nearest,
    Above,
}

/// A decimal: `units` × 10^`place`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Decimal {
    units: i64,
    place: i32,
}

/// Digits that arithmetic rounds: it is off by less than [`UNSURE`] units of the last of them.
const MOST_DIGITS: usize = 9;
/// Halves of a unit that are closer than this are not told from others by arithmetic.
const UNSURE: f64 = 1e-6;

impl Decimal {
    pub(super) const ZERO: Self = Self { units: 0, place: 0 };

    /// The value to nine significant digits, without zeros at the end.
    pub(super) fn nine_digits(value: f64, rounding: Rounding) -> Self {
        let Some(rounded) = Self::rounded(value, 9) else {
            return Self { units: 0, place: 0 };
        };
        let units = rounded.units + rounded.outward(value, rounding);
        Self { units, ..rounded }.trimmed()
    }

    /// The unit that is missing to a bound of the value, where rounding to the nearest went inward.
    fn outward(self, value: f64, rounding: Rounding) -> i64 {
        if rounding == Rounding::Nearest {
            return 0;
        }
        let rounded = self.nearest().unwrap_or(value);
        match rounding {
            Rounding::Below if rounded > value && !close(rounded, value) => -1,
            Rounding::Above if rounded < value && !close(rounded, value) => 1,
            _ => 0,
        }
    }

    /// The exact value to the nearest of so many significant digits; none of what is no number.
    fn rounded(value: f64, digits: usize) -> Option<Self> {
        let digits = digits.max(1);
        Self::by_arithmetic(value, digits).or_else(|| Self::by_writing(value, digits))
    }

    fn by_arithmetic(value: f64, digits: usize) -> Option<Self> {
        if value == 0.0 || digits > MOST_DIGITS {
            return None;
        }
        let digits = u32::try_from(digits).ok()?;
        let place = magnitude(value) + 1 - i32::try_from(digits).ok()?;
        let scaled = match power(place.checked_abs()?)? {
            power if place < 0 => value * power,
            power => value / power,
        };
        let nearest = scaled.round();
        let is_sure = (scaled - nearest).abs() < 0.5 - UNSURE;
        if !is_sure {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, reason = "it has ten digits at most")]
        let units = nearest as i64;
        Some(if units.unsigned_abs() == 10_u64.pow(digits) {
            Self {
                units: units / 10,
                place: place + 1,
            }
        } else {
            Self { units, place }
        })
    }

    fn by_writing(value: f64, digits: usize) -> Option<Self> {
        let last = digits - 1;
        let (digits, exponent) = parts(&format!("{value:.last$e}"))?;
        Some(Self {
            units: digits.parse().ok()?,
            place: exponent - i32::try_from(last).ok()?,
        })
    }

    /// The nearest double.
    fn nearest(self) -> Option<f64> {
        self.of_exact_parts()
            .or_else(|| format!("{}e{}", self.units, self.place).parse().ok())
    }

    /// The product or quotient of two doubles that are exact, which is rounded once.
    fn of_exact_parts(self) -> Option<f64> {
        const EXACT: u64 = 1 << 53;
        let power = power(self.place.checked_abs()?)?;
        if self.units.unsigned_abs() > EXACT {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "they are below 2^53")]
        let units = self.units as f64;
        Some(if self.place < 0 {
            units / power
        } else {
            units * power
        })
    }

    /// Two numbers of units of a place, without the last zero if both have one.
    pub(super) fn without_common_zero(one: f64, other: f64, place: i32) -> (Self, Self) {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "both are whole and below 9e15"
        )]
        let (one, other) = (one as i64, other as i64);
        if one % 10 == 0 && other % 10 == 0 {
            return (
                Self {
                    units: one / 10,
                    place: place + 1,
                },
                Self {
                    units: other / 10,
                    place: place + 1,
                },
            );
        }
        (
            Self { units: one, place },
            Self {
                units: other,
                place,
            },
        )
    }

    fn trimmed(self) -> Self {
        let Self {
            mut units,
            mut place,
        } = self;
        while units != 0 && units % 10 == 0 {
            units /= 10;
            place += 1;
        }
        if units == 0 {
            Self { units, place: 0 }
        } else {
            Self { units, place }
        }
    }

    /// The size as a whole number, of places before the point.
    fn raised(self) -> Option<u64> {
        let power = 10_u64.checked_pow(u32::try_from(self.place).ok()?)?;
        self.units.unsigned_abs().checked_mul(power)
    }

    /// How many digits stand after the point; none of too many, and of places before the point.
    fn decimals(self) -> Option<usize> {
        const MOST: usize = 19;
        let decimals = usize::try_from(self.place.checked_neg()?).ok()?;
        (decimals <= MOST).then_some(decimals)
    }
}

/// The nearest double to a number of so many significant digits.
pub(crate) fn significant(value: f64, digits: usize) -> f64 {
    if value == 0.0 {
        return value;
    }
    Decimal::rounded(value, digits)
        .and_then(Decimal::nearest)
        .unwrap_or(value)
}

impl Decimal {
    /// To so many significant digits of these, without zeros at the end; none of zero.
    pub(super) fn shortened(self, digits: usize) -> Option<Self> {
        let value = self.nearest().filter(|value| *value != 0.0)?;
        Some(Self::rounded(value, digits)?.trimmed())
    }

    /// Whether it is written without an exponent: from a millionth up to a thousand million million.
    pub(super) fn is_plain(self) -> bool {
        let size = self.units.unsigned_abs();
        let last = size.checked_ilog10().map_or(Ok(0), i32::try_from);
        size == 0 || (-6..15).contains(&(last.unwrap_or(0) + self.place))
    }

    pub(super) fn write_to(self, out: &mut impl fmt::Write) -> fmt::Result {
        let size = self.units.unsigned_abs();
        let is_plain = self.is_plain();
        let sign = if self.units < 0 { "-" } else { "" };
        match self.decimals().filter(|_| is_plain) {
            Some(decimals) => {
                out.write_str(sign)?;
                write_plain(size, decimals, out)
            }
            None if size == 0 && self.place > 0 => out.write_str("0"),
            None if is_plain => {
                out.write_str(sign)?;
                match self.raised() {
                    Some(whole) => write_plain(whole, 0, out),
                    None => out.write_str(&plain(&size.to_string(), self.place)),
                }
            }
            None => write!(out, "{sign}{}", scientific(&size.to_string(), self.place)),
        }
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write_to(f)
    }
}

/// A number of units with so many of its digits after a point: at most nineteen.
fn write_plain(units: u64, decimals: usize, out: &mut impl fmt::Write) -> fmt::Result {
    const MOST: usize = 24;
    let (mut text, mut start, mut rest) = ([b'0'; MOST], MOST, units);
    while rest > 0 || MOST - start <= decimals + usize::from(decimals > 0) {
        start -= 1;
        let Some(place) = text.get_mut(start) else {
            break;
        };
        if MOST - 1 - start == decimals && decimals > 0 {
            *place = b'.';
            continue;
        }
        *place += u8::try_from(rest % 10).unwrap_or(0);
        rest /= 10;
    }
    out.write_str(std::str::from_utf8(text.get(start..).unwrap_or_default()).unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers of all sizes, and those at and beside powers of ten, halves of a last place and the
    /// ends of the doubles.
    fn numbers() -> impl Iterator<Item = f64> {
        let bits = (1_u64..20_000).map(|at| f64::from_bits(at.wrapping_mul(0x9e37_79b9_7f4a_7c15)));
        let short = (1_i32..40_000).flat_map(|at| {
            let at = f64::from(at);
            [at / 8.0, at / 1000.0, at * 1e-9, at * 12_345.678_905]
        });
        let powers = (-30..30).map(|at| format!("1e{at}").parse().expect("a number"));
        let halves = (1_u32..2_000).map(|at| f64::from(at) + 0.000_000_5 + 123_456.0);
        let plain = bits.chain(short).chain(powers).chain(halves);
        let plain = plain.filter(|one: &f64| !one.is_nan());
        let near = plain.flat_map(|one: f64| [one, one.next_up(), one.next_down(), -one]);
        let ends = [
            0.0,
            -0.0,
            f64::MIN_POSITIVE,
            f64::MAX,
            f64::INFINITY,
            f64::NAN,
        ];
        near.chain(ends)
    }

    /// The standard library writes the exact value, rounded once.
    #[test]
    fn digits_are_those_of_the_exact_value() {
        for value in numbers() {
            for digits in [1, 3, 4, 9, 12, 17] {
                let written = format!("{value:.*e}", digits - 1);
                let read: f64 = written.parse().expect("a number");
                let found = significant(value, digits);
                assert_eq!(found.to_bits(), read.to_bits(), "{value:e} to {written}");
            }
        }
    }

    #[test]
    fn the_first_digit_is_that_of_the_shortest_text() {
        for value in numbers() {
            let written = format!("{value:e}");
            let exponent = written.split_once('e').map(|(_, exponent)| exponent);
            let exponent = exponent.map_or(0, |exponent| exponent.parse().expect("a number"));
            assert_eq!(magnitude(value), exponent, "{written}");
        }
    }

    /// Nine digits with zeros at the end left out, read again, are the value to nine digits.
    #[test]
    fn what_is_printed_is_read_again() {
        let numbers = numbers().filter(|value| value.is_finite() && *value != 0.0);
        for value in numbers {
            let printed = Decimal::nine_digits(value, Rounding::Nearest).to_string();
            let read: f64 = printed.parse().expect("a number");
            let rounded = significant(value, 9);
            assert_eq!(read.to_bits(), rounded.to_bits(), "{value:e} as {printed}");
        }
    }

    #[test]
    fn the_point_stands_where_it_belongs() {
        let shown = |units, place| Decimal { units, place }.to_string();
        assert_eq!(shown(25, -1), "2.5");
        assert_eq!(shown(-205, -2), "-2.05");
        assert_eq!(shown(5, -3), "0.005");
        assert_eq!(shown(5, -6), "0.000005");
        assert_eq!(shown(5, -7), "5e-7");
        assert_eq!(shown(123_456_789, -14), "0.00000123456789");
        assert_eq!(shown(2, 3), "2000");
        assert_eq!(shown(12, 13), "120000000000000");
        assert_eq!(shown(12, 14), "1.2e15");
        assert_eq!(
            (shown(0, 2), shown(0, -2)),
            ("0".to_owned(), "0.00".to_owned())
        );
    }
}
