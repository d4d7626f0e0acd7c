//! Folds of many values.

use super::{assert_ends, interval, metered};
use crate::quantity::{Interval, Kind, Measure};

fn of(lo: f64, hi: f64) -> Measure {
    Measure::of(interval(lo, hi))
}

#[test]
fn of_nothing() {
    assert_eq!(Measure::sum([]), Measure::exact(0.0));
    assert_eq!(Measure::mean([]), None);
    assert_eq!(Measure::spread([]), None);
    assert_eq!(Measure::least([]), None);
    assert_eq!(Measure::greatest([]), None);
}

#[test]
fn of_one() {
    let value = of(1.0, 3.0);
    assert_eq!(Measure::sum([value]), value);
    assert_eq!(Measure::mean([value]), Some(value));
    assert_eq!(Measure::spread([value]), Some(Measure::exact(0.0)));
    assert_eq!(Measure::least([value]), Some(value));
    assert_eq!(Measure::greatest([value]), Some(value));
}

#[test]
fn of_several() {
    let values = [of(1.0, 3.0), of(2.0, 6.0), of(4.0, 5.0)];
    assert_eq!(Measure::sum(values).range(), interval(7.0, 14.0));
    assert_eq!(Measure::sum(values).nominal(), 10.5);
    assert_ends(
        Measure::mean(values).unwrap().range(),
        7.0 / 3.0,
        14.0 / 3.0,
    );
    assert_eq!(Measure::least(values).unwrap().range(), interval(1.0, 3.0));
    assert_eq!(
        Measure::greatest(values).unwrap().range(),
        interval(4.0, 6.0)
    );
    assert_eq!(Measure::greatest(values).unwrap().nominal(), 4.5);
    // max(lows) - min(highs) = 4 - 3; max(highs) - min(lows) = 6 - 1.
    let spread = Measure::spread(values).unwrap();
    assert_eq!(spread.range(), interval(1.0, 5.0));
    assert_eq!(spread.nominal(), 2.5);
}

#[test]
fn a_spread_is_never_negative() {
    assert_eq!(
        Measure::spread([of(1.0, 3.0), of(2.0, 4.0)])
            .unwrap()
            .range(),
        interval(0.0, 3.0)
    );
    let unknown = Measure::of(Interval::WHOLE);
    assert_eq!(
        Measure::spread([unknown, of(1.0, 2.0)]).unwrap().range(),
        interval(0.0, f64::INFINITY)
    );
    assert_eq!(
        Measure::spread([Measure::exact(3.7); 3]),
        Some(Measure::exact(0.0))
    );
}

#[test]
fn no_order_makes_a_difference() {
    let values = [0.1, 0.7, 1e16, -1e16, 0.3].map(Measure::exact);
    let mut turned = values;
    for _ in 0..values.len() {
        turned.rotate_left(1);
        assert_eq!(Measure::sum(turned), Measure::sum(values));
        assert_eq!(Measure::mean(turned), Measure::mean(values));
        let mut reversed = turned;
        reversed.reverse();
        assert_eq!(Measure::sum(reversed), Measure::sum(values));
    }
}

#[test]
fn one_stranger_drops_the_meter() {
    let reading = |text: &str| metered(text, Kind::Voltage, "± (0.5 % + 1 mV)");
    let (low, high) = (reading("3.850 V"), reading("3.860 V"));
    let stranger = Measure::exact(3.855);
    assert_ends(
        Measure::spread([low, high]).unwrap().range(),
        0.007_96,
        0.012_06,
    );
    let mixed = Measure::spread([low, stranger, high]).unwrap();
    assert_ends(mixed.range(), 0.0, 3.860 + 0.0203 - (3.850 - 0.02025));
    let sums = Measure::sum([low, low, high]) - Measure::sum([low, low, low]);
    // Cores 11.560 ± 3 mV and 11.550 ± 3 mV.
    assert_ends(sums.range(), 0.004 * 0.995, 0.016 * 1.005);
}

#[test]
fn a_measure_is_small() {
    assert!(size_of::<Measure>() <= 56);
}

#[test]
fn nominal_values_stay_finite_and_inside() {
    let huge = Measure::exact(f64::MAX);
    assert_eq!(Measure::sum([huge, huge]).nominal(), f64::MAX);
    assert_eq!((huge - Measure::exact(f64::MIN)).nominal(), f64::MAX);
    assert_eq!((Measure::exact(0.0) / Measure::exact(0.0)).nominal(), 0.0);
    assert_eq!(
        Measure::with_nominal(interval(1.0, 2.0), 5.0).nominal(),
        2.0
    );
    assert_eq!(Measure::exact(f64::NAN).range(), Interval::WHOLE);
    assert_eq!(Measure::of(interval(3.0, f64::INFINITY)).nominal(), 3.0);
}
