//! Conductances of resistances.

use crate::span::span;
use rules_core::quantity::Interval;

/// Less than the resistance of any cell, in ohms.
const LEAST_RESISTANCE: f64 = 1e-6;

/// A conductance in siemens of a resistance in ohms.
pub(super) fn conductance(resistance: Interval) -> Interval {
    let at = |ohms: f64| 1.0 / ohms.max(LEAST_RESISTANCE);
    span(at(resistance.hi()), at(resistance.lo()))
}
