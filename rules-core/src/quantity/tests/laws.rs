//! Laws on generated values: results lie inside, wider operands give wider results, text reads
//! back.

use proptest::prelude::*;

use super::interval;
use crate::quantity::{Interval, Kind, Measure, Nature, Quantity, Unit};

/// Doubles of ordinary and extreme sizes, with many zeros and small whole numbers.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => -1e3..1e3_f64,
        1 => (-9..10_i8).prop_map(f64::from),
        1 => proptest::num::f64::NORMAL | proptest::num::f64::SUBNORMAL | proptest::num::f64::ZERO,
    ]
}

/// An interval with two numbers inside.
pub(super) fn with_inside() -> impl Strategy<Value = (Interval, f64)> {
    (number(), number(), 0.0..=1.0_f64).prop_map(|(one, two, part)| {
        let (lo, hi) = (one.min(two), one.max(two));
        let inside = (lo * (1.0 - part) + hi * part).clamp(lo, hi);
        (interval(lo, hi), inside)
    })
}

/// Any kind that takes a tolerance.
fn measured_kind() -> impl Strategy<Value = Kind> {
    let kinds = Kind::ALL.into_iter().filter(|kind| *kind != Kind::Count);
    prop::sample::select(kinds.collect::<Vec<_>>())
}

/// The exact result lies inside if the rounded one is inside after the last bit is given either
/// way.
fn holds(range: Interval, rounded: f64) -> bool {
    rounded.is_nan() || range.lo() <= rounded.next_up() && rounded.next_down() <= range.hi()
}

proptest! {
    #[test]
    fn results_lie_inside((a, x) in with_inside(), (b, y) in with_inside()) {
        prop_assert!((a + b).contains(x + y) || (x + y).is_infinite());
        prop_assert!((a - b).contains(x - y) || (x - y).is_infinite());
        prop_assert!((a * b).contains(x * y) || (x * y).is_infinite());
        prop_assert!(y == 0.0 || (a / b).contains(x / y) || (x / y).is_infinite());
        prop_assert!(holds(a + b, x + y) && holds(a - b, x - y) && holds(a * b, x * y));
        prop_assert!(a.min(b).contains(x.min(y)) && a.max(b).contains(x.max(y)) && a.abs().contains(x.abs()));
    }

    /// Sums of points against whole numbers wide enough for the exact result.
    #[test]
    fn points_give_bounds_on_the_exact_result(x in -1i64 << 60..1 << 60, y in -1i64 << 60..1 << 60) {
        let (exact_x, exact_y) = (x as f64 as i128, y as f64 as i128);
        let (a, b) = (Interval::point(x as f64), Interval::point(y as f64));
        let encloses = |range: Interval, exact: i128| {
            range.lo() as i128 <= exact && exact <= range.hi() as i128 && (range.hi() as i128 - range.lo() as i128) <= exact.abs() >> 50
        };
        prop_assert!(encloses(a + b, exact_x + exact_y) || exact_x + exact_y == 0);
        prop_assert!(encloses(a - b, exact_x - exact_y) || exact_x == exact_y);
        prop_assert!(encloses(a * b, exact_x * exact_y));
    }

    #[test]
    fn ends_are_in_order((a, _) in with_inside(), (b, _) in with_inside()) {
        for range in [a + b, a - b, a * b, a / b, a.abs(), a.min(b), a.max(b), -a] {
            prop_assert!(Interval::new(range.lo(), range.hi()).is_some());
        }
    }

    #[test]
    fn wider_operands_give_wider_results((a, x) in with_inside(), (b, y) in with_inside()) {
        let (inner, other) = (Interval::point(x), Interval::point(y));
        prop_assert!((a + b).encloses(inner + other));
        prop_assert!((a - b).encloses(inner - other));
        prop_assert!((a * b).encloses(inner * other));
        prop_assert!(y == 0.0 || (a / b).encloses(inner / other));
    }

    #[test]
    fn nominal_values_are_finite_and_inside((a, x) in with_inside(), (b, y) in with_inside()) {
        let (one, two) = (Measure::with_nominal(a, x), Measure::with_nominal(b, y));
        for value in [one + two, one - two, one * two, one / two, one.abs(), one.min(two), one.max(two), -one] {
            prop_assert!(value.nominal().is_finite() && value.range().contains(value.nominal()));
        }
    }

    /// A true pair of values under one gain error and two fixed errors stays inside what the
    /// readings say.
    #[test]
    fn readings_of_one_meter_hold_the_truth(
        readings in prop::collection::vec((2_000..4_500_i32, -1.0..=1.0_f64), 2..5),
        gain in -1.0..=1.0_f64,
    ) {
        let truth: Vec<f64> = readings.iter()
            .map(|(reading, fixed)| (f64::from(*reading) + 2.0 * fixed) / 1000.0 * (1.0 + 0.005 * gain)).collect();
        let shown: Vec<Measure> = readings.iter()
            .map(|(reading, _)| super::metered(&format!("{}.{:03} V", reading / 1000, reading % 1000), Kind::Voltage, "± (0.5 % + 2 digits)"))
            .collect();
        // Both errors at their worst together are more than the meter allows.
        prop_assume!(shown.iter().zip(&truth).all(|(value, truth)| value.range().contains(*truth)));
        let inside = |value: Measure, truth: f64| {
            let (lo, hi) = (value.range().lo(), value.range().hi());
            lo - 1e-12 <= truth && truth <= hi + 1e-12
        };
        prop_assert!(inside(shown[0] - shown[1], truth[0] - truth[1]));
        prop_assert!(inside(shown[0] / shown[1], truth[0] / truth[1]));
        let greatest = truth.iter().copied().fold(f64::MIN, f64::max);
        let least = truth.iter().copied().fold(f64::MAX, f64::min);
        prop_assert!(inside(Measure::spread(shown.clone()).unwrap(), greatest - least));
        let total: f64 = truth.iter().sum();
        prop_assert!(inside(Measure::sum(shown.clone()) - shown[0], total - truth[0]));
        let mean = total / f64::from(u32::try_from(truth.len()).unwrap());
        prop_assert!(inside(shown[1] - Measure::mean(shown.clone()).unwrap(), truth[1] - mean));
    }

    #[test]
    fn text_reads_back(
        number in r"[+-]?[0-9]{1,6}(\.[0-9]{1,6})?(e[+-]?[0-9]{1,2})?",
        unit in prop::sample::select(vec!["V", "mV", "mV/d", "%", "1/h", "°C", ""]),
        tail in prop::sample::select(vec!["", " ± 0.02 V", " ± 0.50 %", " +/- (1 % + 2 digits)", "..1e9 V"]),
    ) {
        let text = format!("{number} {unit}{tail}");
        let quantity = Quantity::parse(&text).unwrap();
        prop_assert_eq!(Quantity::parse(&quantity.to_string()).unwrap(), quantity);
    }

    /// What prints as an amount or a range reads back as an interval that holds the value.
    #[test]
    fn printed_values_enclose((a, x) in (-50.0..50.0_f64, 1e-6..10.0_f64, 0.0..=1.0_f64)
        .prop_map(|(lo, width, part)| (interval(lo, lo + width), lo + part * width)), kind in measured_kind()) {
        let text = Measure::with_nominal(a, x).shown(kind).to_string();
        let back = Quantity::read(&text, kind, Nature::Stated, None).unwrap().range();
        let slack = 1e-5 * back.width();
        prop_assert!(back.lo() - slack <= a.lo() && a.hi() <= back.hi() + slack, "{text}");
        // Two digits of the width, outward: not much wider either.
        prop_assert!(back.width() <= 1.6 * a.width(), "{text}");
    }

    #[test]
    fn any_text_is_read_or_refused(text in r"[0-9.eE+\-±()% VAhmKC/dµ,_µ°]{0,16}|\PC{0,12}") {
        for kind in [Kind::Voltage, Kind::Ratio, Kind::Temperature, Kind::Count] {
            match Quantity::read(&text, kind, Nature::Measured, None) {
                Ok(value) => prop_assert!(value.range().contains(value.nominal())),
                Err(error) => prop_assert!(text.get(error.span()).is_some() && !error.help().is_empty()),
            }
        }
    }

    #[test]
    fn any_text_may_start_with_a_unit(text in r"[VAhmKCdsin/%1. -]{0,8}|\PC{0,8}") {
        if let Some((unit, used)) = Unit::longest_prefix(&text) {
            prop_assert_eq!(Some(unit.to_string()), text.get(..used).map(str::to_owned));
        }
    }
}
