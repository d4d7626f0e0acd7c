//! Ends of intervals, known to within the rounding of doubles.
//!
//! The engine rounds every interval outward. Here an end is a stretch that contains the true end
//! and the engine's must, each step taken eight roundings wider. A question that falls inside such
//! a stretch is not answered: it is noted as close, and what hangs on it is not compared.

use std::cell::Cell;

/// Where an end is: not below `from`, not above `to`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct End {
    from: f64,
    to: f64,
}

/// Whether a question was met that rounding alone would answer.
#[derive(Debug, Default)]
pub(crate) struct Close(Cell<bool>);

impl Close {
    pub(crate) fn met(&self) -> bool {
        self.0.get()
    }

    /// An answer, or any where there is none.
    fn settle(&self, answer: Option<bool>) -> bool {
        answer.unwrap_or_else(|| {
            self.0.set(true);
            false
        })
    }
}

const ROUNDING: f64 = 8.0 * f64::EPSILON;

impl End {
    pub(crate) const ZERO: Self = Self::exact(0.0);

    pub(crate) const fn exact(value: f64) -> Self {
        Self {
            from: value,
            to: value,
        }
    }

    /// A value that was just computed.
    pub(crate) fn near(value: f64) -> Self {
        Self::exact(value).wider()
    }

    fn wider(self) -> Self {
        let slack = |value: f64| {
            if value.is_finite() {
                value.abs() * ROUNDING
            } else {
                0.0
            }
        };
        Self {
            from: self.from - slack(self.from),
            to: self.to + slack(self.to),
        }
    }

    /// Some value in this stretch.
    pub(crate) fn middle(self) -> f64 {
        f64::midpoint(self.from, self.to)
    }

    pub(crate) fn size(self) -> f64 {
        self.middle().abs()
    }

    pub(crate) fn negative(self) -> Self {
        Self {
            from: -self.to,
            to: -self.from,
        }
    }

    /// The sum of two lower ends. Unbounded less unbounded can be anything.
    pub(crate) fn plus_low(self, other: Self) -> Self {
        self.plus(other, f64::NEG_INFINITY)
    }

    /// The sum of two higher ends.
    pub(crate) fn plus_high(self, other: Self) -> Self {
        self.plus(other, f64::INFINITY)
    }

    fn plus(self, other: Self, anything: f64) -> Self {
        let add = |a: f64, b: f64| if (a + b).is_nan() { anything } else { a + b };
        Self {
            from: add(self.from, other.from),
            to: add(self.to, other.to),
        }
        .wider()
    }

    pub(crate) fn least(self, other: Self) -> Self {
        Self {
            from: self.from.min(other.from),
            to: self.to.min(other.to),
        }
    }

    pub(crate) fn greatest(self, other: Self) -> Self {
        Self {
            from: self.from.max(other.from),
            to: self.to.max(other.to),
        }
    }

    fn corners(self, other: Self, with: fn(f64, f64) -> f64) -> Self {
        let all = [
            with(self.from, other.from),
            with(self.from, other.to),
            with(self.to, other.from),
            with(self.to, other.to),
        ];
        Self {
            from: all.iter().copied().fold(f64::INFINITY, f64::min),
            to: all.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        }
        .wider()
    }

    pub(crate) fn times(self, other: Self) -> Self {
        self.corners(other, |a, b| if a == 0.0 || b == 0.0 { 0.0 } else { a * b })
    }

    /// Over an end that is surely not 0.
    pub(crate) fn over(self, other: Self) -> Self {
        self.corners(other, |a, b| if b.is_infinite() { 0.0 } else { a / b })
    }

    /// Whether this is surely below or above the other; none where rounding decides.
    fn below(self, other: Self) -> Option<bool> {
        if self.to < other.from {
            Some(true)
        } else if self.from >= other.to {
            Some(false)
        } else {
            None
        }
    }

    /// Closer than one part in 10^9 of the larger size, or than 10^-12; none where rounding
    /// decides.
    fn equals(self, other: Self) -> Option<bool> {
        if self.from.is_infinite() || other.from.is_infinite() {
            return Some(self == other);
        }
        let apart = self.plus_low(other.negative());
        let (apart_most, apart_least) = (
            apart.from.abs().max(apart.to.abs()),
            if apart.from <= 0.0 && apart.to >= 0.0 {
                0.0
            } else {
                apart.from.abs().min(apart.to.abs())
            },
        );
        let size = |end: Self| end.from.abs().max(end.to.abs());
        let belt = (size(self).max(size(other)) * 1e-9).max(1e-12);
        if apart_most < belt * (1.0 - 1e-12) {
            Some(true)
        } else if apart_least > belt * (1.0 + 1e-12) {
            Some(false)
        } else {
            None
        }
    }
}

/// Whether two ends are equal as numbers are.
pub(crate) fn equal(a: End, b: End, close: &Close) -> bool {
    close.settle(a.equals(b))
}

/// Whether one is surely more than the other, and not equal to it.
pub(crate) fn above(a: End, b: End, close: &Close) -> bool {
    match (b.below(a), a.equals(b)) {
        (Some(false), _) | (_, Some(true)) => false,
        (Some(true), Some(false)) => true,
        _ => close.settle(None),
    }
}

/// Whether 0 is between two ends.
pub(crate) fn holds_zero(low: End, high: End, close: &Close) -> bool {
    if low.from > 0.0 || high.to < 0.0 {
        false
    } else if low.to <= 0.0 && high.from >= 0.0 {
        true
    } else {
        close.settle(None)
    }
}
