//! Faults in the text of a quantity: which, where, and what is said about them.

use crate::quantity::{Kind, Nature, Quantity, QuantityError, QuantityFault};

fn error(text: &str, kind: Kind) -> QuantityError {
    Quantity::read(text, kind, Nature::Stated, None).unwrap_err()
}

/// The bytes at fault, as text.
fn at(text: &str, kind: Kind) -> String {
    text.get(error(text, kind).span()).unwrap().to_owned()
}

#[test]
fn amperes_where_volts_belong() {
    let error = error("2 A", Kind::Voltage);
    assert_eq!(error.message(), "`2 A` is a current; a voltage is expected");
    assert_eq!(error.help(), "write it in V or mV, as `2.5 V`");
    assert_eq!(error.to_string(), error.message());
    assert_eq!(error.span(), 0..3);
    assert_eq!(error.suggestion(), None);
}

#[test]
fn other_wrong_kinds() {
    assert_eq!(
        error("5 C", Kind::Temperature).message(),
        "`5 C` is a rate; a temperature is expected"
    );
    assert_eq!(
        error("5 degC", Kind::TemperatureDifference).message(),
        "`5 degC` is a temperature; a temperature difference is expected"
    );
    assert_eq!(
        error("2 Wh", Kind::Charge).message(),
        "`2 Wh` is an energy; a charge is expected"
    );
    assert_eq!(
        error("2 W/A", Kind::Voltage).message(),
        "`2 W/A` is in W/A; a voltage is expected"
    );
    assert_eq!(
        error("2 V", Kind::Count).help(),
        "write it as a plain whole number, with no unit, as `2`"
    );
    assert_eq!(
        error("5 %", Kind::Voltage).message(),
        "`5 %` is a ratio; a voltage is expected"
    );
    assert_eq!(
        error("1 K/h", Kind::Drift).message(),
        "`1 K/h` is in K/h; a drift is expected"
    );
}

#[test]
fn missing_units() {
    let error = error("3.7", Kind::Voltage);
    assert_eq!(
        *error.fault(),
        QuantityFault::MissingUnit {
            found: "3.7".to_owned()
        }
    );
    assert_eq!(error.help(), "write it in V or mV, as `2.5 V`");
    assert_eq!(at("3.6..3.8", Kind::Voltage), "3.6");
    assert_eq!(at("3.6 V..3.8", Kind::Voltage), "3.8");
    assert_eq!(at("3.6 V ± 0.1", Kind::Voltage), "0.1");
}

#[test]
fn unknown_units_with_near_misses() {
    let error = error("65 mv", Kind::Voltage);
    assert_eq!(error.message(), "`mv` is not a unit");
    assert_eq!(error.span(), 3..5);
    assert_eq!(error.suggestion().as_deref(), Some("mV"));
    assert_eq!(error.help(), "write it in V or mV, as `2.5 V`");
    let table = [
        ("2300mha", "mAh", Kind::Charge),
        ("3.7 Volts", "V", Kind::Voltage),
        ("60 ohms", "ohm", Kind::Resistance),
    ];
    for (text, expected, kind) in table {
        assert_eq!(
            self::error(text, kind).suggestion().as_deref(),
            Some(expected),
            "{text}"
        );
    }
    let unbound = Quantity::parse("65 mv").unwrap_err();
    assert_eq!(unbound.suggestion().as_deref(), Some("mV"));
    assert!(unbound.help().contains("mohm"));
    assert_eq!(at("3.7 V ± 20 mv", Kind::Voltage), "mv");
    assert_eq!(at("3.6..3.8 Volt", Kind::Voltage), "Volt");
}

#[test]
fn not_numbers() {
    let table = [
        ("3,7 V", "3,7", Some("3.7")),
        (".5 V", ".5", Some("0.5")),
        ("5. V", "5.", Some("5")),
        ("2_300 mAh", "2_300", Some("2300")),
        ("full", "full", None),
        ("V 3", "V", None),
        ("3.7.1 V", "3.7.1", None),
        ("1,000 V", "1,000", None),
        ("-", "-", None),
        ("± 2 V", "±", None),
        ("(3 V)", "(3", None),
        ("3 V..x", "x", None),
        ("..3 V", "..3", None),
    ];
    for (text, found, meant) in table {
        let error = error(text, Kind::Voltage);
        let fault = QuantityFault::NotANumber {
            found: found.to_owned(),
            meant: meant.map(str::to_owned),
        };
        assert_eq!(*error.fault(), fault, "{text}");
        assert_eq!(error.suggestion().as_deref(), meant, "{text}");
        assert_eq!(text.get(error.span()), Some(found), "{text}");
    }
}

/// Where a comma stands for a decimal point, the help says what does; three digits behind it could be
/// thousands, so that no number is suggested.
#[test]
fn a_comma_is_no_decimal_point() {
    let error = |text: &str| {
        Quantity::parse(text)
            .expect_err(text)
            .expecting(Kind::Voltage)
    };
    for (text, meant) in [("4,16 V", Some("4.16")), ("4,168 V", None)] {
        let error = error(text);
        assert_eq!(error.suggestion().as_deref(), meant, "{text}");
        let help = error.help();
        assert!(help.starts_with("the decimal sign is a point; "), "{help}");
    }
    assert!(!error("four V").help().contains("decimal sign"));
}

/// The sign of an exponent is a part of the number; any other sign ends it.
#[test]
fn what_is_no_number_is_shown_whole() {
    assert_eq!(at("1,5e+3 V", Kind::Voltage), "1,5e+3");
    assert_eq!(at("1,5E+3 V", Kind::Voltage), "1,5E+3");
    assert_eq!(at("1,5+3 V", Kind::Voltage), "1,5");
    assert_eq!(at("1,e+3 V", Kind::Voltage), "1,e");
}

#[test]
fn numbers_are_finite() {
    for text in [
        "1e400 V",
        "1e306 kV",
        "-1e400 V",
        "3 V ± 1e400 V",
        "3 V..1e400 V",
        "1e999999999999 V",
        ".nan",
        "NaN V",
        "-.inf",
        "inf",
        "Infinity V",
    ] {
        assert!(
            matches!(
                error(text, Kind::Voltage).fault(),
                QuantityFault::NotFinite { .. }
            ),
            "{text}"
        );
    }
    assert!(Quantity::read("1e305 kV", Kind::Voltage, Nature::Stated, None).is_ok());
}

#[test]
fn nothing_at_all() {
    assert_eq!(*error("", Kind::Voltage).fault(), QuantityFault::Empty);
    assert_eq!(*error("  ", Kind::Voltage).fault(), QuantityFault::Empty);
    assert_eq!(
        *error("3 V ± ", Kind::Voltage).fault(),
        QuantityFault::Empty
    );
    assert_eq!(*error("3 V..", Kind::Voltage).fault(), QuantityFault::Empty);
}

#[test]
fn ranges_and_tolerances_are_in_order() {
    let error = error("3.8..3.6 V", Kind::Voltage);
    assert_eq!(
        error.message(),
        "the range starts at `3.8 V`, which is above its end `3.6 V`"
    );
    assert!(matches!(
        self::error("900 mA..0.8 A", Kind::Current).fault(),
        QuantityFault::LowAboveHigh { .. }
    ));
    assert!(Quantity::read("3.6..3.6 V", Kind::Voltage, Nature::Stated, None).is_ok());
    assert_eq!(
        *self::error("3 V ± -0.1 V", Kind::Voltage).fault(),
        QuantityFault::NegativeTolerance {
            found: "-0.1 V".to_owned()
        }
    );
    assert!(Quantity::read("3 V ± 0 V", Kind::Voltage, Nature::Stated, None).is_ok());
    assert_eq!(
        *self::error("20 degC ± 1 %", Kind::Temperature).fault(),
        QuantityFault::RelativeTemperature
    );
    assert_eq!(at("20 degC ± 1 %", Kind::Temperature), "± 1 %");
}

#[test]
fn text_that_is_left_over() {
    let table = [
        ("2.5 V per wire", "per wire"),
        ("2.5 V 3", "3"),
        ("3..4 V ± 1 V", "± 1 V"),
        ("3 V ± 1 V ± 2 V", "± 2 V"),
        ("3 V..4 V..5 V", "..5 V"),
        ("3 - 2 V", "- 2 V"),
    ];
    for (text, left) in table {
        assert_eq!(
            *error(text, Kind::Voltage).fault(),
            QuantityFault::TrailingText {
                found: left.to_owned()
            },
            "{text}"
        );
        assert_eq!(at(text, Kind::Voltage), left);
    }
}

#[test]
fn counts_are_whole() {
    let read = |text: &str| {
        Quantity::read(text, Kind::Count, Nature::Measured, None).map(|value| value.nominal())
    };
    assert_eq!(read("2"), Ok(2.0));
    assert_eq!(read("-2"), Ok(-2.0));
    assert_eq!(read("9007199254740991"), Ok(9_007_199_254_740_991.0));
    assert!(matches!(
        error("2.5", Kind::Count).fault(),
        QuantityFault::NotWhole { .. }
    ));
    assert!(matches!(
        error("9007199254740992", Kind::Count).fault(),
        QuantityFault::NotWhole { .. }
    ));
    assert_eq!(
        *error("2 ± 1", Kind::Count).fault(),
        QuantityFault::ToleranceOnCount
    );
    assert!(matches!(
        error("2 %", Kind::Count).fault(),
        QuantityFault::WrongKind { .. }
    ));
}

#[test]
fn no_message_is_without_help() {
    for text in [
        "",
        "x",
        "1e400 V",
        "3",
        "3 mv",
        "3 A",
        "3 V ± -1 V",
        "4..3 V",
        "3 V x",
        "3 V ± (1 V)",
        "3 V ± 2 digits",
    ] {
        let error = error(text, Kind::Voltage);
        assert!(
            !error.message().is_empty() && !error.help().is_empty(),
            "{text}"
        );
        assert!(text.get(error.span()).is_some(), "{text}");
    }
}

/// A character that looks like one of the language, or like none, is named, with what was meant.
#[test]
fn look_alikes_are_named() {
    let table = [
        ("\u{2013}3.7 V", "U+2013", "-3.7 V"),
        ("3.6\u{2013}3.8 V", "U+2013", "3.6..3.8 V"),
        ("3.6 V \u{2014} 3.8 V", "U+2014", "3.6 V .. 3.8 V"),
        ("3.6\u{2026}3.8 V", "U+2026", "3.6..3.8 V"),
        ("\u{ff13}\u{ff0e}7 V", "U+FF13", "3.7 V"),
        ("3.7\u{3000}V", "U+3000", "3.7 V"),
        ("3.7\u{2003}V", "U+2003", "3.7 V"),
        ("3.7\u{200b}V", "U+200B", "3.7V"),
        ("\u{feff}3.7 V", "U+FEFF", "3.7 V"),
        ("3.7 V \u{2213} 0.1 V", "U+2213", "3.7 V ± 0.1 V"),
        ("3.7 V ± 1 \u{ff05}", "U+FF05", "3.7 V ± 1 %"),
        ("3700 \u{33b7}", "U+33B7", "3700 mV"),
        ("3.7 \u{412}", "U+0412", "3.7 V"),
        ("20 \u{2da}C", "U+02DA", "20 °C"),
        ("293 \u{39a}", "U+039A", "293 K"),
    ];
    for (text, named, meant) in table {
        let error = Quantity::parse(text).unwrap_err();
        assert!(error.message().contains(named), "{text}: {error}");
        assert_eq!(error.suggestion().as_deref(), Some(meant), "{text}");
        assert_eq!(error.to_string(), error.message());
    }
}

/// What cannot be read either way is still named, and nothing is suggested.
#[test]
fn a_look_alike_beside_another_fault_suggests_nothing() {
    let error = Quantity::parse("\u{2013}3,7 V").unwrap_err();
    assert!(error.message().contains("U+2013"), "{error}");
    assert_ne!(error.suggestion().as_deref(), Some("-3,7 V"));
    let plain = Quantity::parse("3,7 V").unwrap_err();
    assert!(!plain.message().contains("U+"), "{plain}");
    let meter = crate::quantity::Meter::parse("±\u{3000}1 %", Kind::Voltage).unwrap_err();
    assert_eq!(meter.suggestion().as_deref(), Some("± 1 %"));
}
