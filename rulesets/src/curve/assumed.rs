//! How good a log is of which nobody says it.

use rules_core::facts::StatedMeters;
use rules_core::quantity::{Kind, Meter};

/// The worst meters of loggers, by kind: those that the usual ruleset assumes of single readings. A
/// column of a log is by one meter, so that its readings share the gain error.
pub(crate) const ASSUMED: [(Kind, &str); 3] = [
    (Kind::Voltage, "± (1 % + 3 digits)"),
    (Kind::Current, "± (3 % + 2 digits)"),
    (Kind::Charge, "± 5 %"),
];

/// The meter that readings of a kind are by: the one that is stated, or else the assumed one.
pub(crate) fn meter(kind: Kind, stated: &StatedMeters) -> Option<Meter> {
    let is_stated = stated.of(kind).map(|stated| stated.meter);
    is_stated.or_else(|| {
        let (_, written) = ASSUMED.iter().find(|(assumed, _)| *assumed == kind)?;
        Meter::parse(written, kind).ok()
    })
}
