//! What a cell can be: its nominal voltage by family, its capacity by size.

use serde::Serialize;

use rules_core::quantity::{Holds, Interval};

/// A size by its code: whole millimetres of diameter, tenths of a millimetre of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Size {
    pub(super) diameter: u32,
    pub(super) length: u32,
}

/// Cells of one nominal voltage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    /// Cobalt, nickel and manganese: 3.60 V to 3.85 V.
    CobaltNickel,
    /// Iron phosphate: 3.2 V to 3.3 V.
    IronPhosphate,
    /// Another, of which nothing is known here.
    Other,
}

/// 3.6 V and 3.63 V are on the sheets of INR18650-30Q and INR21700-50E, 3.7 V on that of
/// ICR18650-26C; up to 3.85 V on a trade page on cells charged to 4.35 V (all read in source).
const COBALT_NICKEL: Interval = range(3.6, 3.85);
/// A trade page on iron phosphate cells (read in source).
const IRON_PHOSPHATE: Interval = range(3.2, 3.3);

const fn range(low: f64, high: f64) -> Interval {
    match Interval::new(low, high) {
        Some(range) => range,
        None => Interval::WHOLE,
    }
}

impl Family {
    /// The nominal voltages of its cells, in volts; none if they are not known here.
    #[must_use]
    pub const fn nominal(self) -> Option<Interval> {
        match self {
            Self::CobaltNickel => Some(COBALT_NICKEL),
            Self::IronPhosphate => Some(IRON_PHOSPHATE),
            Self::Other => None,
        }
    }

    /// The commonest nominal voltage, in volts.
    pub(super) const fn usual_voltage(self) -> f64 {
        match self {
            Self::CobaltNickel => 3.7,
            Self::IronPhosphate | Self::Other => 3.2,
        }
    }
}

/// Which bound of capacity a cell is beyond.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bound {
    /// Less than any such cell has.
    BelowAll,
    /// Less than such cells commonly have.
    BelowCommon,
    /// More than such cells commonly have.
    AboveCommon,
    /// More than any such cell has.
    AboveAll,
}

/// What speaks against a cell's capacity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CapacityDoubt {
    /// The bound it is beyond, whatever its rounding.
    pub bound: Bound,
    /// That bound, in ampere-hours.
    pub ampere_hours: f64,
    /// Whether the code says the size. If not, what an 18650 has counts as common, and the
    /// outermost bounds are those of smaller and larger cells.
    pub size_is_told: bool,
}

/// The capacities of cells of one size and family, in ampere-hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Credible {
    least: f64,
    common: (f64, f64),
    most: f64,
    size_is_told: bool,
    /// The number in parallel is followed up to cells of this capacity.
    pub(super) followed: f64,
    /// The middle of what cells of packs have.
    pub(super) middle: f64,
}

/// An 18650 of a pack has 1.8 Ah to 3.4 Ah: sheets of ICR18650-20 and ICR18650-26C, an article on
/// notebook batteries of 2009. More than 3.6 Ah is suspect and more than 3.8 Ah false: a dealer's
/// page, and a consumer-watchdog article quoted in a newspaper in March 2021. (All read in source.)
const PACK_LOW: f64 = 1.8;
const PACK_HIGH: f64 = 3.4;
const COMMON_HIGH: f64 = 3.6;
const MOST: f64 = 3.8;
/// Cells for high current start at about this capacity. (From memory.)
const LEAST: f64 = 1.0;

/// If no size is known: the capacity of the smallest cell made in numbers, 10440, and of the
/// largest, 26650 with 5.5 Ah, or in iron phosphate 32700 with 6 Ah. (From memory.)
const SMALLEST: f64 = 0.2;
const LARGEST: f64 = 5.5;
const LARGEST_IRON: f64 = 6.0;

/// Iron phosphate holds about this part of what other cells of the size hold: 1.1 Ah to 2.0 Ah in
/// an
/// 18650. (From memory.)
const IRON_SHARE: f64 = 0.55;

impl Credible {
    /// What cells of a family and size can have; none for a family that is not known here.
    pub(super) fn of(family: Family, size: Option<Size>) -> Option<Self> {
        let share = match family {
            Family::CobaltNickel => 1.0,
            Family::IronPhosphate => IRON_SHARE,
            Family::Other => return None,
        };
        let scale = share * size.map_or(1.0, room);
        let (least, most) = match (size, family) {
            (Some(_), _) => (LEAST * scale, MOST * scale),
            (None, Family::IronPhosphate) => (SMALLEST * share, LARGEST_IRON),
            (None, _) => (SMALLEST, LARGEST),
        };
        let middle = f64::midpoint(PACK_LOW, PACK_HIGH) * scale;
        let common = (PACK_LOW * scale, COMMON_HIGH * scale);
        Some(Self {
            least,
            common,
            most,
            size_is_told: size.is_some(),
            followed: LEAST * scale,
            middle,
        })
    }

    /// What speaks against a capacity, whatever its rounding.
    pub(super) fn doubt(self, capacity: Interval) -> Option<CapacityDoubt> {
        let above = |bound: f64| Interval::point(bound).below(capacity) == Holds::Yes;
        let below = |bound: f64| capacity.below(Interval::point(bound)) == Holds::Yes;
        let (bound, ampere_hours) = if above(self.most) {
            (Bound::AboveAll, self.most)
        } else if below(self.least) {
            (Bound::BelowAll, self.least)
        } else if above(self.common.1) {
            (Bound::AboveCommon, self.common.1)
        } else if below(self.common.0) {
            (Bound::BelowCommon, self.common.0)
        } else {
            return None;
        };
        Some(CapacityDoubt {
            bound,
            ampere_hours,
            size_is_told: self.size_is_told,
        })
    }
}

/// How much room a cell has, as a part of that of an 18650: capacity goes by volume. (Worked out;
/// the standard's code of an 18650 is 19/65 or 19/66.)
fn room(size: Size) -> f64 {
    const DIAMETER: f64 = 18.0;
    const LENGTH: f64 = 650.0;
    if size.diameter == 18 && matches!(size.length, 640..=650) {
        return 1.0;
    }
    let across = f64::from(size.diameter) / DIAMETER;
    across * across * f64::from(size.length) / LENGTH
}

#[cfg(test)]
mod tests {
    use super::super::code::Code;
    use super::*;

    fn bound(code: Option<&str>, family: Family, ampere_hours: f64) -> Option<Bound> {
        let size = code.map(|code| Code::read(code).unwrap().size);
        Credible::of(family, size)
            .unwrap()
            .doubt(Interval::point(ampere_hours))
            .map(|doubt| doubt.bound)
    }

    /// A consumer-watchdog article and a dealer's page (3.6 Ah, 3.8 Ah), sheets of pack cells (1.8
    /// Ah); at, just inside and just outside each.
    #[test]
    fn an_18650() {
        for code in ["ICR18650", "INR19/66", "INR19/65"] {
            let of = |ampere_hours| bound(Some(code), Family::CobaltNickel, ampere_hours);
            assert_eq!(
                [of(3.59), of(3.6), of(3.61)],
                [None, None, Some(Bound::AboveCommon)]
            );
            assert_eq!(
                [of(3.79), of(3.8), of(3.81)],
                [
                    Some(Bound::AboveCommon),
                    Some(Bound::AboveCommon),
                    Some(Bound::AboveAll)
                ]
            );
            assert_eq!(
                [of(1.81), of(1.8), of(1.79)],
                [None, None, Some(Bound::BelowCommon)]
            );
            assert_eq!(
                [of(1.01), of(1.0), of(0.99)],
                [
                    Some(Bound::BelowCommon),
                    Some(Bound::BelowCommon),
                    Some(Bound::BelowAll)
                ]
            );
        }
    }

    /// The sheet of INR21700-50E (4.9 Ah); a 26650 of 5.5 Ah exceeds 20 Wh.
    #[test]
    fn larger_cells_hold_more() {
        assert_eq!(bound(Some("INR21700"), Family::CobaltNickel, 4.9), None);
        assert_eq!(bound(Some("INR22/71"), Family::CobaltNickel, 4.9), None);
        assert_eq!(bound(Some("INR26650"), Family::CobaltNickel, 5.5), None);
        assert_eq!(
            bound(Some("INR21700"), Family::CobaltNickel, 9.9),
            Some(Bound::AboveAll)
        );
    }

    #[test]
    fn without_a_size_only_what_no_cell_has_is_false() {
        let of = |ampere_hours| bound(None, Family::CobaltNickel, ampere_hours);
        assert_eq!([of(3.6), of(3.61)], [None, Some(Bound::AboveCommon)]);
        assert_eq!(
            [of(5.49), of(5.5), of(5.51)],
            [
                Some(Bound::AboveCommon),
                Some(Bound::AboveCommon),
                Some(Bound::AboveAll)
            ]
        );
        assert_eq!(
            [of(0.21), of(0.2), of(0.19)],
            [
                Some(Bound::BelowCommon),
                Some(Bound::BelowCommon),
                Some(Bound::BelowAll)
            ]
        );
        let iron = |ampere_hours| bound(None, Family::IronPhosphate, ampere_hours);
        assert_eq!(
            [iron(1.5), iron(6.0), iron(6.01)],
            [None, Some(Bound::AboveCommon), Some(Bound::AboveAll)]
        );
    }

    #[test]
    fn the_mildest_that_the_interval_allows_counts() {
        let of = |low, high| {
            Credible::of(Family::CobaltNickel, None)
                .unwrap()
                .doubt(Interval::new(low, high).unwrap())
                .map(|doubt| doubt.bound)
        };
        assert_eq!(of(3.6, 9.0), None);
        assert_eq!(of(3.61, 9.0), Some(Bound::AboveCommon));
        assert_eq!(of(0.1, 1.8), None);
    }
}
