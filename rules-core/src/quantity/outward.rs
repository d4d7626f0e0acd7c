//! Arithmetic and comparison of intervals that cost less and settle less.
//!
//! Each end of a result is moved outward by one double, and nobody asks whether it had to be. What
//! is compared is plain only where numbers are clearly equal or clearly not.

use super::Interval;
use super::interval::{FLOOR, TOLERANCE};

impl Interval {
    /// Holds every sum of a number of this and one of the other.
    pub(crate) fn wide_sum(self, other: Self) -> Self {
        outward(self.lo() + other.lo(), self.hi() + other.hi())
    }

    /// Holds every product.
    pub(crate) fn wide_product(self, other: Self) -> Self {
        if self.lo() > 0.0 && other.lo() > 0.0 {
            outward(self.lo() * other.lo(), self.hi() * other.hi())
        } else {
            self * other
        }
    }

    /// Holds every quotient.
    pub(crate) fn wide_quotient(self, other: Self) -> Self {
        if self.lo() > 0.0 && other.lo() > 0.0 {
            outward(self.lo() / other.hi(), self.hi() / other.lo())
        } else {
            self / other
        }
    }

    /// Whether each number of this is at most each of the other, or above each of it: none where that
    /// is not plain. What is said of intervals holds of all that lie within them.
    #[inline]
    pub(crate) fn plainly_at_most(self, other: Self) -> Option<bool> {
        if self.hi() <= other.lo() {
            Some(true)
        } else if other.is_far_below(self) {
            Some(false)
        } else {
            is_nearly(self.hi(), other.lo()).then_some(true)
        }
    }

    /// Whether some numbers of this are below some of the other and some above, by more than any that
    /// count as equal differ: then no comparison of the two is settled.
    pub(crate) fn plainly_overlaps(self, other: Self) -> bool {
        is_far_below(self.lo(), other.hi()) && is_far_below(other.lo(), self.hi())
    }

    /// Whether each number of this is below each of the other by more than any that count as equal
    /// differ.
    pub(crate) fn is_far_below(self, other: Self) -> bool {
        is_far_below(self.hi(), other.lo())
    }
}

/// Whether two numbers differ by less than half of what equal ones may: so do any two between them.
/// A limit that is just reached is plain by it, though ends were moved outward.
#[inline]
fn is_nearly(one: f64, other: f64) -> bool {
    (one - other).abs() < 0.5 * (TOLERANCE * one.abs().max(other.abs())).max(FLOOR)
}

fn is_far_below(one: f64, other: f64) -> bool {
    let size = one.abs().max(other.abs());
    if size.is_infinite() {
        return one < other;
    }
    other - one > 2.0 * (TOLERANCE * size).max(FLOOR)
}

/// No end is NaN: a low end is never positive infinity, nor a high end negative infinity, and where
/// ends are multiplied or divided all are positive.
const fn outward(lo: f64, hi: f64) -> Interval {
    Interval::sound(lo.next_down(), hi.next_up())
}
