//! The model's own error: how far a cell may be from what the model says, and where the model may
//! not be used. Every such number of the crate is under here.
//!
//! The margins hold every row of the project's comparison with twelve published parameter sets
//! (nickel, cobalt and iron phosphate), run as full physical models in PyBaMM 26.10.1.1 at 0.1 to 3
//! C and -10 to 40 degC, with capacity tests at 0.1 to 2 C. They were fitted to those rows: that
//! nothing lies outside is a fit and no proof, and a cell of another kind can still fall outside.
//! None of them is a measurement of an aged cell.
//!
//! Every term grows with a wider input, so that knowing less never gives a narrower margin.

mod rest;
mod time;
mod voltage;

pub use self::rest::{CURVE_WIDTHS, Settling, Width, settling};
pub use self::time::{SlowCapacity, TimeMargin, TimeUse, time};
pub(super) use self::voltage::VoltageUse;
pub use self::voltage::{Mark, VoltageMargin};

/// Why a figure is open towards its cautious side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Open {
    /// The capacity test cannot be of such a cell: its charge, current and end voltage do not fit
    /// the class and the resistance. A new capacity test closes it.
    DoubtfulTest,
    /// The cell is or may be colder than the model reaches. A capacity test at that temperature and
    /// current closes it.
    Cold,
    /// The cell is or may be hotter than the model reaches. A capacity test at that temperature
    /// closes it.
    Hot,
    /// The draw is or may be faster than any cell of the class is known to bear. A capacity test at
    /// that current closes it.
    Fast,
    /// The capacity is known only at a much slower rate than that of the draw, and cells differ
    /// there. A capacity test at the draw's current closes it.
    SlowTest,
    /// The end voltage lies, or may lie, within the sag at the start: the light may stop at once. A
    /// capacity test at that current to that voltage closes it.
    EarlyEnd,
    /// Some cell of a string is or may be driven into reversal before the string ends. An end
    /// voltage for each cell, or cells of equal capacity, close it.
    Reversal,
}

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
