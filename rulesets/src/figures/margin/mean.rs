//! The voltage half way of a discharge, by its mean voltage.

use crate::class::Class;
use crate::span::span;
use rules_core::quantity::Interval;

/// By how much the voltage half way of a discharge from full is above its mean, in V: least and
/// greatest. What new cells at 0.1 to 3 C and -10 to 40 degC and worn ones take up, and half as much
/// again; worn ones and iron phosphate with all rows, since two thirds of them did not hold the others.
const ABOVE_MEAN: [(Class, (f64, f64)); 4] = [
    (Class::Icr, (-0.07, 0.05)),
    (Class::Inr, (-0.195, 0.15)),
    // The mixtures have no sets of their own: as the one that differs more.
    (Class::Imr, (-0.195, 0.15)),
    (Class::Ifr, (-0.045, 0.165)),
];

/// The voltage half way in V of a discharge from full whose mean voltage is known.
#[must_use]
pub fn half_by_mean(class: Class, mean: Interval) -> Interval {
    let of_class = ABOVE_MEAN.iter().find(|(of, _)| *of == class);
    of_class.map_or(Interval::WHOLE, |(_, (least, greatest))| {
        mean + span(*least, *greatest)
    })
}
