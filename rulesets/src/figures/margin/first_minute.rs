//! The voltage of the first minute under load.

use crate::class::Class;
use rules_core::quantity::Interval;

/// What the first minute of a load is known to, from a tenth of a second on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstMinute {
    /// The least sag, as a part of what the 10-second resistance gives at half charge.
    pub(in crate::figures) least: f64,
    /// The greatest.
    pub(in crate::figures) greatest: f64,
    /// How much lower than its curve a full cell may rest, in V.
    fall: f64,
}

impl FirstMinute {
    /// How much lower than its curve a cell may rest that starts at a charge state, in V.
    pub(in crate::figures) fn fall_from(&self, start: Interval) -> f64 {
        if start.hi() < 1.0 { 0.0 } else { self.fall }
    }
}

/// The first minute of a class.
///
/// Of 6,080 voltages of the parameter sets, new and aged (a start stands once for each end voltage of
/// the table), at 0.1, 1, 10 and 60 s, 0.2 to 2 C and 0 to 40 degC, all lie inside but 36 of one aged
/// set, whose resistance at full charge is several times that at half (PyBaMM 26.10.1.1). Full cells of
/// 4.2 V were measured to rest at 4.14 to 4.21 V (Battery Data Set of the NASA Prognostics Center of
/// Excellence, 2007); 228 measured starts lie inside. Of a cell drawn at random
/// (`tests/MEASUREMENTS.md`) 1,512 voltages lay up to 25 mV lower: the fall of cobalt holds them with
/// half as much again to spare. Cells drawn afterwards confirm it. Iron phosphate falls by a fifth of a
/// volt off its full voltage before its plateau.
#[must_use]
pub const fn first_minute(class: Class) -> FirstMinute {
    let (greatest, fall) = match class {
        Class::Icr => (1.6, 0.07),
        Class::Inr | Class::Imr => (1.8, 0.05),
        Class::Ifr => (2.6, 0.22),
    };
    FirstMinute {
        least: 0.25,
        greatest,
        fall,
    }
}
