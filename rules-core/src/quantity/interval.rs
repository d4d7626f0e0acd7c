//! Intervals of doubles, their arithmetic and their comparison.

use std::ops::{Add, Div, Mul, Neg, Sub};

use super::rounding::{product, quotient, sum};
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored};

/// Two numbers closer than this part of the larger size are equal.
pub(super) const TOLERANCE: f64 = 1e-9;

/// Numbers closer than this, in base units, are equal whatever their size: a difference that should
/// be nothing may keep the last bits of what it was taken of. It is far below what anybody
/// measures.
pub(super) const FLOOR: f64 = 1e-12;

/// The numbers from a low to a high end, both included. An end may be infinite, and then the
/// interval still holds finite numbers. No end is NaN, and the low end is not above the high end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    lo: f64,
    hi: f64,
}

/// Whether a comparison holds for every pair of values, for none, or for some only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Holds {
    /// Every pair of values satisfies it.
    Yes,
    /// No pair does.
    No,
    /// Some pairs do and some do not.
    Undecided,
}

impl Interval {
    /// All numbers.
    pub const WHOLE: Self = Self {
        lo: f64::NEG_INFINITY,
        hi: f64::INFINITY,
    };

    /// The interval from `lo` to `hi`. None if an end is NaN, `lo` is above `hi`, or no finite
    /// number is inside.
    #[must_use]
    pub const fn new(lo: f64, hi: f64) -> Option<Self> {
        if lo <= hi && lo < f64::INFINITY && hi > f64::NEG_INFINITY {
            Some(Self { lo, hi })
        } else {
            None
        }
    }

    /// The one number. NaN gives the whole line, an infinity what is beyond the doubles.
    #[must_use]
    pub const fn point(value: f64) -> Self {
        if value.is_nan() {
            return Self::WHOLE;
        }
        Self {
            lo: value.min(f64::MAX),
            hi: value.max(f64::MIN),
        }
    }

    /// The numbers that differ from `centre` by at most `half_width`, rounded outward.
    pub(super) fn around(centre: f64, half_width: f64) -> Self {
        Self::sound(sum(centre, -half_width).0, sum(centre, half_width).1)
    }

    /// An interval from ends that are in order and may have overflowed.
    pub(super) const fn sound(lo: f64, hi: f64) -> Self {
        Self {
            lo: lo.min(f64::MAX),
            hi: hi.max(f64::MIN),
        }
    }

    /// The low end.
    #[must_use]
    pub const fn lo(self) -> f64 {
        self.lo
    }

    /// The high end.
    #[must_use]
    pub const fn hi(self) -> f64 {
        self.hi
    }

    /// Whether both ends are the same number.
    #[must_use]
    pub const fn is_point(self) -> bool {
        self.hi <= self.lo
    }

    /// Whether the interval is a single number for comparisons: its ends are equal within one part
    /// in 10^9.
    #[must_use]
    pub fn is_single(self) -> bool {
        close(self.lo, self.hi)
    }

    /// Whether both ends are finite.
    #[must_use]
    pub const fn is_bounded(self) -> bool {
        self.lo.is_finite() && self.hi.is_finite()
    }

    /// The distance of the ends, rounded up; infinite if an end is.
    #[must_use]
    pub fn width(self) -> f64 {
        sum(self.hi, -self.lo).1
    }

    /// A finite number inside: the middle, or the end nearest to zero if the other is infinite.
    #[must_use]
    pub const fn middle(self) -> f64 {
        match (self.lo.is_finite(), self.hi.is_finite()) {
            (true, true) => self.lo.midpoint(self.hi),
            (true, false) => self.lo,
            (false, true) => self.hi,
            (false, false) => 0.0,
        }
    }

    /// Whether the number is inside, ends included.
    #[must_use]
    pub const fn contains(self, value: f64) -> bool {
        self.lo <= value && value <= self.hi
    }

    /// Whether every number of the other interval is inside.
    #[must_use]
    pub const fn encloses(self, other: Self) -> bool {
        self.lo <= other.lo && other.hi <= self.hi
    }

    /// The numbers that lie in both, or none.
    #[must_use]
    pub const fn meets(self, other: Self) -> Option<Self> {
        Self::new(self.lo.max(other.lo), self.hi.min(other.hi))
    }

    /// The smallest interval that encloses both.
    #[must_use]
    pub const fn hull(self, other: Self) -> Self {
        Self {
            lo: self.lo.min(other.lo),
            hi: self.hi.max(other.hi),
        }
    }

    /// The distances from zero.
    #[must_use]
    pub fn abs(self) -> Self {
        if self.lo >= 0.0 {
            self
        } else if self.hi <= 0.0 {
            -self
        } else {
            Self {
                lo: 0.0,
                hi: self.hi.max(-self.lo),
            }
        }
    }

    /// The lesser of a number of this and a number of the other.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        Self {
            lo: self.lo.min(other.lo),
            hi: self.hi.min(other.hi),
        }
    }

    /// The greater of a number of this and a number of the other.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        Self {
            lo: self.lo.max(other.lo),
            hi: self.hi.max(other.hi),
        }
    }

    /// Whether each number of this is at most each of the other, within one part in 10^9.
    #[must_use]
    pub fn at_most(self, other: Self) -> Holds {
        if at_most(self.hi, other.lo) {
            Holds::Yes
        } else if at_most(self.lo, other.hi) {
            Holds::Undecided
        } else {
            Holds::No
        }
    }

    /// Whether each number of this is below each of the other by one part in 10^9 or more.
    #[must_use]
    pub fn below(self, other: Self) -> Holds {
        other.at_most(self).reversed()
    }

    /// Whether both are the same single number, within one part in 10^9: no if they do not meet.
    #[must_use]
    pub fn equals(self, other: Self) -> Holds {
        if self.hull(other).is_single() {
            Holds::Yes
        } else if at_most(self.lo, other.hi) && at_most(other.lo, self.hi) {
            Holds::Undecided
        } else {
            Holds::No
        }
    }

    /// The least and greatest of what `bounds` gives for the four pairs of ends.
    fn corners(self, other: Self, bounds: fn(f64, f64) -> (f64, f64)) -> Self {
        let pairs = [
            (self.lo, other.hi),
            (self.hi, other.lo),
            (self.hi, other.hi),
        ];
        let (lo, hi) = pairs
            .into_iter()
            .fold(bounds(self.lo, other.lo), |(lo, hi), (x, y)| {
                let (down, up) = bounds(x, y);
                (lo.min(down), hi.max(up))
            });
        Self::sound(lo, hi)
    }
}

/// Whether the numbers are equal within the tolerance.
pub(super) fn close(x: f64, y: f64) -> bool {
    // The first part takes infinities and zeros; an infinity is not close to anything else.
    #[expect(
        clippy::float_cmp,
        reason = "identical numbers are equal whatever their size"
    )]
    let same = x == y;
    same || (x - y).abs() < (TOLERANCE * x.abs().max(y.abs())).max(FLOOR)
}

fn at_most(x: f64, y: f64) -> bool {
    x <= y || close(x, y)
}

impl Holds {
    /// Yes for no and no for yes.
    #[must_use]
    pub const fn reversed(self) -> Self {
        match self {
            Self::Yes => Self::No,
            Self::No => Self::Yes,
            Self::Undecided => Self::Undecided,
        }
    }
}

impl Add for Interval {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self::sound(sum(self.lo, other.lo).0, sum(self.hi, other.hi).1)
    }
}

impl Sub for Interval {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        self + -other
    }
}

impl Neg for Interval {
    type Output = Self;

    fn neg(self) -> Self {
        Self {
            lo: -self.hi,
            hi: -self.lo,
        }
    }
}

impl Mul for Interval {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        if self.lo >= 0.0 && other.lo >= 0.0 {
            return Self::sound(product(self.lo, other.lo).0, product(self.hi, other.hi).1);
        }
        self.corners(other, product)
    }
}

/// A divisor that holds zero, inside or at an end, gives the whole line: so a wider divisor never
/// gives less.
impl Div for Interval {
    type Output = Self;

    fn div(self, other: Self) -> Self {
        if self.lo >= 0.0 && other.lo > 0.0 {
            return Self::sound(quotient(self.lo, other.hi).0, quotient(self.hi, other.lo).1);
        }
        if other.contains(0.0) {
            return Self::WHOLE;
        }
        self.corners(other, quotient)
    }
}

impl Stored for Interval {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.lo.write(to);
        self.hi.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Self::new(f64::read(from)?, f64::read(from)?)
    }
}
