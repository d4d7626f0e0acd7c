//! The numbers of a label, and how well each is known.

use std::fmt;

use rules_core::quantity::{Interval, Kind, Meter, Nature, Quantity, QuantityError};

/// What is printed on a pack, and how many cells were counted in it. What is not known is left out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Label<'t> {
    /// Nominal voltage, in volts.
    pub voltage: Option<Interval>,
    /// Rated capacity, in ampere-hours.
    pub capacity: Option<Interval>,
    /// Energy, in watt-hours.
    pub energy: Option<Interval>,
    /// Designation code: `3INR19/66-2`, or that of the cells alone, `ICR18650`.
    pub code: Option<&'t str>,
    /// Cells felt through the case or seen inside.
    pub cells: Option<u32>,
}

/// Energy is printed to whole watt-hours or to this part of itself, whichever is coarser. (Common
/// practice.)
const ENERGY_ROUNDING: &str = "± 1 %";

/// A number of a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Printed {
    /// Nominal voltage, in volts.
    Voltage,
    /// Rated capacity, in ampere-hours.
    Capacity,
    /// Energy, in watt-hours.
    Energy,
}

impl Printed {
    /// What it is a quantity of.
    #[must_use]
    pub const fn kind(self) -> Kind {
        match self {
            Self::Voltage => Kind::Voltage,
            Self::Capacity => Kind::Charge,
            Self::Energy => Kind::Energy,
        }
    }

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Voltage => "voltage",
            Self::Capacity => "capacity",
            Self::Energy => "energy",
        }
    }

    /// Reads the number as printed: `14.8 V`, `4400 mAh`, `65 Wh`. It is as good as the digits
    /// written: half a unit of the last place either way, so that `14.8 V` is 14.75 V to 14.85 V
    /// and `62 Wh` could be anything from 61.5 Wh to 62.5 Wh. An energy has at least 1 % either way
    /// as well, since labels round it freely. A tolerance or a range counts as it is written.
    ///
    /// # Errors
    ///
    /// If the text is no quantity of that kind.
    pub fn read(self, text: &str) -> Result<Interval, QuantityError> {
        let kind = self.kind();
        let rounding = if self == Self::Energy {
            Meter::parse(ENERGY_ROUNDING, kind).ok()
        } else {
            None
        };
        Quantity::read(text, kind, Nature::Printed, rounding.as_ref())
            .map(|measure| measure.range())
    }
}

impl fmt::Display for Printed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ends(printed: Printed, text: &str) -> (f64, f64) {
        let range = printed.read(text).unwrap();
        (range.lo(), range.hi())
    }

    fn near(found: (f64, f64), expected: (f64, f64)) -> bool {
        (found.0 - expected.0).abs() < 1e-12 && (found.1 - expected.1).abs() < 1e-12
    }

    #[test]
    fn a_number_is_as_good_as_its_digits() {
        assert!(near(ends(Printed::Voltage, "14.8 V"), (14.75, 14.85)));
        assert!(near(ends(Printed::Voltage, "11.10 V"), (11.095, 11.105)));
        assert!(near(ends(Printed::Capacity, "4400 mAh"), (4.3995, 4.4005)));
        assert!(near(ends(Printed::Capacity, "4.4 Ah"), (4.35, 4.45)));
    }

    /// Half a watt-hour is one per cent of 50 Wh.
    #[test]
    fn an_energy_has_half_a_watt_hour_or_one_per_cent() {
        assert!(near(ends(Printed::Energy, "49 Wh"), (48.5, 49.5)));
        assert!(near(ends(Printed::Energy, "50 Wh"), (49.5, 50.5)));
        assert!(near(ends(Printed::Energy, "51 Wh"), (50.49, 51.51)));
        assert!(near(ends(Printed::Energy, "99.9 Wh"), (98.901, 100.899)));
    }

    #[test]
    fn a_tolerance_counts_as_it_stands() {
        assert!(near(ends(Printed::Energy, "62 Wh ± 0.1 Wh"), (61.9, 62.1)));
        assert!(near(ends(Printed::Voltage, "10.8..11.1 V"), (10.8, 11.1)));
    }

    #[test]
    fn a_unit_of_another_kind_is_no_number_of_it() {
        assert!(Printed::Voltage.read("4.4 Ah").is_err());
        assert!(Printed::Capacity.read("5.6").is_err());
        assert!(Printed::Energy.read("1e400 Wh").is_err());
    }
}
