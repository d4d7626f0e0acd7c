//! Why a figure is open towards its cautious side, in words, and which test would close it.

use super::margin::Open;

/// A rest voltage that no charge state of the class has.
pub(super) const OFF_CURVE: &str =
    "the rest voltage lies outside the curve of the cell's class; check the class and the reading";

/// Two capacity tests that cannot be compared.
pub(super) const UNLIKE_ENDS: &str = "two capacity tests of an iron phosphate cell compare only where both ended at the same voltage; a slow test to that of the ordinary one would close it";

/// The sentence of a reason.
pub(super) const fn why(open: Open) -> &'static str {
    match open {
        Open::EarlyEnd => {
            "the light's end voltage may lie within the sag at the start; a capacity test at about the light's current to that voltage would close it"
        }
        Open::Reversal => {
            "a cell may be reversed before the string ends; an end voltage for each cell, or cells of equal capacity, would close it"
        }
        Open::DoubtfulTest => {
            "the capacity test does not fit such a cell with such a resistance; a new test, with its current and end voltage, would close it"
        }
        Open::Cold => {
            "the model does not reach so cold; a capacity test at that temperature and current would close it"
        }
        Open::Hot => {
            "the model does not reach so hot; a capacity test at that temperature and current would close it"
        }
        Open::Fast => {
            "the draw is faster than the model reaches; a capacity test at that current would close it"
        }
        Open::SlowTest => {
            "the capacity is known only at a much slower rate; a capacity test at about the light's current would close it"
        }
    }
}
