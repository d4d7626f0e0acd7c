//! What the text of a quantity means, by the examples of the language's section 2.

use super::{assert_ends, interval, measured, stated};
use crate::quantity::{Kind, Measure, Nature, Quantity};

#[test]
fn tolerances() {
    let value = stated("3.71 V ± 0.02 V", Kind::Voltage);
    assert_ends(value.range(), 3.69, 3.73);
    assert_eq!(value.nominal(), 3.71);
    assert_ends(stated("4.00 V ± 0.5 %", Kind::Voltage).range(), 3.98, 4.02);
    assert_ends(
        stated("-4.00 V ± 0.5 %", Kind::Voltage).range(),
        -4.02,
        -3.98,
    );
    assert_ends(
        stated("4.00 V ± (0.5 % + 10 mV)", Kind::Voltage).range(),
        3.97,
        4.03,
    );
    assert_ends(
        stated("4.00 V ± (0.5 % + 2 digits)", Kind::Voltage).range(),
        3.96,
        4.04,
    );
    assert_ends(
        stated("4 V+/-(0.5%+2digits)", Kind::Voltage).range(),
        1.98,
        6.02,
    );
    assert_ends(
        stated("2310 mAh ± 10 mAh", Kind::Charge).range(),
        2.30,
        2.32,
    );
    assert_ends(stated("50 % ± 1 %", Kind::Ratio).range(), 0.49, 0.51);
    assert_ends(stated("0.5 ± 0.01", Kind::Ratio).range(), 0.49, 0.51);
    assert_ends(
        stated("50 % ± (1 % + 2 digits)", Kind::Ratio).range(),
        0.47,
        0.53,
    );
    assert_ends(
        stated("20 degC ± 2 K", Kind::Temperature).range(),
        18.0,
        22.0,
    );
    assert_ends(
        stated("5 K ± 10 %", Kind::TemperatureDifference).range(),
        4.5,
        5.5,
    );
    // A tolerance of its own makes a value as good as that, measured or not.
    assert_eq!(
        measured("3.7 V ± 0.01 V", Kind::Voltage),
        stated("3.7 V ± 0.01 V", Kind::Voltage)
    );
}

#[test]
fn ranges() {
    let value = stated("3.6..3.8 V", Kind::Voltage);
    assert_eq!(value.range(), interval(3.6, 3.8));
    assert_ends(interval(value.nominal(), value.nominal()), 3.7, 3.7);
    assert_eq!(
        stated("900 mA..1.2 A", Kind::Current).range(),
        interval(0.9, 1.2)
    );
    assert_eq!(
        stated("-10 .. 40 degC", Kind::Temperature).range(),
        interval(-10.0, 40.0)
    );
    assert_eq!(stated("5..10 %", Kind::Ratio).range(), interval(0.05, 0.1));
    assert_eq!(stated("2..4", Kind::Count).range(), interval(2.0, 4.0));
    assert_eq!(
        measured("3.6..3.8 V", Kind::Voltage).range(),
        interval(3.6, 3.8)
    );
}

#[test]
fn a_stated_value_is_exact() {
    assert_eq!(stated("4.20 V", Kind::Voltage), Measure::exact(4.2));
    assert_eq!(stated("2310 mAh", Kind::Charge), Measure::exact(2.310));
    assert_eq!(stated("5 %", Kind::Ratio), Measure::exact(0.05));
    assert_eq!(stated("0.05", Kind::Ratio), Measure::exact(0.05));
    assert_eq!(stated("90 min", Kind::Time), Measure::exact(1.5));
    assert_eq!(stated("1 d", Kind::Time), Measure::exact(24.0));
    assert_eq!(stated("2 C", Kind::Rate), stated("2 1/h", Kind::Rate));
    assert_eq!(stated("65.0 mm", Kind::Length), Measure::exact(65.0));
    assert_eq!(stated("6.5 cm", Kind::Length), Measure::exact(65.0));
}

#[test]
fn a_measured_value_is_as_good_as_its_digits() {
    assert_ends(measured("3.7 V", Kind::Voltage).range(), 3.65, 3.75);
    assert_ends(measured("3.71 V", Kind::Voltage).range(), 3.705, 3.715);
    assert_ends(measured("3.710 V", Kind::Voltage).range(), 3.7095, 3.7105);
    assert_ends(measured("2310 mAh", Kind::Charge).range(), 2.3095, 2.3105);
    assert_ends(measured("2.3e3 mAh", Kind::Charge).range(), 2.25, 2.35);
    assert_ends(
        measured("6 mV/d", Kind::Drift).range(),
        5.5 / 24_000.0,
        6.5 / 24_000.0,
    );
    assert_ends(measured("24 h", Kind::Time).range(), 23.5, 24.5);
    assert_ends(
        measured("30 min", Kind::Time).range(),
        29.5 / 60.0,
        30.5 / 60.0,
    );
    assert_ends(measured("5 %", Kind::Ratio).range(), 0.045, 0.055);
    assert_ends(measured("0 V", Kind::Voltage).range(), -0.5, 0.5);
    assert_eq!(measured("3.71 V", Kind::Voltage).nominal(), 3.71);
    assert_eq!(measured("3", Kind::Count), Measure::exact(3.0));
}

/// 0 °C is 273.15 K (SI Brochure, BIPM, 9th edition, section 2.3.1).
#[test]
fn temperatures_may_count_from_absolute_zero() {
    assert_eq!(stated("298.15 K", Kind::Temperature), Measure::exact(25.0));
    assert_eq!(stated("0 K", Kind::Temperature), Measure::exact(-273.15));
    assert_eq!(
        stated("25 K", Kind::TemperatureDifference),
        Measure::exact(25.0)
    );
    assert_eq!(
        stated("273.15..300 K", Kind::Temperature).range(),
        interval(0.0, 26.85)
    );
    assert_ends(measured("298 K", Kind::Temperature).range(), 24.35, 25.35);
    assert_ends(
        stated("298.15 K ± 1 K", Kind::Temperature).range(),
        24.0,
        26.0,
    );
}

#[test]
fn look_alike_signs_are_read() {
    assert_eq!(
        stated("5 \u{b5}A", Kind::Current),
        stated("5 \u{3bc}A", Kind::Current)
    );
    assert_eq!(
        stated("5 uA", Kind::Current),
        stated("5 \u{3bc}A", Kind::Current)
    );
    assert_eq!(
        stated("60 m\u{2126}", Kind::Resistance),
        stated("60 m\u{3a9}", Kind::Resistance)
    );
    assert_eq!(
        stated("60 mohm", Kind::Resistance),
        stated("60 m\u{3a9}", Kind::Resistance)
    );
    assert_eq!(
        stated("\u{2212}5 °C", Kind::Temperature),
        stated("-5 degC", Kind::Temperature)
    );
    assert_eq!(
        stated("5\u{a0}V", Kind::Voltage),
        stated("5 V", Kind::Voltage)
    );
}

#[test]
fn the_text_tells_about_itself() {
    let parse = |text: &str| Quantity::parse(text).unwrap();
    assert_eq!(parse("2310 mAh").nominal(), 2310.0);
    assert_eq!(parse("900 mA..1.1 A").nominal(), 1.0);
    assert_eq!(
        parse("2310 mAh")
            .unit()
            .map(|unit| unit.to_string())
            .as_deref(),
        Some("mAh")
    );
    assert_eq!(
        parse("3.6..3.8 V")
            .unit()
            .map(|unit| unit.to_string())
            .as_deref(),
        Some("V")
    );
    assert_eq!(parse("5").unit(), None);
    assert!(
        parse("3 V ± 1 V").has_tolerance()
            && parse("3..4 V").has_tolerance()
            && !parse("3 V").has_tolerance()
    );
}

#[test]
fn the_same_quantity_is_equal_however_it_is_spaced() {
    let parse = |text: &str| Quantity::parse(text).unwrap();
    assert_eq!(parse(" 3.70V ± 20 mV"), parse("3.70 V ±20mV"));
    assert_ne!(parse("3.7 V"), parse("3.8 V"));
    assert_ne!(parse("3.7 V"), parse("3.70 V"));
    assert_ne!(parse("3.7 V"), parse("3.7 mV"));
    assert_ne!(parse("3.7 V"), parse("3.7"));
    assert_ne!(parse("3.7 V ± 1 %"), parse("3.7 V ± 2 %"));
    assert_ne!(
        parse("3.7 V ± (1 % + 2 digits)"),
        parse("3.7 V ± (2 % + 2 digits)")
    );
    assert_ne!(
        parse("3.7 V ± (1 % + 2 digits)"),
        parse("3.7 V ± (1 % + 3 digits)")
    );
}

/// The nominal value of a result is the result of the nominal values.
#[test]
fn nominal_values_go_through_arithmetic() {
    let (two, three) = (
        Measure::with_nominal(interval(1.0, 4.0), 2.0),
        Measure::with_nominal(interval(1.0, 4.0), 3.0),
    );
    assert_eq!((two + three).nominal(), 5.0);
    assert_eq!((two - three).nominal(), -1.0);
    assert_eq!((two * three).nominal(), 6.0);
    assert_eq!((two / three).nominal(), 2.0 / 3.0);
    assert_eq!((-two).nominal(), -2.0);
    assert_eq!(
        (two.min(three).nominal(), two.max(three).nominal()),
        (2.0, 3.0)
    );
    assert_eq!(Measure::sum([two, three, three]).nominal(), 8.0);
    assert_eq!(
        Measure::mean([two, three]).map(|mean| mean.nominal()),
        Some(2.5)
    );
    assert_eq!(
        Measure::spread([two, three]).map(|spread| spread.nominal()),
        Some(1.0)
    );
}

#[test]
fn domains_cut_a_value_and_refuse_one_of_which_nothing_lies_inside() {
    let value = measured("0.002 V", Kind::Voltage);
    assert_ends(
        value.clipped_to(interval(0.0, 5.0)).unwrap().range(),
        0.0015,
        0.0025,
    );
    let value = measured("0.0 V", Kind::Voltage)
        .clipped_to(interval(0.0, 5.0))
        .unwrap();
    assert_ends(value.range(), 0.0, 0.05);
    assert_eq!(value.nominal(), 0.0);
    assert_eq!(
        stated("5 V", Kind::Voltage).clipped_to(interval(0.0, 5.0)),
        Some(Measure::exact(5.0))
    );
    // The interval reaches into the domain, the nominal value does not: it becomes the nearer end.
    let value = measured("-0.0001 V", Kind::Voltage)
        .clipped_to(interval(-0.000_06, 5.0))
        .unwrap();
    assert_ends(value.range(), -0.000_06, -0.000_05);
    assert_eq!(value.nominal(), -0.000_06);
    assert_eq!(
        measured("-0.0001 V", Kind::Voltage).clipped_to(interval(-0.000_04, 5.0)),
        None
    );
    assert_eq!(
        stated("5.1 V", Kind::Voltage).clipped_to(interval(0.0, 5.0)),
        None
    );
}

#[test]
fn text_prints_back() {
    let table = [
        "3.71 V ± 0.02 V",
        "3.70 V",
        "3.6..3.8 V",
        "900 mA..1.2 A",
        "4.00 V ± (0.5 % + 2 digits)",
        "2.3e3 mAh",
        "5",
        "5 %",
        "-5 °C",
        "1.5 mV/d",
        "2 1/h",
    ];
    for text in table {
        assert_eq!(Quantity::parse(text).unwrap().to_string(), text);
    }
    assert_eq!(
        Quantity::parse("  +3.70V+/-20mV ").unwrap().to_string(),
        "3.70 V ± 20 mV"
    );
}

#[test]
fn stated_and_measured_differ_only_without_a_tolerance() {
    for text in ["3.7 V ± 1 %", "3..4 V"] {
        let quantity = Quantity::parse(text).unwrap();
        let stated = quantity
            .measure(Kind::Voltage, Nature::Stated, None)
            .unwrap();
        assert_eq!(
            stated,
            quantity
                .measure(Kind::Voltage, Nature::Measured, None)
                .unwrap()
        );
    }
}

/// The words of the language for `nature`, and that of what is read off a label.
#[test]
fn natures_have_words() {
    assert_eq!(
        [Nature::Measured, Nature::Printed, Nature::Stated].map(Nature::word),
        ["measured", "printed", "stated"]
    );
}
