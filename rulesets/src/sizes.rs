//! Round cells by their size: what a bare one weighs, and the most that a genuine one of a class
//! gives and reads when new.
//!
//! The table is `data/sizes.yaml`. Whatever grows or falls with the size of a can lies, for a size
//! that is not listed or not quite known, between what the listed sizes inside and around it have. So
//! less known of a size never says more.

use std::sync::LazyLock;

use crate::designation::CodedSize;
use crate::span::{not_known, span};
use rules_core::facts::OptionSet;
use rules_core::quantity::Interval;

/// How many classes there are, in the order of the options of `cell.class`.
const CLASSES: usize = 6;

/// A code of the standard rounds a length up by less than this, in mm.
const ROUNDED_UP: f64 = 1.0;

/// The table, as the build script reads it: what of all sizes, and what of each by its code.
struct Table {
    /// In J/(g K).
    specific_heat: (f64, f64),
    sizes: &'static [(&'static str, [OfClass; CLASSES])],
}

/// What cells of one size and class have.
#[derive(Debug, Clone, Copy)]
struct OfClass {
    /// In g.
    mass: (f64, f64),
    /// In Ah.
    capacity: f64,
    /// In ohms.
    resistance: f64,
}

static TABLE: Table = include!(concat!(env!("OUT_DIR"), "/sizes.rs"));

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| TABLE.sizes.iter().flat_map(rows).collect());

/// Cells of one size and class.
#[derive(Debug, Clone, Copy)]
struct Row {
    can: Can,
    /// By its place among the options.
    class: usize,
    has: OfClass,
}

/// The rows of a size; none if its code is that of no round cell, which a test would tell.
fn rows((code, of_classes): &(&str, [OfClass; CLASSES])) -> impl Iterator<Item = Row> {
    let can = CodedSize::parse(code).map(Can::of);
    let each = of_classes.iter().zip(0..);
    let each = each.map(move |(has, class)| {
        can.map(|can| Row {
            can,
            class,
            has: *has,
        })
    });
    each.flatten()
}

/// The outer size of a cell, in mm, as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Can {
    /// Across.
    pub(crate) diameter: Interval,
    /// From end to end.
    pub(crate) length: Interval,
}

impl Can {
    /// The size that a row of the table is about.
    fn of(code: CodedSize) -> Self {
        let (from, to) = code.diameter;
        let (short, long) = code.length;
        Self {
            diameter: span(f64::from(from), f64::from(to)),
            length: span(f64::from(short) / 10.0, f64::from(long) / 10.0 + ROUNDED_UP),
        }
    }

    /// Whether it is no larger than another, each at its least.
    fn is_inside(&self, other: &Self) -> bool {
        self.diameter.lo() <= other.diameter.lo() && self.length.lo() <= other.length.lo()
    }

    /// Whether it is no smaller than another, each at its most.
    fn is_around(&self, other: &Self) -> bool {
        self.diameter.hi() >= other.diameter.hi() && self.length.hi() >= other.length.hi()
    }
}

/// The most charge, in Ah, that a genuine cell of such a size gives.
pub(crate) fn most_capacity(can: &Can, classes: OptionSet) -> Interval {
    any_of(classes, |class| {
        grows(can, class, |row| Interval::point(row.has.capacity))
    })
}

/// The most, in ohms, that a new cell of such a size reads at 1 kHz.
pub(crate) fn new_resistance(can: &Can, classes: OptionSet) -> Interval {
    any_of(classes, |class| {
        let around = of_class(class).filter(|row| row.can.is_around(can));
        let inside = of_class(class).filter(|row| row.can.is_inside(can));
        span(
            around.map(|row| row.has.resistance).fold(0.0, f64::max),
            inside
                .map(|row| row.has.resistance)
                .fold(f64::INFINITY, f64::min),
        )
    })
}

/// The mass, in g, of a bare cell of such a size.
fn mass(can: &Can, classes: OptionSet) -> Interval {
    any_of(classes, |class| {
        grows(can, class, |row| span(row.has.mass.0, row.has.mass.1))
    })
}

/// The heat, in J, that warms a bare cell of such a size by one kelvin.
pub(crate) fn heat_capacity(can: &Can, classes: OptionSet) -> Interval {
    let (least, most) = TABLE.specific_heat;
    mass(can, classes) * span(least, most)
}

/// Every class, of a cell of which none is told.
pub(crate) fn every_class() -> OptionSet {
    OptionSet::first(CLASSES)
}

/// What holds for each of the classes that a cell may be of.
fn any_of(classes: OptionSet, of: impl Fn(usize) -> Interval) -> Interval {
    let possible = (0..CLASSES).filter(|class| OptionSet::one(*class).meets(classes));
    possible
        .map(of)
        .reduce(Interval::hull)
        .unwrap_or(not_known())
}

/// What grows with the size of the can.
fn grows(can: &Can, class: usize, of: impl Fn(&Row) -> Interval) -> Interval {
    let inside = of_class(class).filter(|row| row.can.is_inside(can));
    let around = of_class(class).filter(|row| row.can.is_around(can));
    span(
        inside.map(|row| of(row).lo()).fold(0.0, f64::max),
        around.map(|row| of(row).hi()).fold(f64::INFINITY, f64::min),
    )
}

fn of_class(class: usize) -> impl Iterator<Item = &'static Row> {
    ROWS.iter().filter(move |row| row.class == class)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rules_core::facts::FactKind;

    /// Classes as the table names them.
    const NAMES: [&str; CLASSES] = ["ICR", "INR", "IMR", "IFR", "IVR", "ITR"];

    fn can(code: &str) -> Can {
        let CodedSize { diameter, length } = CodedSize::parse(code).unwrap();
        Can {
            diameter: span(f64::from(diameter.0), f64::from(diameter.1)),
            length: span(f64::from(length.0) / 10.0, f64::from(length.1) / 10.0),
        }
    }

    fn class(name: &str) -> OptionSet {
        OptionSet::one(NAMES.iter().position(|class| *class == name).unwrap())
    }

    #[test]
    fn the_table_can_be_read() {
        let catalogue = crate::facts::catalogue();
        let (_, class) = catalogue.fact_named("cell.class").unwrap();
        let names = NAMES.map(str::to_owned).to_vec();
        assert_eq!(class.kind, FactKind::Choice(names));
        assert_eq!(ROWS.len(), 48);
    }

    /// What lies inside another weighs and holds less, and reads more: the bounds for other sizes
    /// rest on it.
    #[test]
    fn a_larger_can_has_more_of_everything_but_resistance() {
        let rows = &*ROWS;
        let mut compared = 0;
        for (inner, outer) in rows
            .iter()
            .flat_map(|one| rows.iter().map(move |other| (one, other)))
        {
            let is_inside = inner.can.is_inside(&outer.can) && outer.can.is_around(&inner.can);
            if inner.class == outer.class && is_inside {
                compared += 1;
                let (least, most) = (inner.has, outer.has);
                assert!(least.mass.0 <= most.mass.0 && least.mass.1 <= most.mass.1);
                assert!(least.capacity <= most.capacity, "{inner:?} {outer:?}");
                assert!(least.resistance >= most.resistance, "{inner:?} {outer:?}");
            }
        }
        assert!(compared > 60, "{compared}");
    }

    /// Greatest mass on the sheets of ICR18650-20, ICR18650-26C and INR18650-30Q (44 to 48 g, read
    /// in source), of INR21700-50E (69 g) and ANR26650M1-B, iron phosphate (76 g; both from memory).
    #[test]
    fn sheets_are_inside() {
        for (code, letters, grams) in [
            ("18650", "ICR", 44.0),
            ("18650", "ICR", 48.0),
            ("18650", "INR", 48.0),
            ("21700", "INR", 69.0),
            ("26650", "IFR", 76.0),
        ] {
            assert!(
                mass(&can(code), class(letters)).contains(grams),
                "{code} {grams}"
            );
        }
    }

    /// Round lithium-ion cells weigh 2 to 3 g for each cubic centimetre of their can, iron phosphate
    /// least (from memory): no row is far from it, so that none has a slip of its decimal point.
    #[test]
    fn every_mass_goes_with_its_can() {
        for row in &*ROWS {
            let (across, long) = (row.can.diameter.middle() / 10.0, row.can.length.lo() / 10.0);
            let volume = std::f64::consts::FRAC_PI_4 * across * across * long;
            let density = (row.has.mass.0 / volume, row.has.mass.1 / volume);
            assert!(density.0 > 1.7 && density.1 < 3.1, "{row:?} {density:?}");
        }
    }

    /// The codes of the trade and of the standard are of one cell.
    #[test]
    fn a_listed_size_is_its_row() {
        for code in ["18650", "19/66"] {
            assert_eq!(
                most_capacity(&can(code), class("ICR")),
                Interval::point(3.8),
                "{code}"
            );
            assert_eq!(
                new_resistance(&can(code), class("ICR")),
                Interval::point(0.08),
                "{code}"
            );
        }
        assert_eq!(
            most_capacity(&can("26650"), class("IFR")),
            Interval::point(4.2)
        );
    }

    #[test]
    fn another_size_lies_between_those_inside_and_around_it() {
        let (other, smaller, larger) = (can("20700"), can("18650"), can("21700"));
        let most = |can| most_capacity(&can, class("ICR"));
        assert_eq!(most(other), most(smaller).hull(most(larger)));
        let new = |can| new_resistance(&can, class("ICR"));
        assert_eq!(new(other), new(smaller).hull(new(larger)));
        assert_eq!(most(can("10180")), span(0.0, 0.4));
        assert_eq!(most(can("32700")), span(6.5, f64::INFINITY));
        assert_eq!(new(can("32700")), span(0.0, 0.06));
    }

    #[test]
    fn of_a_size_that_is_not_known_nothing_is() {
        let (any, every) = (
            Can {
                diameter: Interval::WHOLE,
                length: Interval::WHOLE,
            },
            every_class(),
        );
        let nothing = span(0.0, f64::INFINITY);
        assert_eq!(most_capacity(&any, every), nothing);
        assert_eq!(new_resistance(&any, every), nothing);
        assert_eq!(heat_capacity(&any, every), nothing);
    }
}
