//! Interval arithmetic at its corners, and comparisons within one part in 10^9.

use super::{assert_ends, interval};
use crate::quantity::{Holds, Interval};

const INF: f64 = f64::INFINITY;

fn point(value: f64) -> Interval {
    Interval::point(value)
}

#[test]
fn ends_are_checked() {
    assert_eq!(Interval::new(2.0, 1.0), None);
    assert_eq!(Interval::new(f64::NAN, 1.0), None);
    assert_eq!(Interval::new(0.0, f64::NAN), None);
    assert_eq!(Interval::new(INF, INF), None);
    assert_eq!(Interval::new(-INF, -INF), None);
    assert_eq!(Interval::new(-INF, INF), Some(Interval::WHOLE));
    assert!(interval(1.0, 1.0).is_point());
    assert_eq!(point(f64::NAN), Interval::WHOLE);
    assert_eq!(point(INF), interval(f64::MAX, INF));
    assert_eq!(point(-INF), interval(-INF, f64::MIN));
}

#[test]
fn sets_of_numbers() {
    let (low, high) = (interval(1.0, 3.0), interval(2.0, 5.0));
    assert_eq!(low.meets(high), Some(interval(2.0, 3.0)));
    assert_eq!(low.meets(interval(3.0, 4.0)), Some(point(3.0)));
    assert_eq!(low.meets(interval(3.5, 4.0)), None);
    assert_eq!(low.hull(interval(7.0, 8.0)), interval(1.0, 8.0));
    assert!(low.contains(1.0) && low.contains(3.0) && !low.contains(3.0_f64.next_up()));
    assert!(low.encloses(low) && !low.encloses(high) && Interval::WHOLE.encloses(low));
    assert_eq!((low.width(), Interval::WHOLE.width()), (2.0, INF));
    assert!(low.is_bounded() && !interval(0.0, INF).is_bounded());
    assert_eq!(
        (
            low.middle(),
            interval(3.0, INF).middle(),
            interval(-INF, 3.0).middle()
        ),
        (2.0, 3.0, 3.0)
    );
    assert_eq!(Interval::WHOLE.middle(), 0.0);
}

#[test]
fn arithmetic_of_ends() {
    let (a, b) = (interval(1.0, 2.0), interval(-3.0, 5.0));
    assert_eq!(a + b, interval(-2.0, 7.0));
    assert_eq!(a - b, interval(-4.0, 5.0));
    assert_eq!(a * b, interval(-6.0, 10.0));
    assert_eq!(b * b, interval(-15.0, 25.0));
    assert_eq!(-b, interval(-5.0, 3.0));
    assert_eq!(b.abs(), interval(0.0, 5.0));
    assert_eq!(interval(-5.0, -3.0).abs(), interval(3.0, 5.0));
    assert_eq!(a.min(b), interval(-3.0, 2.0));
    assert_eq!(a.max(b), interval(1.0, 5.0));
    assert_eq!(b / a, interval(-3.0, 5.0));
    assert_eq!(b / -a, interval(-5.0, 3.0));
    assert_eq!(a / interval(4.0, 8.0), interval(0.125, 0.5));
}

#[test]
fn dividing_by_zero() {
    let (one, negative, zero) = (point(1.0), interval(-2.0, -1.0), point(0.0));
    assert_eq!(one / zero, Interval::WHOLE);
    assert_eq!(zero / zero, Interval::WHOLE);
    assert_eq!(one / interval(-1.0, 1.0), Interval::WHOLE);
    // A divisor that touches zero gives no more than one that is zero: the wider may not say the
    // more.
    for dividend in [one, negative, interval(0.0, 1.0), interval(-1.0, 1.0)] {
        for divisor in [
            interval(0.0, 4.0),
            interval(-4.0, 0.0),
            interval(-0.0, 4.0),
            interval(0.0, INF),
        ] {
            assert_eq!(dividend / divisor, Interval::WHOLE);
        }
    }
    assert!((one / interval(1e-300, 4.0)).is_bounded());
}

#[test]
fn infinities_never_make_nan() {
    let up = interval(0.0, INF);
    assert_eq!(point(0.0) * Interval::WHOLE, point(0.0));
    assert_eq!(up * point(0.0), point(0.0));
    assert_eq!(up * point(-2.0), interval(-INF, 0.0));
    assert_eq!(up - up, Interval::WHOLE);
    assert_eq!(up + up, up);
    assert_eq!(Interval::WHOLE + Interval::WHOLE, Interval::WHOLE);
    assert_eq!(up / interval(1.0, INF), up);
    assert_eq!(interval(1.0, 2.0) / interval(1.0, INF), interval(0.0, 2.0));
    assert_eq!(point(f64::MAX) + point(f64::MAX), interval(f64::MAX, INF));
    assert_eq!(point(f64::MAX) * point(-2.0), interval(-INF, f64::MIN));
    assert_eq!(point(INF) - point(INF), Interval::WHOLE);
}

#[test]
fn four_times_four_point_two_volts_are_sixteen_point_eight() {
    let string = point(4.0) * point(4.20);
    let charged = point(3.0) * point(4.20);
    assert_eq!(string.at_most(point(16.8)), Holds::Yes);
    assert_eq!(point(16.8).at_most(string), Holds::Yes);
    assert_eq!(string.below(point(16.8)), Holds::No);
    assert_eq!(string.equals(point(16.8)), Holds::Yes);
    assert_eq!(charged.equals(point(12.6)), Holds::Yes);
    assert_eq!((point(3.87) - point(3.82)).at_most(point(0.05)), Holds::Yes);
    assert_eq!(point(0.05).below(point(3.87) - point(3.82)), Holds::No);
}

/// Just inside and just outside one part in 10^9 of the larger size.
#[test]
fn the_tolerance_of_comparisons() {
    for size in [1.0, 4.2e6, -3.3e-2] {
        let (base, inside, outside) = (
            point(size),
            point(size * (1.0 + 0.9e-9)),
            point(size * (1.0 + 1.1e-9)),
        );
        assert_eq!(base.equals(inside), Holds::Yes);
        assert_eq!(base.equals(outside), Holds::No);
        let (low, high) = if size > 0.0 {
            (base, outside)
        } else {
            (outside, base)
        };
        assert_eq!(
            (low.below(high), low.at_most(high)),
            (Holds::Yes, Holds::Yes)
        );
        assert_eq!((high.below(low), high.at_most(low)), (Holds::No, Holds::No));
        assert_eq!(
            (base.below(inside), inside.below(base)),
            (Holds::No, Holds::No)
        );
        assert_eq!(
            (base.at_most(inside), inside.at_most(base)),
            (Holds::Yes, Holds::Yes)
        );
    }
    // Just inside and just outside the floor below which nothing is told apart.
    assert_eq!(point(0.0).equals(point(0.9e-12)), Holds::Yes);
    assert_eq!(point(0.0).equals(point(1.1e-12)), Holds::No);
    assert_eq!(
        (point(0.1) + point(0.2) - point(0.3)).at_most(point(0.0)),
        Holds::Yes
    );
    assert_eq!(point(0.0).equals(point(-0.0)), Holds::Yes);
    assert_eq!(point(1.0).equals(interval(1.0, 1.0 + 0.9e-9)), Holds::Yes);
    assert_eq!(
        point(1.0).equals(interval(1.0, 1.0 + 1.1e-9)),
        Holds::Undecided
    );
}

#[test]
fn overlapping_intervals_are_undecided() {
    let (low, high) = (interval(1.0, 3.0), interval(2.0, 4.0));
    assert_eq!(low.at_most(high), Holds::Undecided);
    assert_eq!(low.below(high), Holds::Undecided);
    assert_eq!(high.below(low), Holds::Undecided);
    assert_eq!(low.equals(high), Holds::Undecided);
    assert_eq!(low.equals(low), Holds::Undecided);
    assert_eq!(low.equals(interval(3.0, 4.0)), Holds::Undecided);
    assert_eq!(low.equals(interval(3.1, 4.0)), Holds::No);
    assert_eq!(low.at_most(point(3.0)), Holds::Yes);
    assert_eq!(low.below(point(3.0)), Holds::Undecided);
    assert_eq!(low.below(point(3.1)), Holds::Yes);
    assert_eq!(low.at_most(point(1.0)), Holds::Undecided);
    assert_eq!(low.at_most(point(0.9)), Holds::No);
    assert_eq!(low.below(point(1.0)), Holds::No);
    assert_eq!(Interval::WHOLE.at_most(point(0.0)), Holds::Undecided);
    assert_eq!(Interval::WHOLE.equals(Interval::WHOLE), Holds::Undecided);
    assert_eq!(
        point(f64::MAX).at_most(interval(0.0, INF)),
        Holds::Undecided
    );
}

#[test]
fn inexact_sums_hold_the_exact_result() {
    let third = point(1.0) / point(3.0);
    assert_ends(third, 1.0 / 3.0, 1.0 / 3.0);
    assert!(!third.is_point() && third.is_single());
    // Three times the double below 1/3 is below 1, and three times the one above is above.
    assert!((third * point(3.0)).contains(1.0));
    assert!((third + third + third).contains(1.0));
}
