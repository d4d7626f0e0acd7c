//! How values print.

use super::{interval, measured, stated};
use crate::quantity::{Interval, Kind, Measure, Unit};

fn shown(value: Measure, kind: Kind) -> String {
    value.shown(kind).to_string()
}

fn between(lo: f64, hi: f64, nominal: f64) -> Measure {
    Measure::with_nominal(interval(lo, hi), nominal)
}

#[test]
fn exact_values() {
    assert_eq!(
        shown(stated("2.50 V", Kind::Voltage), Kind::Voltage),
        "2.5 V"
    );
    assert_eq!(
        shown(Measure::exact(4.0) * Measure::exact(4.20), Kind::Voltage),
        "16.8 V"
    );
    assert_eq!(
        shown(Measure::exact(1.0) / Measure::exact(3.0), Kind::Voltage),
        "0.333333333 V"
    );
    assert_eq!(shown(Measure::exact(-12.0), Kind::Temperature), "-12 degC");
    assert_eq!(shown(Measure::exact(0.0), Kind::Voltage), "0 V");
    assert_eq!(shown(Measure::exact(1e20), Kind::Power), "1e20 W");
    assert_eq!(shown(Measure::exact(1.5e-9), Kind::Power), "1.5e-9 W");
    assert_eq!(shown(Measure::exact(123_456.0), Kind::Power), "123456 W");
    assert_eq!(shown(Measure::exact(7.0), Kind::Count), "7");
}

/// From a millionth up to below a thousand million million no exponent is needed.
#[test]
fn exponents_only_where_a_number_gets_long() {
    let table = [
        (1e-6, "0.000001 W"),
        (9e-7, "9e-7 W"),
        (1e14, "100000000000000 W"),
        (1e15, "1e15 W"),
    ];
    for (value, expected) in table {
        assert_eq!(shown(Measure::exact(value), Kind::Power), expected);
    }
}

#[test]
fn the_unit_follows_the_size() {
    let table = [
        (0.0999, Kind::Voltage, "99.9 mV"),
        (0.1, Kind::Voltage, "0.1 V"),
        (-0.05, Kind::Voltage, "-50 mV"),
        (0.0999, Kind::Current, "99.9 mA"),
        (0.1, Kind::Current, "0.1 A"),
        (9.99, Kind::Charge, "9990 mAh"),
        (10.0, Kind::Charge, "10 Ah"),
        (0.061, Kind::Resistance, "61 mΩ"),
        (1.0, Kind::Resistance, "1 Ω"),
        (7.5, Kind::Power, "7.5 W"),
        (20.0, Kind::Energy, "20 Wh"),
        (10.0 / 3600.0, Kind::Time, "10 s"),
        (0.5, Kind::Time, "30 min"),
        (1.99, Kind::Time, "119.4 min"),
        (2.0, Kind::Time, "2 h"),
        (47.0, Kind::Time, "47 h"),
        (48.0, Kind::Time, "2 d"),
        (0.0, Kind::Time, "0 h"),
        (65.0, Kind::Length, "65 mm"),
        (0.05, Kind::Ratio, "5 %"),
        (0.5, Kind::Rate, "0.5 C"),
        (0.001, Kind::Drift, "24 mV/d"),
        (5.0, Kind::TemperatureDifference, "5 K"),
    ];
    for (value, kind, expected) in table {
        assert_eq!(shown(Measure::exact(value), kind), expected);
    }
    // Held a last bit below the bound, it is still the bound.
    assert_eq!(
        shown(Measure::exact(0.1_f64.next_down()), Kind::Voltage),
        "0.1 V"
    );
}

#[test]
fn uncertainties_have_two_digits_or_one() {
    let table = [
        (3.87, 0.03, "3.87 V ± 0.03 V"),
        (3.87, 0.031, "3.870 V ± 0.031 V"),
        (3.87, 0.0301, "3.870 V ± 0.031 V"),
        (3.8712, 0.0305, "3.871 V ± 0.031 V"),
        (3.87, 0.0996, "3.87 V ± 0.10 V"),
        (3.9, 0.0996, "3.9 V ± 0.1 V"),
        (3.71, 0.005, "3.710 V ± 0.005 V"),
        (0.010, 0.00205, "10.0 mV ± 2.1 mV"),
        (3.7, 12.0, "4 V ± 13 V"),
        (0.0, 0.0123, "0 mV ± 13 mV"),
        (0.0, 0.002_05, "0.0 mV ± 2.1 mV"),
        (0.0, 123.0, "0 V ± 130 V"),
        (3.87, 0.063, "3.870 V ± 0.063 V"),
    ];
    for (value, half, expected) in table {
        assert_eq!(
            shown(between(value - half, value + half, value), Kind::Voltage),
            expected
        );
    }
    assert_eq!(
        shown(
            stated("20 degC ± 2 K", Kind::Temperature),
            Kind::Temperature
        ),
        "20 degC ± 2 K"
    );
    assert_eq!(
        shown(measured("2310 mAh", Kind::Charge), Kind::Charge),
        "2310.0 mAh ± 0.5 mAh"
    );
    assert_eq!(
        shown(stated("50 % ± 1 %", Kind::Ratio), Kind::Ratio),
        "50 % ± 1 %"
    );
}

#[test]
fn lopsided_values_are_ranges_rounded_outward() {
    assert_eq!(
        shown(between(3.604, 3.815, 3.8), Kind::Voltage),
        "3.60..3.82 V"
    );
    assert_eq!(shown(between(3.6, 3.8, 3.62), Kind::Voltage), "3.6..3.8 V");
    assert_eq!(
        shown(between(-10.0, 40.0, 20.0), Kind::Temperature),
        "-10..40 degC"
    );
    assert_eq!(shown(between(0.0, 0.0151, 0.01), Kind::Voltage), "0..16 mV");
    assert_eq!(shown(between(2.0, 4.0, 3.0), Kind::Count), "2..4");
}

/// A nominal value less than 5 % of the half width off the middle is as good as in the middle.
#[test]
fn just_inside_and_outside_the_middle() {
    assert_eq!(
        shown(between(3.6, 3.8, 3.7049), Kind::Voltage),
        "3.7 V ± 0.1 V"
    );
    assert_eq!(
        shown(between(3.6, 3.8, 3.7051), Kind::Voltage),
        "3.6..3.8 V"
    );
    assert_eq!(
        shown(between(3.6, 3.8, 3.6951), Kind::Voltage),
        "3.7 V ± 0.1 V"
    );
    assert_eq!(
        shown(between(3.6, 3.8, 3.6949), Kind::Voltage),
        "3.6..3.8 V"
    );
}

#[test]
fn unbounded_values() {
    let beyond = f64::INFINITY;
    assert_eq!(
        shown(Measure::of(interval(3.0, beyond)), Kind::Voltage),
        "at least 3 V"
    );
    assert_eq!(
        shown(Measure::of(interval(-beyond, 3.0)), Kind::Voltage),
        "at most 3 V"
    );
    assert_eq!(
        shown(Measure::of(Interval::WHOLE), Kind::Voltage),
        "unknown"
    );
    assert_eq!(
        shown(Measure::of(interval(2.0 / 3.0, beyond)), Kind::Voltage),
        "at least 0.666666667 V"
    );
    assert_eq!(
        shown(Measure::of(interval(1.000_000_004, beyond)), Kind::Voltage),
        "at least 1 V"
    );
    assert_eq!(
        shown(Measure::of(interval(1.000_000_006, beyond)), Kind::Voltage),
        "at least 1 V"
    );
    assert_eq!(
        shown(Measure::of(interval(-beyond, 1.000_000_004)), Kind::Voltage),
        "at most 1.00000001 V"
    );
    assert_eq!(
        shown(Measure::of(interval(-beyond, 1.000_000_006)), Kind::Voltage),
        "at most 1.00000001 V"
    );
    // Closer than one part in 10^9 is equal.
    assert_eq!(
        shown(
            Measure::of(interval(-beyond, 1.000_000_000_5)),
            Kind::Voltage
        ),
        "at most 1 V"
    );
}

#[test]
fn in_a_unit_of_choice() {
    let unit = |text: &str| Unit::parse(text).unwrap();
    let value = stated("2310 mAh", Kind::Charge).shown(Kind::Charge);
    assert_eq!(value.in_unit(unit("Ah")).to_string(), "2.31 Ah");
    assert_eq!(value.in_unit(unit("V")).to_string(), "2310 mAh");
    let warm = stated("25 degC ± 2 K", Kind::Temperature).shown(Kind::Temperature);
    assert_eq!(warm.in_unit(unit("K")).to_string(), "298.2 K ± 2.1 K");
    assert_eq!(
        stated("60 mohm", Kind::Resistance)
            .shown(Kind::Resistance)
            .in_unit(unit("mohm"))
            .to_string(),
        "60 mohm"
    );
    assert_eq!(format!("{:>8}", value), "2310 mAh");
}

#[test]
fn noise_round_zero_is_zero() {
    let noise = Measure::exact(0.1) + Measure::exact(0.2) - Measure::exact(0.3);
    assert!(!noise.range().is_point());
    assert_eq!(shown(noise, Kind::Voltage), "0 mV");
    assert_eq!(
        shown(Measure::of(interval(0.0, 0.9e-12)), Kind::Voltage),
        "0 mV"
    );
    assert_eq!(
        shown(Measure::of(interval(0.0, 1e-12)), Kind::Voltage),
        "5e-10 mV ± 5e-10 mV"
    );
}

#[test]
fn a_domain_is_a_range() {
    let domain = |lo, hi| Measure::of(Interval::new(lo, hi).expect("an interval"));
    assert_eq!(
        domain(0.0, 50_000.0)
            .shown(Kind::Voltage)
            .as_range()
            .to_string(),
        "0..50000 V"
    );
    assert_eq!(
        domain(-60.0, 120.0)
            .shown(Kind::Temperature)
            .as_range()
            .to_string(),
        "-60..120 degC"
    );
    // Every digit of an end stays, where a value would be rounded outward to 2.5..4.4 V.
    assert_eq!(
        domain(2.55, 4.35)
            .shown(Kind::Voltage)
            .as_range()
            .to_string(),
        "2.55..4.35 V"
    );
    // A second in days, or a minute in years, says nothing. One unit is written once.
    let time = |lo, hi| domain(lo, hi).shown(Kind::Time).as_range().to_string();
    assert_eq!(time(1.0 / 3600.0, 9600.0), "1 s..400 d");
    assert_eq!(time(0.0, 9600.0), "0..400 d");
    assert_eq!(time(48.0, 9600.0), "2..400 d");
    assert_eq!(time(47.0, 9600.0), "47 h..400 d");
}
