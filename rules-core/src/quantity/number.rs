//! Decimal numbers as written: their digits, so that the value is rounded once and the last place
//! is known.

use std::fmt;

/// The largest exponent kept. Anything beyond is far outside the doubles either way.
const LARGEST_EXPONENT: i32 = 1_000_000_000;

/// A decimal number as written: `digits` × 10^`place`, where `place` is the last place written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct NumberText {
    negative: bool,
    digits: Digits,
    place: i32,
}

/// The digits of a number, without zeros before them; just one for zero. Few are kept as the whole
/// number they are.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Digits {
    /// At most [`FEW`].
    Few(u64),
    /// More than that.
    Many(String),
}

/// As many digits as a `u64` holds, whatever they are.
const FEW: usize = 19;

impl NumberText {
    /// The number at the start of the text, with the bytes it takes.
    pub(super) fn prefix(text: &str) -> Option<(Self, usize)> {
        let (negative, rest) = sign(text);
        let (whole, rest) = digits(rest);
        if whole.is_empty() {
            return None;
        }
        let (fraction, rest) = fraction(rest);
        let (exponent, rest) = exponent(rest);
        let decimals = i32::try_from(fraction.len()).unwrap_or(LARGEST_EXPONENT);
        let place = (exponent - decimals).clamp(-LARGEST_EXPONENT, LARGEST_EXPONENT);
        let number = Self {
            negative,
            digits: Digits::of(whole, fraction),
            place,
        };
        Some((number, text.len() - rest.len()))
    }

    /// The number at the start of the text, if it is few digits, maybe with a point, and without a
    /// sign; with the bytes it takes. What follows them is not looked at.
    pub(super) fn plain_prefix(text: &str) -> Option<(Self, usize)> {
        let (mut number, mut used, mut point): (u64, usize, Option<usize>) = (0, 0, None);
        for byte in text.bytes().take(FEW) {
            match byte {
                b'0'..=b'9' => number = 10 * number + u64::from(byte - b'0'),
                b'.' if point.is_none() && used > 0 => point = Some(used),
                _ => break,
            }
            used += 1;
        }
        let decimals = point.map_or(0, |point| used - point - 1);
        let ends_well = used > 0 && point != Some(used.wrapping_sub(1));
        let number = Self {
            negative: false,
            digits: Digits::Few(number),
            place: -i32::try_from(decimals).ok()?,
        };
        (ends_well && used < FEW).then_some((number, used))
    }

    /// The number that makes up the whole text.
    pub(super) fn whole(text: &str) -> Option<Self> {
        Self::prefix(text)
            .filter(|(_, used)| *used == text.len())
            .map(|(number, _)| number)
    }

    /// The nearest double to the number times 10^`shift`; infinite beyond the doubles.
    pub(super) fn value(&self, shift: i32) -> f64 {
        let size = self.digits.nearest(self.place.saturating_add(shift));
        if self.negative { -size } else { size }
    }

    /// The nearest double to half a unit of the last place written, times 10^`shift`.
    pub(super) fn half_place(&self, shift: i32) -> f64 {
        Digits::Few(5).nearest(self.place.saturating_add(shift).saturating_sub(1))
    }

    /// The nearest double to one unit of the last place written, times 10^`shift`.
    pub(super) fn one_place(&self, shift: i32) -> f64 {
        Digits::Few(1).nearest(self.place.saturating_add(shift))
    }

    /// The number less so many hundredths, rounded once. Numbers of more than some thirty places
    /// round twice.
    pub(super) fn less_hundredths(&self, hundredths: i32) -> f64 {
        self.exactly_less(hundredths)
            .unwrap_or_else(|| self.value(0) - f64::from(hundredths) / 100.0)
    }

    fn exactly_less(&self, hundredths: i32) -> Option<f64> {
        let place = self.place.min(-2);
        let raise = |power: i32| {
            u32::try_from(power)
                .ok()
                .and_then(|power| 10_i128.checked_pow(power))
        };
        let size = self
            .digits
            .whole()?
            .checked_mul(raise(self.place - place)?)?;
        let taken = i128::from(hundredths).checked_mul(raise(-2 - place)?)?;
        let rest = if self.negative { -size } else { size }.checked_sub(taken)?;
        Some(nearest(&rest.to_string(), place))
    }
}

impl Digits {
    /// The digits of both parts of a number.
    fn of(whole: &str, fraction: &str) -> Self {
        let whole = without_zeros(whole);
        let fraction = if whole.is_empty() {
            without_zeros(fraction)
        } else {
            fraction
        };
        if whole.len() + fraction.len() > FEW {
            return Self::Many([whole, fraction].concat());
        }
        let digits = whole.bytes().chain(fraction.bytes());
        Self::Few(digits.fold(0, |number, digit| 10 * number + u64::from(digit - b'0')))
    }

    fn text(&self) -> String {
        match self {
            Self::Few(number) => number.to_string(),
            Self::Many(text) => text.clone(),
        }
    }

    /// The digits as a whole number, if it is not too large.
    fn whole(&self) -> Option<i128> {
        match self {
            Self::Few(number) => Some(i128::from(*number)),
            Self::Many(text) => text.parse().ok(),
        }
    }

    /// The nearest double to these digits × 10^`place`.
    fn nearest(&self, place: i32) -> f64 {
        match self {
            Self::Few(number) => {
                rounded_once(*number, place).unwrap_or_else(|| nearest(&number.to_string(), place))
            }
            Self::Many(text) => nearest(text, place),
        }
    }
}

/// The nearest double to `digits` × 10^`place`.
fn nearest(digits: &str, place: i32) -> f64 {
    // Digits, `e` and an integer always parse; too large gives infinity, too small gives 0.
    format!("{digits}e{place}").parse().unwrap_or(f64::INFINITY)
}

/// The powers of ten that doubles hold exactly.
const EXACT_POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// The same without a text, where doubles hold the digits and the power of ten exactly: the one
/// product or quotient rounds once (Clinger, How to Read Floating Point Numbers Accurately, 1990;
/// from memory).
fn rounded_once(digits: u64, place: i32) -> Option<f64> {
    const EXACT_BELOW: u64 = 1 << 53;
    let power = EXACT_POWERS
        .get(usize::try_from(place.unsigned_abs()).ok()?)
        .filter(|_| digits < EXACT_BELOW)?;
    #[expect(clippy::cast_precision_loss, reason = "it is below 2^53")]
    let size = digits as f64;
    Some(if place < 0 {
        size / power
    } else {
        size * power
    })
}

/// A sign, if there is one. U+2212 is the typographic minus.
fn sign(text: &str) -> (bool, &str) {
    match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    }
}

/// Digits without zeros before them.
fn without_zeros(digits: &str) -> &str {
    let zeros = digits.bytes().take_while(|digit| *digit == b'0').count();
    digits.get(zeros..).unwrap_or_default()
}

fn digits(text: &str) -> (&str, &str) {
    let end = text.bytes().take_while(u8::is_ascii_digit).count();
    text.split_at_checked(end).unwrap_or((text, ""))
}

fn fraction(text: &str) -> (&str, &str) {
    let after = text.strip_prefix('.').map(digits);
    after
        .filter(|(found, _)| !found.is_empty())
        .unwrap_or(("", text))
}

fn exponent(text: &str) -> (i32, &str) {
    let Some(after) = text.strip_prefix(['e', 'E']) else {
        return (0, text);
    };
    let (negative, rest) = sign(after);
    let (found, rest) = digits(rest);
    if found.is_empty() {
        return (0, text);
    }
    let size = found
        .parse::<i32>()
        .unwrap_or(LARGEST_EXPONENT)
        .min(LARGEST_EXPONENT);
    (if negative { -size } else { size }, rest)
}

/// `digits` × 10^`place` without an exponent.
pub(super) fn plain(digits: &str, place: i32) -> String {
    let Ok(decimals) = usize::try_from(place.saturating_neg()) else {
        return format!(
            "{digits}{}",
            "0".repeat(usize::try_from(place).unwrap_or(0))
        );
    };
    if decimals == 0 {
        return digits.to_owned();
    }
    let padded = format!("{digits:0>width$}", width = decimals + 1);
    let point = padded.len() - decimals;
    padded
        .split_at_checked(point)
        .map_or(padded.clone(), |(whole, fraction)| {
            format!("{whole}.{fraction}")
        })
}

/// `digits` × 10^`place` with one digit before the point and an exponent.
pub(super) fn scientific(digits: &str, place: i32) -> String {
    let length = i32::try_from(digits.len()).unwrap_or(LARGEST_EXPONENT);
    let exponent = place.saturating_add(length - 1);
    match digits.split_at_checked(1) {
        // Past the largest exponent the point stays after the last digit, so that the same is read
        // again.
        _ if exponent > LARGEST_EXPONENT => format!("{digits}e{place}"),
        Some((first, rest)) if !rest.is_empty() => format!("{first}.{rest}e{exponent}"),
        _ => format!("{digits}e{exponent}"),
    }
}

/// Prints the number so that it reads back with the same digits and last place.
impl fmt::Display for NumberText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.negative { "-" } else { "" };
        let is_plain = (-30..=0).contains(&self.place);
        let digits = self.digits.text();
        let size = if is_plain {
            plain(&digits, self.place)
        } else {
            scientific(&digits, self.place)
        };
        write!(f, "{sign}{size}")
    }
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "these tests are about the last bit")]
mod tests {
    use super::*;

    fn number(text: &str) -> NumberText {
        NumberText::whole(text).unwrap()
    }

    #[test]
    fn the_prefix_is_applied_before_rounding() {
        assert_eq!(number("2310").value(-3), 2.310);
        assert_eq!(number("2.3").value(-3), 0.0023);
        assert_eq!(number("65.0").value(0), 65.0);
        assert_eq!(number("1e3").value(-3), 1.0);
        assert_eq!(number("\u{2212}4.2").value(0), -4.2);
        assert_eq!(number("+4.2").value(0), 4.2);
    }

    #[test]
    fn the_last_place_is_as_written() {
        assert_eq!(number("3.7").half_place(0), 0.05);
        assert_eq!(number("3.71").half_place(0), 0.005);
        assert_eq!(number("3.710").one_place(0), 0.001);
        assert_eq!(number("2310").half_place(-3), 0.0005);
        assert_eq!(number("2.3e3").half_place(0), 50.0);
        assert_eq!(number("0.00").half_place(0), 0.005);
    }

    #[test]
    fn beyond_the_doubles() {
        assert_eq!(number("1e400").value(0), f64::INFINITY);
        assert_eq!(number("1e99999999999999999999").value(0), f64::INFINITY);
        assert_eq!(number("1e-400").value(0), 0.0);
        assert_eq!(number("1.7976931348623157e308").value(0), f64::MAX);
        assert_eq!(number("1.7976931348623157e305").value(3), f64::MAX);
    }

    #[test]
    fn short_numbers_are_rounded_as_the_parser_of_doubles_rounds() {
        let digits = [
            "0",
            "1",
            "5",
            "7",
            "42",
            "3141592653",
            "999999999999999",
            "1234567890123456",
            "9007199254740991",
            "9007199254740992",
            "9007199254740993",
            "1234567890123456789",
            "9999999999999999999",
            "18446744073709551616",
            "12345678901234567890123",
        ];
        for digits in digits {
            for place in -25..=25 {
                let parsed: f64 = format!("{digits}e{place}").parse().unwrap();
                let (digits, _) = NumberText::prefix(digits).unwrap();
                assert_eq!(digits.value(place), parsed, "{digits}e{place}");
            }
        }
        assert!(rounded_once((1 << 53) - 1, -22).is_some() && rounded_once(1 << 53, -22).is_none());
        assert!(
            rounded_once(1, 22).is_some()
                && rounded_once(1, 23).is_none()
                && rounded_once(1, -23).is_none()
        );
    }

    #[test]
    fn takes_only_the_number() {
        assert_eq!(NumberText::prefix("3..4").map(|(_, used)| used), Some(1));
        assert_eq!(
            NumberText::prefix("3.6..3.8").map(|(_, used)| used),
            Some(3)
        );
        assert_eq!(NumberText::prefix("2e V").map(|(_, used)| used), Some(1));
        assert_eq!(NumberText::prefix("2e+3V").map(|(_, used)| used), Some(4));
        for text in ["", ".5", "-", "V", ".nan", "e3"] {
            assert_eq!(NumberText::prefix(text), None, "{text}");
        }
    }

    #[test]
    fn hundredths_are_taken_off_exactly() {
        assert_eq!(number("298.15").less_hundredths(27315), 25.0);
        assert_eq!(number("273.150001").less_hundredths(27315), 1e-6);
        assert_eq!(number("300").less_hundredths(27315), 26.85);
        assert_eq!(number("-1e2").less_hundredths(27315), -373.15);
        assert_eq!(number("1e300").less_hundredths(27315), 1e300);
        // With more places than the exact way takes, it rounds twice and may be a last bit off.
        let long = number(&format!("300.{}", "0".repeat(40)));
        assert!((long.less_hundredths(27315) - 26.85).abs() < 1e-12);
    }

    #[test]
    fn prints_back_the_digits() {
        for text in [
            "3.70", "-0.05", "0.00", "2.3e3", "5e-400", "2310", "1.20e40", "0", "5e2",
        ] {
            assert_eq!(number(text).to_string(), text);
        }
        assert_eq!(number("007.10").to_string(), "7.10");
        assert_eq!(number("23E2").to_string(), "2.3e3");
        for text in [
            "1.5e1000000000",
            "15e1000000000",
            "1.5e99999999999",
            "-2.5e-1000000000",
            "0.0e1000000001",
            "1.25e-99999999999",
        ] {
            assert_eq!(number(&number(text).to_string()), number(text), "{text}");
        }
    }
}
