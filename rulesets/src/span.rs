//! Intervals from two ends that were worked out apart, and quotients that are always defined.

use rules_core::quantity::{Holds, Interval};

/// Nothing known of what cannot be negative.
pub(crate) fn not_known() -> Interval {
    span(0.0, f64::INFINITY)
}

/// A number so large that nothing of this model reaches it: it stands for "no bound" where an
/// infinity would make a NaN.
pub(crate) const VAST: f64 = 1e9;

/// The numbers between two ends. An end that is not a number leaves its side open; ends that have
/// crossed by rounding are put in order.
pub(crate) fn span(lo: f64, hi: f64) -> Interval {
    let lo = if lo.is_nan() { f64::NEG_INFINITY } else { lo };
    let hi = if hi.is_nan() { f64::INFINITY } else { hi };
    let (lo, hi) = if lo <= hi { (lo, hi) } else { (hi, lo) };
    Interval::new(lo.min(f64::MAX), hi.max(f64::MIN)).unwrap_or(Interval::WHOLE)
}

/// The quotient of two numbers that are not negative: nothing by nothing is nothing, something by
/// nothing is infinite.
pub(crate) fn ratio(part: f64, whole: f64) -> f64 {
    if part <= 0.0 {
        0.0
    } else if whole <= 0.0 {
        f64::INFINITY
    } else {
        part / whole
    }
}

/// The product of two numbers that are not negative: nothing of an infinity is nothing.
pub(crate) fn times(x: f64, y: f64) -> f64 {
    if x <= 0.0 || y <= 0.0 { 0.0 } else { x * y }
}

/// The part of an interval that is not negative; a negative number counts as 0.
pub(crate) fn not_negative(value: Interval) -> Interval {
    value.max(Interval::point(0.0))
}

/// What two readings of one thing both allow; none if they surely contradict each other. Ends that
/// pass each other by less than comparisons tell apart count as one.
pub(crate) fn both(one: Interval, other: Interval) -> Option<Interval> {
    if one.equals(other) == Holds::No {
        return None;
    }
    Some(span(one.lo().max(other.lo()), one.hi().min(other.hi())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_span_is_always_an_interval() {
        assert_eq!(span(1.0, 2.0), Interval::new(1.0, 2.0).unwrap());
        assert_eq!(
            span(f64::NAN, 2.0),
            Interval::new(f64::NEG_INFINITY, 2.0).unwrap()
        );
        assert_eq!(
            span(1.0, f64::NAN),
            Interval::new(1.0, f64::INFINITY).unwrap()
        );
        assert_eq!(
            span(f64::INFINITY, f64::INFINITY),
            Interval::new(f64::MAX, f64::INFINITY).unwrap()
        );
        assert_eq!(
            span(f64::NEG_INFINITY, f64::NEG_INFINITY),
            Interval::new(f64::NEG_INFINITY, f64::MIN).unwrap()
        );
    }

    #[test]
    fn readings_of_one_thing_are_what_both_allow() {
        assert_eq!(both(span(1.0, 3.0), span(2.0, 4.0)), Some(span(2.0, 3.0)));
        assert_eq!(both(span(1.0, 2.0), span(2.0, 4.0)), Some(span(2.0, 2.0)));
        let hair = 2.0 + 1e-10;
        assert_eq!(both(span(1.0, 2.0), span(hair, 4.0)), Some(span(2.0, hair)));
        assert_eq!(both(span(1.0, 2.0), span(2.0 + 1e-8, 4.0)), None);
    }

    #[test]
    fn quotients_and_products_are_defined() {
        assert_eq!(
            (ratio(0.0, 0.0), ratio(1.0, 0.0), ratio(1.0, 4.0)),
            (0.0, f64::INFINITY, 0.25)
        );
        assert!(ratio(1.0, f64::INFINITY).abs() < f64::MIN_POSITIVE);
        assert_eq!((times(0.0, f64::INFINITY), times(2.0, 3.0)), (0.0, 6.0));
    }
}
