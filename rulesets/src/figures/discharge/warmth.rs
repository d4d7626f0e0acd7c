//! How warm a cell may make itself: then it sags less than it did at first, and gives more.
//!
//! Measured: 11 K at 2 C in a sound cell. Worn ones, whose cooling was part of the simulation, are
//! held by 10 K for each C in iron phosphate, which falls off its plateau for it or not, and by 17 K in
//! the classes of 4.2 V. Half as much again is to spare. In a use the margins of these classes cover it
//! up to 1 C.

use crate::class::Class;
use crate::span::times;

/// Kelvins for each C.
const IRON: f64 = 15.0;
const FOUR_VOLT: f64 = 25.0;

/// The rate in C up to which they hold; no faster discharge is compared.
const FASTEST: f64 = 2.0;

/// The rate in C above which a use of a cell of 4.2 V warms it by more than the margins cover.
const FAST: f64 = 1.0;

/// By how many kelvins a use at a rate in C may warm the cell.
pub(super) fn in_use(class: Class, rate: f64) -> f64 {
    if class.is_four_volt() {
        times(rate.min(FASTEST) - FAST, FOUR_VOLT)
    } else {
        in_test(class, rate)
    }
}

/// By how many kelvins a capacity test at a rate in C may have warmed it.
pub(super) fn in_test(class: Class, rate: f64) -> f64 {
    let each = if class.is_four_volt() {
        FOUR_VOLT
    } else {
        IRON
    };
    times(rate.min(FASTEST), each)
}
