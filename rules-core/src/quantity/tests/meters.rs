//! Readings of one meter, by the language's section 2.

use super::{assert_ends, interval, measured, metered, stated};
use crate::quantity::{Kind, Measure, Meter, Nature, Quantity};

const METER: &str = "± (0.5 % + 1 mV)";

fn volts(text: &str) -> Measure {
    metered(text, Kind::Voltage, METER)
}

#[test]
fn the_wider_of_meter_and_digits() {
    assert_ends(volts("3.850 V").range(), 3.850 - 0.02025, 3.850 + 0.02025);
    // Half a tenth is wider than 0.0195 V.
    assert_eq!(
        volts("3.7 V").range(),
        measured("3.7 V", Kind::Voltage).range()
    );
    assert_ends(
        metered("3.71 V", Kind::Voltage, "± (0.5 % + 2 digits)").range(),
        3.71 - 0.03855,
        3.71 + 0.03855,
    );
    // A meter as wide as the digits, and one just wider.
    assert_ends(
        metered("4.00 V", Kind::Voltage, "± 5 mV").range(),
        3.995,
        4.005,
    );
    assert_ends(
        metered("4.00 V", Kind::Voltage, "± 5.01 mV").range(),
        3.994_99,
        4.005_01,
    );
}

/// With the digits of 3.9 V the wider at 0.5 % and the meter at 2 %, the difference from 3.850 V
/// must not get narrower.
#[test]
fn a_worse_meter_never_narrows_a_difference() {
    let spread = |meter: &str| {
        Measure::spread(["3.850 V", "3.9 V"].map(|text| metered(text, Kind::Voltage, meter)))
            .unwrap()
            .range()
    };
    let (better, worse) = (spread("± (0.5 % + 1 mV)"), spread("± (2 % + 1 mV)"));
    assert!(worse.encloses(better), "{better:?} {worse:?}");
}

#[test]
fn a_meter_counts_for_its_kind_and_measured_values_only() {
    let meter = Meter::parse(METER, Kind::Voltage).unwrap();
    let quantity = Quantity::parse("3.850 V").unwrap();
    assert_eq!(
        quantity
            .measure(Kind::Voltage, Nature::Stated, Some(&meter))
            .unwrap(),
        Measure::exact(3.85)
    );
    let own = Quantity::parse("3.850 V ± 1 mV")
        .unwrap()
        .measure(Kind::Voltage, Nature::Measured, Some(&meter))
        .unwrap();
    assert_ends(own.range(), 3.849, 3.851);
    let amperes = Quantity::parse("3.850 A")
        .unwrap()
        .measure(Kind::Current, Nature::Measured, Some(&meter))
        .unwrap();
    assert_eq!(amperes, measured("3.850 A", Kind::Current));
}

/// The example of the language: 10 mV ± (2 mV + 0.5 % of that), so from 8 mV × 0.995 to 12 mV ×
/// 1.005.
#[test]
fn a_match_of_ten_millivolts_can_be_seen() {
    let (low, high) = (volts("3.850 V"), volts("3.860 V"));
    let difference = high - low;
    assert_ends(difference.range(), 0.007_96, 0.012_06);
    assert!((difference.nominal() - 0.010).abs() < 1e-15);
    assert_ends(
        Measure::spread([low, high]).unwrap().range(),
        0.007_96,
        0.012_06,
    );
    assert_ends((low - high).range(), -0.012_06, -0.007_96);
    // Without the meter's gain in common: 10 mV ± (20.25 mV + 20.3 mV).
    let unshared =
        stated("3.860 V ± 20.3 mV", Kind::Voltage) - stated("3.850 V ± 20.25 mV", Kind::Voltage);
    assert_ends(unshared.range(), 0.010 - 0.04055, 0.010 + 0.04055);
}

#[test]
fn half_a_digit_may_be_more_than_the_fixed_part() {
    // 0.5 % of 3.85 V is wider than 5 mV, but the fixed 1 mV is not.
    let difference = volts("3.86 V") - volts("3.85 V");
    assert_ends(difference.range(), 0.0, 0.020 * 1.005);
}

#[test]
fn the_gain_cancels_in_a_quotient() {
    let quotient = volts("4.000 V") / volts("2.000 V");
    assert_ends(quotient.range(), 3.999 / 2.001, 4.001 / 1.999);
    // And then there is no meter left to share: the ordinary difference of 2 and 2.
    let difference = quotient - quotient;
    let width = 4.001 / 1.999 - 3.999 / 2.001;
    assert_ends(difference.range(), -width, width);
}

#[test]
fn numbers_without_a_meter_scale_a_reading() {
    let two = Measure::exact(2.0);
    let difference = volts("3.860 V") * two - volts("3.850 V") * two;
    assert_ends(difference.range(), 2.0 * 0.007_96, 2.0 * 0.012_06);
    let halves = volts("3.860 V") / two - volts("3.850 V") / two;
    assert_ends(halves.range(), 0.5 * 0.007_96, 0.5 * 0.012_06);
    let other_side = two * volts("3.860 V") + -(two * volts("3.850 V"));
    assert_ends(other_side.range(), 2.0 * 0.007_96, 2.0 * 0.012_06);
    let uncertain = Measure::of(interval(1.0, 2.0));
    assert_ends(
        ((volts("3.860 V") - volts("3.850 V")) * uncertain).range(),
        0.007_96,
        2.0 * 0.012_06,
    );
}

#[test]
fn other_steps_drop_the_meter() {
    let (low, high) = (volts("3.850 V"), volts("3.860 V"));
    let ordinary = |one: Measure, two: Measure| Measure::of(one.range()) - Measure::of(two.range());
    let zero = Measure::exact(0.0);
    let dropped = [
        high.abs() - low,
        (high + zero) - low,
        (high * high) - (low * low),
    ];
    let expected = [
        ordinary(high, low),
        ordinary(high + zero, low),
        ordinary(high * high, low * low),
    ];
    for (dropped, expected) in dropped.into_iter().zip(expected) {
        assert_eq!(dropped.range(), expected.range());
    }
    let inverse = Measure::exact(1.0) / high;
    assert_eq!(
        (inverse - inverse).range(),
        ordinary(inverse, inverse).range()
    );
}

#[test]
fn two_meters_share_nothing() {
    let (other, own) = (metered("3.860 A", Kind::Current, METER_A), volts("3.850 V"));
    let as_volts = other * Measure::exact(1.0);
    assert_eq!((as_volts - own).range(), as_volts.range() - own.range());
    assert_eq!((other / own).range(), other.range() / own.range());
}

const METER_A: &str = "± (0.5 % + 1 mA)";

#[test]
fn the_lesser_and_the_greater_keep_the_meter() {
    let (low, high) = (volts("3.850 V"), volts("3.860 V"));
    assert_ends((low.max(high) - low.min(high)).range(), 0.007_96, 0.012_06);
    let folded = Measure::greatest([high, low]).unwrap() - Measure::least([high, low]).unwrap();
    assert_ends(folded.range(), 0.007_96, 0.012_06);
    let mean = Measure::mean([low, high]).unwrap();
    assert_ends((high - mean).range(), 0.003 * 0.995, 0.007 * 1.005);
}

#[test]
fn a_gain_of_everything_is_not_shared() {
    let wild = metered("3.850 V", Kind::Voltage, "± 100 %");
    assert_ends(wild.range(), 0.0, 7.7);
    assert_ends((wild - wild).range(), -7.7, 7.7);
}

#[test]
fn a_domain_does_not_touch_what_is_shared() {
    let (low, high) = (volts("4.198 V"), volts("4.208 V"));
    let cut = |value: Measure| value.clipped_to(interval(0.0, 4.21)).unwrap();
    assert_eq!(cut(high).range().hi(), 4.21);
    assert_ends((cut(high) - cut(low)).range(), 0.007_96, 0.012_06);
}

#[test]
fn simple_acceptance_takes_the_nominal_value() {
    assert_eq!(volts("3.850 V").to_nominal(), Measure::exact(3.85));
}
