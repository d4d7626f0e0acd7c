//! How cells in parallel share a current.

use super::conductance::conductance;
use crate::span::{not_negative, ratio, span};
use rules_core::quantity::Interval;

/// The part of a group's current that each cell carries, from the cells' 10-second resistances in
/// ohms: while all have the same charge state.
///
/// Later the share goes over from resistance to capacity: a cell that has given more falls behind,
/// and the others make up for it.
#[must_use]
pub fn shares(resistances: &[Interval]) -> Vec<Interval> {
    if resistances.len() == 1 {
        return vec![Interval::point(1.0)];
    }
    let conductances: Vec<Interval> = resistances
        .iter()
        .map(|resistance| conductance(not_negative(*resistance)))
        .collect();
    let total = conductances
        .iter()
        .fold((0.0, 0.0), |(lo, hi), one| (lo + one.lo(), hi + one.hi()));
    let share = |own: f64, others: f64| ratio(own, own + others.max(0.0));
    conductances
        .iter()
        .map(|own| {
            span(
                share(own.lo(), total.1 - own.hi()),
                share(own.hi(), total.0 - own.lo()),
            )
        })
        .collect()
}
