//! Dimensions: what kinds multiply and divide to.

#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored};

/// The base units that exponents count, in order.
const BASES: [&str; 5] = ["V", "A", "h", "mm", "K"];

/// The largest exponent either way. Formulas of the trade stay under 4.
const LARGEST: i8 = 9;

/// Exponents over volt, ampere, hour, millimetre and kelvin. A temperature on a scale is told apart
/// from a difference of temperatures, because it does not multiply, sum or change sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Dimension {
    exponents: [i8; 5],
    absolute: bool,
}

impl Dimension {
    /// The dimension of a plain number.
    pub const NONE: Self = Self::of([0; 5]);

    /// The dimension of a temperature on a scale.
    pub(super) const TEMPERATURE: Self = Self {
        exponents: [0, 0, 0, 0, 1],
        absolute: true,
    };

    /// The dimension with these exponents over volt, ampere, hour, millimetre and kelvin.
    pub(super) const fn of(exponents: [i8; 5]) -> Self {
        Self {
            exponents,
            absolute: false,
        }
    }

    /// Whether this is a plain number.
    #[must_use]
    pub const fn is_none(self) -> bool {
        matches!(self.exponents, [0, 0, 0, 0, 0])
    }

    /// Whether this is a temperature on a scale, not a difference.
    #[must_use]
    pub const fn is_absolute(self) -> bool {
        self.absolute
    }

    /// The dimension of a product. None if either is a temperature on a scale, or if an exponent
    /// gets beyond 9.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        self.combined(other, 1)
    }

    /// The dimension of a quotient. None if either is a temperature on a scale, or if an exponent
    /// gets beyond 9.
    #[must_use]
    pub fn per(self, other: Self) -> Option<Self> {
        self.combined(other, -1)
    }

    fn combined(self, other: Self, sign: i8) -> Option<Self> {
        let mut exponents = self.exponents;
        for (mine, theirs) in exponents.iter_mut().zip(other.exponents) {
            *mine += sign * theirs;
        }
        let small = exponents.iter().all(|exponent| exponent.abs() <= LARGEST);
        (small && !self.absolute && !other.absolute).then_some(Self::of(exponents))
    }

    /// The dimension of a sum: both alike, or a temperature and a difference. None otherwise.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        let alike = self.exponents == other.exponents && !(self.absolute && other.absolute);
        alike.then_some(Self {
            exponents: self.exponents,
            absolute: self.absolute || other.absolute,
        })
    }

    /// The dimension of a difference: both alike, or a temperature less a difference. Two
    /// temperatures give a difference. None otherwise.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        let alike = self.exponents == other.exponents && (self.absolute || !other.absolute);
        alike.then_some(Self {
            exponents: self.exponents,
            absolute: self.absolute && !other.absolute,
        })
    }

    /// The product of base units, as `V·A/h`; empty for a plain number.
    #[must_use]
    pub fn unit_product(self) -> String {
        let over = self.factors(1);
        let under = self.factors(-1);
        match (over.len(), under.len()) {
            (_, 0) => over.join("·"),
            (0, 1) => format!("1/{}", under.join("·")),
            (0, _) => format!("1/({})", under.join("·")),
            (_, 1) => format!("{}/{}", over.join("·"), under.join("·")),
            _ => format!("{}/({})", over.join("·"), under.join("·")),
        }
    }

    fn factors(self, sign: i8) -> Vec<String> {
        let powers = BASES
            .iter()
            .zip(self.exponents)
            .map(|(base, exponent)| (base, exponent * sign));
        powers
            .filter(|(_, power)| *power > 0)
            .map(|(base, power)| format!("{base}{}", raised(power)))
            .collect()
    }
}

/// The superscript of a power from 1 to 9; nothing for 1.
fn raised(power: i8) -> &'static str {
    match power {
        2 => "²",
        3 => "³",
        4 => "⁴",
        5 => "⁵",
        6 => "⁶",
        7 => "⁷",
        8 => "⁸",
        9 => "⁹",
        _ => "",
    }
}

impl Stored for Dimension {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.exponents.iter().for_each(|one| one.write(to));
        self.absolute.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let mut exponents = [0; 5];
        for one in &mut exponents {
            *one = i8::read(from)?;
        }
        Some(Self {
            exponents,
            absolute: bool::read(from)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Kind;

    fn of(kind: Kind) -> Dimension {
        kind.dimension()
    }

    #[test]
    fn products_of_the_trade() {
        assert_eq!(
            of(Kind::Voltage).times(of(Kind::Current)),
            Some(of(Kind::Power))
        );
        assert_eq!(
            of(Kind::Current).times(of(Kind::Time)),
            Some(of(Kind::Charge))
        );
        assert_eq!(
            of(Kind::Voltage).per(of(Kind::Current)),
            Some(of(Kind::Resistance))
        );
        assert_eq!(
            of(Kind::Current).per(of(Kind::Charge)),
            Some(of(Kind::Rate))
        );
        assert_eq!(
            of(Kind::Power).times(of(Kind::Time)),
            Some(of(Kind::Energy))
        );
        assert_eq!(of(Kind::Voltage).per(of(Kind::Time)), Some(of(Kind::Drift)));
        assert_eq!(
            of(Kind::Voltage).per(of(Kind::Voltage)),
            Some(Dimension::NONE)
        );
    }

    #[test]
    fn temperatures_only_shift() {
        let (scale, step) = (of(Kind::Temperature), of(Kind::TemperatureDifference));
        assert_eq!(scale.minus(scale), Some(step));
        assert_eq!(scale.plus(step), Some(scale));
        assert_eq!(step.plus(scale), Some(scale));
        assert_eq!(scale.minus(step), Some(scale));
        assert_eq!(step.minus(step), Some(step));
        assert_eq!(step.minus(scale), None);
        assert_eq!(scale.plus(scale), None);
        assert_eq!(scale.times(Dimension::NONE), None);
        assert_eq!(Dimension::NONE.per(scale), None);
        assert_eq!(step.times(Dimension::NONE), Some(step));
    }

    #[test]
    fn unlike_kinds_do_not_sum() {
        assert_eq!(of(Kind::Voltage).plus(of(Kind::Current)), None);
        assert_eq!(of(Kind::Voltage).minus(Dimension::NONE), None);
        assert_eq!(of(Kind::Count).plus(of(Kind::Ratio)), Some(Dimension::NONE));
    }

    #[test]
    fn exponents_stay_small() {
        let volt = of(Kind::Voltage);
        let mut power = Dimension::NONE;
        for _ in 0..9 {
            power = power.times(volt).unwrap();
        }
        assert_eq!(power.to_string(), "V⁹");
        assert_eq!(power.times(volt), None);
        assert_eq!(
            power.per(volt).map(|d| d.to_string()),
            Some("V⁸".to_owned())
        );
    }

    #[test]
    fn every_power_has_its_superscript() {
        let volt = of(Kind::Voltage);
        let powers = std::iter::successors(volt.times(volt), |power| power.times(volt));
        let written: Vec<String> = powers.map(|power| power.unit_product()).collect();
        assert_eq!(written, ["V²", "V³", "V⁴", "V⁵", "V⁶", "V⁷", "V⁸", "V⁹"]);
    }

    #[test]
    fn names_and_products() {
        let current_by_time = of(Kind::Current).per(of(Kind::Time)).unwrap();
        assert_eq!(current_by_time.to_string(), "A/h");
        assert_eq!(of(Kind::Rate).to_string(), "rate");
        assert_eq!(Dimension::NONE.kind(), Some(Kind::Ratio));
        let per_square_hour = of(Kind::Rate).times(of(Kind::Rate)).unwrap();
        assert_eq!(per_square_hour.to_string(), "1/h²");
        let two_below = of(Kind::Voltage).per(of(Kind::Charge)).unwrap();
        assert_eq!(two_below.to_string(), "V/(A·h)");
        assert_eq!(
            Dimension::NONE.per(of(Kind::Charge)).unwrap().to_string(),
            "1/(A·h)"
        );
        assert!(Dimension::NONE.is_none() && !current_by_time.is_none());
        assert!(!of(Kind::Temperature).is_none() && of(Kind::Temperature).is_absolute());
        assert!(!of(Kind::TemperatureDifference).is_absolute() && !Dimension::NONE.is_absolute());
    }
}
