//! Wide results and plain comparisons against the exact ones.

use proptest::prelude::*;

use super::interval;
use super::laws::with_inside;
use crate::quantity::{Holds, Interval};

/// How far two ends are apart, as a part of their size: nothing, about what counts as equal, and more.
const APART: [f64; 11] = [
    -1e-3, -2.5e-9, -1.5e-9, -0.5e-9, 0.0, 0.4e-9, 0.6e-9, 1.5e-9, 2.5e-9, 1e-6, 1.0,
];

/// Two intervals of which the first ends about where the second begins, or both begin there.
fn neighbours() -> impl Strategy<Value = (Interval, Interval)> {
    let apart = prop::sample::select(APART.to_vec());
    let sizes = (1e-3..1e3_f64, 0.0..=1.0_f64, 0.0..=1.0_f64);
    (sizes, apart, any::<bool>(), any::<bool>()).prop_map(
        |((end, before, after), apart, is_end, turned)| {
            let one = match is_end {
                true => interval(end - before, end),
                false => interval(end, end + before),
            };
            let start = end + end * apart;
            let other = interval(start, start + after);
            if turned { (-one, -other) } else { (one, other) }
        },
    )
}

/// Intervals within one: all of it, each end, and half.
fn within(range: Interval) -> [Interval; 4] {
    let middle = range.middle();
    [
        range,
        Interval::point(range.lo()),
        Interval::point(range.hi()),
        interval(range.lo(), middle),
    ]
}

/// What is plain of two intervals is so of all that lie within them.
fn plain_holds_within(one: Interval, other: Interval) -> Result<(), TestCaseError> {
    let at_most = match one.plainly_at_most(other) {
        Some(true) => Holds::Yes,
        Some(false) => Holds::No,
        None => return Ok(()),
    };
    for one in within(one) {
        for other in within(other) {
            prop_assert_eq!(one.at_most(other), at_most, "{:?} {:?}", one, other);
            prop_assert_eq!(other.below(one), at_most.reversed());
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn wide_results_hold_the_exact_ones((one, _) in with_inside(), (other, _) in with_inside()) {
        prop_assert!(one.wide_sum(other).encloses(one + other));
        prop_assert!(one.wide_product(other).encloses(one * other));
        prop_assert!(one.wide_quotient(other).encloses(one / other));
    }

    #[test]
    fn what_is_plain_holds_of_all_within((one, other) in neighbours()) {
        plain_holds_within(one, other)?;
        plain_holds_within(other, one)?;
        if one.is_far_below(other) {
            prop_assert_eq!(one.below(other), Holds::Yes);
            prop_assert_eq!(one.equals(other), Holds::No);
        }
    }

    #[test]
    fn what_plainly_overlaps_is_undecided((one, other) in neighbours()) {
        if one.plainly_overlaps(other) {
            prop_assert_eq!(one.at_most(other), Holds::Undecided);
            prop_assert_eq!(one.below(other), Holds::Undecided);
            prop_assert_eq!(one.equals(other), Holds::Undecided);
        }
    }
}

/// Equal is what differs by less than one part in 10^9, plain what differs by less than half of one
/// or by more than two.
#[test]
fn what_is_nearly_equal_is_not_plain() {
    let from_one = |parts: f64| Interval::point(1.0 + parts * 1e-9);
    let against_one = |parts| from_one(parts).plainly_at_most(Interval::point(1.0));
    assert_eq!(against_one(-0.1), Some(true));
    assert_eq!(against_one(0.0), Some(true));
    assert_eq!(against_one(0.4), Some(true));
    assert_eq!(against_one(0.6), None);
    assert_eq!(against_one(0.9), None);
    assert_eq!(against_one(1.9), None);
    assert_eq!(against_one(2.1), Some(false));
    let reaching = |parts: f64| interval(0.0, 1.0 + parts * 1e-9);
    let overlaps = |parts| reaching(parts).plainly_overlaps(interval(1.0, 2.0));
    assert!(!overlaps(1.9) && overlaps(2.1));
}

/// An end that is not known is as far as can be.
#[test]
fn what_is_not_bounded_overlaps() {
    let high = interval(3.0, f64::INFINITY);
    assert!(high.plainly_overlaps(interval(4.0, 5.0)));
    assert!(Interval::WHOLE.plainly_overlaps(Interval::WHOLE));
    assert!(!high.plainly_overlaps(interval(1.0, 2.0)));
    assert_eq!(high.plainly_at_most(interval(1.0, 2.0)), Some(false));
    assert_eq!(high.plainly_at_most(Interval::WHOLE), None);
}
