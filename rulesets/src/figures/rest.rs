//! Charge state from a rest voltage.

use super::margin;
use super::ocv;
use crate::class::{Class, Classes};
use crate::span::span;
use rules_core::quantity::{Holds, Interval};

/// What a rest voltage says of the charge state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ChargeState {
    /// The voltage lies on the curves of the classes throughout. A part of the charge: 1 is full.
    Known(Interval),
    /// Some or all of the voltage lies where no class has data.
    Outside {
        /// Whether the voltage is under the start of the table of each class.
        below: Holds,
        /// Whether it is over full.
        above: Holds,
        /// The charge state with the curves drawn on beyond their ends: below 0 or above 1 there.
        drawn_on: Interval,
    },
}

impl ChargeState {
    /// The charge state, drawn on beyond the table where need be. It may lie below 0 or above 1.
    #[must_use]
    pub const fn charge(self) -> Interval {
        match self {
            Self::Known(charge) => charge,
            Self::Outside { drawn_on, .. } => drawn_on,
        }
    }
}

/// How much higher than full a reading may be and still count as full, in volts: the tolerance of
/// charge voltages on data sheets of cells (4.20 ± 0.05 V).
const OVER_FULL: f64 = 0.05;

/// How far the ends of a cell's charge may lie from those of its class, as a part of the charge.
const OTHER_ENDS: f64 = 0.01;

/// The charge state of a cell that rests at `rest` volts `after` so many hours without current.
/// Without `after` nothing is known of how long it rested.
///
/// After a load the voltage still rises, after a charge it still falls; which of them it was is not
/// asked.
#[must_use]
pub fn charge_state(classes: Classes, rest: Interval, after: Option<Interval>) -> ChargeState {
    let of = |class: Class| {
        let settling = margin::settling(class, after);
        let settled = span(rest.lo() - settling.falls, rest.hi() + settling.rises);
        ocv::charges(Classes::of(class), settled) + span(-OTHER_ENDS, OTHER_ENDS)
    };
    let drawn_on = classes.hull(of);
    let sides = |class: Class| {
        let table = ocv::table_range(class);
        (
            rest.below(Interval::point(table.lo())),
            Interval::point(table.hi() + OVER_FULL).below(rest),
        )
    };
    let (below, above) = classes
        .iter()
        .map(sides)
        .reduce(|(below, above), (under, over)| (both(below, under), both(above, over)))
        .unwrap_or((Holds::Undecided, Holds::Undecided));
    if (below, above) == (Holds::No, Holds::No) {
        ChargeState::Known(drawn_on)
    } else {
        ChargeState::Outside {
            below,
            above,
            drawn_on,
        }
    }
}

/// What is so of both: undecided where they differ.
fn both(one: Holds, other: Holds) -> Holds {
    if one == other { one } else { Holds::Undecided }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DAY: Option<f64> = Some(24.0);

    fn at(class: Class, volts: f64, after: Option<f64>) -> ChargeState {
        charge_state(
            Classes::of(class),
            Interval::point(volts),
            after.map(Interval::point),
        )
    }

    /// Charge states of a measured nickel cell (public open-circuit data set of 2022) and of the
    /// set of J. Electrochem. Soc. 167 (2020) 080534, in percent of their own charge, which ends
    /// 1.2 to 1.3 % lower than the class's.
    #[test]
    fn published_nickel_cells_lie_within() {
        for (volts, measured, published) in [
            (3.0, 2.8, 3.3),
            (3.2, 7.0, 7.2),
            (3.4, 18.9, 13.3),
            (3.5, 25.0, 21.8),
            (3.6, 34.0, 32.0),
            (3.7, 44.0, 44.0),
            (3.8, 55.0, 55.0),
            (3.9, 67.0, 66.0),
            (4.0, 77.0, 76.0),
            (4.1, 93.0, 91.0),
        ] {
            let ChargeState::Known(charge) = at(Class::Inr, volts, DAY) else {
                panic!("{volts} V is on the curve")
            };
            for percent in [measured, published] {
                assert!(
                    charge.contains((percent / 100.0 - 0.0125) / (1.0 - 0.0125)),
                    "{volts} V: {charge:?} {percent} %"
                );
            }
        }
    }

    /// Data sheets charge to 4.20 ± 0.05 V; the table of the class starts at 2.75 V.
    #[test]
    fn what_lies_off_the_curve_is_said() {
        let outside = |state| match state {
            ChargeState::Outside { below, above, .. } => Some((below, above)),
            ChargeState::Known(_) => None,
        };
        assert_eq!(
            [2.75, 4.20, 4.25].map(|volts| outside(at(Class::Inr, volts, DAY))),
            [None; 3]
        );
        assert_eq!(
            outside(at(Class::Inr, 2.74, DAY)),
            Some((Holds::Yes, Holds::No))
        );
        assert_eq!(
            outside(at(Class::Inr, 4.26, DAY)),
            Some((Holds::No, Holds::Yes))
        );
        assert_eq!(
            outside(at(Class::Ifr, 3.8, DAY)),
            Some((Holds::No, Holds::Yes))
        );
        // Of some class it may be on the curve.
        assert_eq!(
            outside(charge_state(
                Classes::ALL,
                Interval::point(3.8),
                DAY.map(Interval::point)
            )),
            Some((Holds::No, Holds::Undecided))
        );
        let unknown = charge_state(Classes::ALL, Interval::WHOLE, None);
        assert_eq!(
            (outside(unknown), unknown.charge()),
            (Some((Holds::Undecided, Holds::Undecided)), Interval::WHOLE)
        );
    }

    #[test]
    fn a_reading_taken_too_soon_says_less() {
        let [soon, later, unknown] =
            [Some(1.0 / 60.0), Some(1.0), None].map(|after| at(Class::Icr, 3.8, after).charge());
        assert!(soon.encloses(later) && unknown.encloses(soon) && soon.width() > later.width());
    }
}
