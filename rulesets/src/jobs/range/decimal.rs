//! Decimal numbers, counted in whole units of a decimal place: so that the ends of pieces are what is
//! printed, to the last digit.

use rules_core::report::significant;

/// Digits of an end, or of a resolution.
const DIGITS: usize = 9;

/// A decimal number: `units` × 10^`place`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Decimal {
    pub units: i64,
    pub place: i32,
}

impl Decimal {
    /// A number to nine digits, without zeros at the end; none of what is not finite.
    pub(super) fn of(value: f64) -> Option<Self> {
        Self::rounded(value, DIGITS)
    }

    fn rounded(value: f64, digits: usize) -> Option<Self> {
        // The shortest text of what is rounded has the digits that it is rounded to, and no zeros
        // after them.
        let text = format!("{:e}", significant(value, digits));
        let (mantissa, exponent) = text.split_once('e')?;
        let places = mantissa.split_once('.').map_or(0, |(_, after)| after.len());
        let units = mantissa.replace('.', "").parse().ok()?;
        let place = exponent.parse::<i32>().ok()? - i32::try_from(places).ok()?;
        Some(Self { units, place })
    }

    /// The next of 1, 2, 5, 10 and so on that is no less; none of what is not above zero.
    pub(super) fn round_step(least: f64) -> Option<Self> {
        let first = Self::rounded(least, 1).filter(|one| one.units > 0)?;
        let steps = [(1, 0), (2, 0), (5, 0), (1, 1), (2, 1)];
        let place = first.place;
        let mut steps = steps.map(|(units, more)| Self {
            units,
            place: place + more,
        });
        steps.sort_by(|one, other| one.value().total_cmp(&other.value()));
        let is_enough = |one: &Self| one.value() * (1.0 + 1e-9) >= least;
        steps.into_iter().find(is_enough)
    }

    /// The number in units of a place; none if it does not go into them, or is too large.
    pub(super) fn in_places(self, place: i32) -> Option<i64> {
        let more = u32::try_from(self.place - place).ok()?;
        self.units.checked_mul(10_i64.checked_pow(more)?)
    }

    /// As a double, as it would be read.
    pub(super) fn value(self) -> f64 {
        self.text().parse().unwrap_or(f64::NAN)
    }

    /// Plain digits, as many after the point as its place has.
    pub(super) fn text(self) -> String {
        let sign = if self.units < 0 { "-" } else { "" };
        let digits = self.units.unsigned_abs().to_string();
        let Ok(after) = usize::try_from(-self.place) else {
            let zeros = usize::try_from(self.place).unwrap_or(0);
            let zeros = if self.units == 0 { 0 } else { zeros };
            return format!("{sign}{digits}{}", "0".repeat(zeros));
        };
        if after == 0 {
            return format!("{sign}{digits}");
        }
        let padded = format!("{digits:0>width$}", width = after + 1);
        let (whole, part) = padded.split_at(padded.len() - after);
        format!("{sign}{whole}.{part}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(units: i64, place: i32) -> Decimal {
        Decimal { units, place }
    }

    #[test]
    fn numbers_are_read_and_written_alike() {
        let table = [
            (0.7, decimal(7, -1), "0.7"),
            (-12.5, decimal(-125, -1), "-12.5"),
            (0.0, decimal(0, 0), "0"),
            (1200.0, decimal(12, 2), "1200"),
            (0.001, decimal(1, -3), "0.001"),
            (0.1 + 0.2, decimal(3, -1), "0.3"),
        ];
        for (value, number, text) in table {
            assert_eq!(Decimal::of(value), Some(number));
            assert_eq!(number.text(), text);
        }
        assert_eq!(decimal(160, -2).text(), "1.60");
        assert_eq!(Decimal::of(f64::INFINITY), None);
    }

    #[test]
    fn steps_are_round_and_no_less() {
        let table = [
            (0.0525, decimal(1, -1)),
            (0.05, decimal(5, -2)),
            (0.02, decimal(2, -2)),
            (0.011, decimal(2, -2)),
            (1.0, decimal(1, 0)),
            (0.96, decimal(1, 0)),
            (3.0, decimal(5, 0)),
        ];
        for (least, step) in table {
            assert_eq!(
                Decimal::round_step(least).map(Decimal::value),
                Some(step.value()),
                "{least}"
            );
        }
        assert_eq!(Decimal::round_step(0.0), None);
    }

    #[test]
    fn places_are_exact_or_none() {
        assert_eq!(decimal(7, -1).in_places(-3), Some(700));
        assert_eq!(decimal(7, -3).in_places(-1), None);
        assert_eq!(decimal(7, 18).in_places(0), Some(7_000_000_000_000_000_000));
        assert_eq!(decimal(7, 19).in_places(0), None);
    }
}
