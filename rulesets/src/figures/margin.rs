//! The model's own error: how far a cell may be from what the model says, and where the model may
//! not be used. Every such number of the crate is under here.
//!
//! The margins hold every row of the project's comparison with twelve published parameter sets
//! (nickel, cobalt and iron phosphate), run as full physical models in PyBaMM 26.10.1.1 at 0.1 to 3
//! C and -10 to 40 degC, with capacity tests at 0.1 to 2 C. They were fitted to those rows: that
//! nothing lies outside is a fit and no proof, and a cell of another kind can still fall outside. How
//! much of each the rows take up, those apart that two thirds of the sets and half of the worn cells
//! would have set it on, `figures/reference/fits.rs` of the tests prints.
//! Worn cells lie inside as `tests/MEASUREMENTS.md` tells; none of these is a measurement, but the
//! measured discharges that it names lie inside as well, and so do cells that were drawn at random
//! after the last margin was set.
//!
//! Every term grows with a wider input, so that knowing less never gives a narrower margin.

mod between_tests;
mod between_voltages;
mod curve_widths;
mod fade;
mod first_minute;
mod mean;
mod open_reason;
mod rest;

mod time;
mod voltage;

pub use self::between_tests::{Of, Run, by_test};
pub use self::between_voltages::shown_voltage;
pub use self::curve_widths::{CURVE_WIDTHS, Width};
pub use self::first_minute::first_minute;
pub use self::mean::half_by_mean;
pub use self::open_reason::OpenReason;
pub use self::rest::{Settling, settling};

pub use self::time::{SlowCapacity, TimeMargin, TimeParts, TimeUse, time, time_parts};
pub(super) use self::voltage::VoltageUse;
pub use self::voltage::{Mark, VoltageMargin};

/// The resistance of a cell in the first moment of a current, as a part of the 10-second one: least
/// and greatest.
///
/// The parameter sets have 0.4 to 0.98, and joined pairs carry 0.55 to 1.74 times what the
/// 10-second resistances say; readings of real cells at 1 kHz are a third to two thirds (from
/// memory).
pub const FIRST_MOMENT: (f64, f64) = (1.0 / 3.0, 2.0);

/// What the other cells of a string add to the error of a cell's end voltage, in volts each,
/// besides that of their own voltage near the end.
pub const STRING_CELL: f64 = 0.08;

/// What a string adds to the relative error of the run time.
pub const STRING_TIME: f64 = 0.02;

/// What a start below nine tenths of the charge adds to the error of the run time, as a part of
/// that of a full cell.
pub const PARTIAL_TIME: f64 = 0.02;

/// Below this a cell of a string is outside all data when the string ends, in volts: the model says
/// no more there than that it may be reversed.
pub const LEAST_END: f64 = 1.0;
