//! Charge state from a rest voltage.

use super::class::{Class, Classes};
use super::margin;
use super::ocv;
use super::span::span;
use crate::quantity::{Holds, Interval};

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

/// How much higher than full a reading may be and still count as full, in volts: the tolerance of charge voltages on data sheets of cells (4.20 ± 0.05 V).
const OVER_FULL: f64 = 0.05;

/// How far the ends of a cell's charge may lie from those of its class, as a part of the charge.
const OTHER_ENDS: f64 = 0.01;

/// The charge state of a cell that rests at `rest` volts `after` so many hours without current. Without `after` nothing is known of how long it rested.
///
/// After a load the voltage still rises, after a charge it still falls; which of them it was is not asked.
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
        (rest.below(Interval::point(table.lo())), Interval::point(table.hi() + OVER_FULL).below(rest))
    };
    let (below, above) = classes
        .iter()
        .map(sides)
        .reduce(|(below, above), (under, over)| (both(below, under), both(above, over)))
        .unwrap_or((Holds::Undecided, Holds::Undecided));
    if (below, above) == (Holds::No, Holds::No) { ChargeState::Known(drawn_on) } else { ChargeState::Outside { below, above, drawn_on } }
}

/// What is so of both: undecided where they differ.
fn both(one: Holds, other: Holds) -> Holds {
    if one == other { one } else { Holds::Undecided }
}
