//! Tests of the parts of this module together.
#![allow(clippy::float_cmp, reason = "decimals are read to the last bit")]

mod comparing;
mod folds;
mod laws;
mod meters;
mod outward;
mod printing;
mod reading;
mod values;

use super::{Interval, Kind, Measure, Meter, Nature, Quantity};

/// A stated value.
fn stated(text: &str, kind: Kind) -> Measure {
    Quantity::read(text, kind, Nature::Stated, None).unwrap()
}

/// A measured value without a meter.
fn measured(text: &str, kind: Kind) -> Measure {
    Quantity::read(text, kind, Nature::Measured, None).unwrap()
}

/// A measured value with a meter.
fn metered(text: &str, kind: Kind, meter: &str) -> Measure {
    let meter = Meter::parse(meter, kind).unwrap();
    Quantity::read(text, kind, Nature::Measured, Some(&meter)).unwrap()
}

/// Fails unless the interval has these ends, to within rounding.
#[track_caller]
fn assert_ends(interval: Interval, lo: f64, hi: f64) {
    let near = |x: f64, y: f64| x == y || (x - y).abs() <= 1e-13 * x.abs().max(y.abs()).max(10.0);
    assert!(
        near(interval.lo(), lo) && near(interval.hi(), hi),
        "{interval:?} is not {lo}..{hi}"
    );
}

/// An interval from its ends.
fn interval(lo: f64, hi: f64) -> Interval {
    Interval::new(lo, hi).unwrap()
}
