//! The voltages of a class of cells: full, nominal and empty.

use super::ocv;
use crate::class::{Class, Classes};
use crate::span::span;
use rules_core::quantity::Interval;

/// The voltages of a class of cells, in V.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Voltages {
    /// Full, at rest after a charge or at its end.
    pub full: Interval,
    /// Nominal, as labels give it.
    pub nominal: Interval,
    /// Empty: where the class's curve starts.
    pub empty: Interval,
}

/// The voltages of these classes. `full` is the charge's end voltage where the caller knows it.
///
/// Nominal 3.6 to 3.7 V, full 4.20 V (maker sheets ICR18650-26C, INR18650-30Q, INR21700-50E); iron
/// phosphate nominal 3.2 to 3.3 V, full 3.60 to 3.65 V (trade sheet).
#[must_use]
pub fn voltages(classes: Classes, full: Option<Interval>) -> Voltages {
    let usual = |class: Class| {
        if class.is_four_volt() {
            span(4.20, 4.20)
        } else {
            span(3.60, 3.65)
        }
    };
    Voltages {
        full: full.unwrap_or_else(|| classes.hull(usual)),
        nominal: nominal(classes),
        empty: empty(classes),
    }
}

/// The nominal voltage of these classes, in V, as labels give it.
#[must_use]
pub fn nominal(classes: Classes) -> Interval {
    classes.hull(|class| {
        if class.is_four_volt() {
            span(3.6, 3.7)
        } else {
            span(3.2, 3.3)
        }
    })
}

/// The voltage at which cells of these classes are empty, in V. It takes the tables of their curves.
#[must_use]
pub fn empty(classes: Classes) -> Interval {
    classes.hull(|class| Interval::point(ocv::table_range(class).lo()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(value: f64) -> Interval {
        Interval::point(value)
    }

    #[test]
    fn classes_have_their_voltages() {
        let (cobalt, iron) = (
            voltages(Classes::of(Class::Icr), None),
            voltages(Classes::of(Class::Ifr), None),
        );
        assert_eq!((cobalt.full, cobalt.empty), (point(4.20), point(2.75)));
        assert!(iron.full.contains(3.65) && iron.nominal.contains(3.2) && iron.empty.contains(2.0));
        assert_eq!(
            voltages(Classes::of(Class::Icr), Some(point(4.1))).full,
            point(4.1)
        );
        assert!(
            voltages(Classes::ALL, None)
                .nominal
                .encloses(cobalt.nominal)
        );
    }
}
