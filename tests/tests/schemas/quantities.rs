//! The patterns of quantities and meters accept what the library reads, and nothing else.

use jsonschema::Validator;
use proptest::prelude::*;
use rules_core::quantity::{Kind, Meter, Nature, Quantity, QuantityError, QuantityFault, Unit};
use rules_tests::law::always;
use serde_json::{Value, json};

use super::setting::{quantity_validator, validator};

/// The validators of each kind's quantities and meters.
fn validators() -> Vec<(Kind, Validator, Option<Validator>)> {
    let proposal = rulesets::schema::proposal();
    let of = |kind: &Kind| {
        let quantity = quantity_validator(*kind);
        let meter = &proposal["properties"]["meters"]["properties"][kind.name()];
        (
            *kind,
            quantity,
            Some(meter).filter(|meter| meter.is_object()).map(validator),
        )
    };
    Kind::ALL.iter().map(of).collect()
}

/// What a text can be beyond its shape.
fn is_beyond_shape(error: &QuantityError) -> bool {
    // A pattern does not compute: neither what is too large for a double, nor which of two numbers
    // is the larger.
    matches!(
        error.fault(),
        QuantityFault::NotFinite { .. } | QuantityFault::LowAboveHigh { .. }
    )
}

/// Where the pattern is stricter than the loader, with the reason.
fn is_stricter(kind: Kind, text: &str) -> bool {
    // A count that is written with an exponent or with decimals is whole only by computing.
    let computed_count = kind == Kind::Count && text.contains(['e', 'E', '.']);
    // Minus nothing is not negative, but nobody writes a tolerance so.
    let minus_nothing = text.contains(['±', '/']) && text.contains(['-', '−']);
    computed_count || minus_nothing
}

fn assert_agree(kind: Kind, text: &str, pattern: bool, read: Result<(), QuantityError>) {
    match (pattern, read) {
        (true, Err(error)) => assert!(
            is_beyond_shape(&error),
            "`{text}` as {kind}: only the loader refuses it: {error}"
        ),
        (false, Ok(())) => assert!(
            is_stricter(kind, text),
            "`{text}` as {kind}: only the pattern refuses it"
        ),
        _ => {}
    }
}

#[test]
fn every_spelling_of_every_unit() {
    let prefixes = ["", "m", "µ", "μ", "u", "k", "c", "M", "n"];
    let bases = [
        "V", "A", "Ah", "ohm", "Ω", "\u{2126}", "Ohm", "W", "Wh", "K", "\u{212a}", "degC", "°C",
        "ºC", "\u{2103}", "°", "s", "min", "h", "d", "m", "%", "C", "1/h", "v", "a", "cell",
    ];
    let simple: Vec<String> = prefixes
        .iter()
        .flat_map(|prefix| bases.map(|base| format!("{prefix}{base}")))
        .collect();
    let mut known = 0;
    for (kind, quantity, _) in validators() {
        let compound = simple
            .iter()
            .filter(|_| kind == Kind::Drift)
            .flat_map(|over| simple.iter().map(move |under| format!("{over}/{under}")));
        for unit in simple.iter().cloned().chain(compound) {
            let suits = Unit::parse(&unit).is_some_and(|unit| unit.suits(kind));
            known += usize::from(suits);
            assert_eq!(
                quantity.is_valid(&json!(format!("1.5 {unit}"))),
                suits,
                "{unit} as {kind}"
            );
        }
    }
    assert!(known > 40, "{known}");
}

/// The examples of LANGUAGE.md, section 2.
#[test]
fn the_examples_of_the_language() {
    let voltage = [
        "3.71 V ± 0.02 V",
        "3.71 V ± 0.5 %",
        "3.71 V ± (0.5 % + 10 mV)",
        "3.71 V ± (0.5 % + 2 digits)",
        "3.6..3.8 V",
        "3.7 V",
        "3.71 V",
    ];
    let table: [(Kind, &[&str], &[&str]); 5] = [
        (
            Kind::Voltage,
            &voltage,
            &[
                "3.71",
                "3.71 ± 0.02 V",
                "3.71 A",
                "3,71 V",
                "3.71 V ± 2 digits",
                "3.71 V ± 0.02",
                "V",
                "",
                "3.6 V..3.8",
                ".nan",
                "1_000 V",
            ],
        ),
        (
            Kind::Charge,
            &["2310 mAh", "2.3e3 mAh"],
            &["2310 mA", "2310 Wh"],
        ),
        (
            Kind::Temperature,
            &["20 degC", "20 °C ± 2 K", "293.15 K"],
            &["20 degC ± 1 %", "20 C", "20 degC ± (1 % + 1 K)"],
        ),
        (Kind::Rate, &["0.5 C", "2 1/h"], &["21/h", "2 h"]),
        (Kind::Count, &["2", "1..4"], &["2.5", "2 ± 1", "2 %", "two"]),
    ];
    let validators = validators();
    for (kind, good, bad) in table {
        let (_, quantity, _) = validators
            .iter()
            .find(|(one, ..)| *one == kind)
            .expect("a validator");
        for (texts, expected) in [(good, true), (bad, false)] {
            for text in texts {
                assert_eq!(quantity.is_valid(&json!(text)), expected, "{text}");
                assert_eq!(
                    Quantity::read(text, kind, Nature::Stated, None).is_ok(),
                    expected,
                    "{text}"
                );
            }
        }
    }
}

#[test]
fn where_the_pattern_is_stricter() {
    for (kind, text) in [
        (Kind::Count, "2e0"),
        (Kind::Count, "20e-1"),
        (Kind::Voltage, "3.7 V ± -0 V"),
    ] {
        assert!(
            Quantity::read(text, kind, Nature::Stated, None).is_ok(),
            "{text}"
        );
        assert!(is_stricter(kind, text), "{text}");
    }
}

fn number() -> impl Strategy<Value = String> {
    let plain = prop::sample::select(vec![
        "3.71", "0", "2", "12", "-1.5", "+4", "−3", "007", "2.0", "1e3", "2E-2", "1e+1",
    ]);
    let odd = prop::sample::select(vec![
        "", "1,5", ".5", "5.", "1_0", "--1", "1e", "1e400", ".inf", "nan", "0x10", "e3", "1.2.3",
    ]);
    prop_oneof![8 => plain, 1 => odd].prop_map(str::to_owned)
}

fn unit() -> impl Strategy<Value = String> {
    let units: Vec<&str> = Kind::ALL
        .iter()
        .flat_map(|kind| kind.unit_names())
        .copied()
        .collect();
    let odd = prop::sample::select(vec![
        "", "x", "mv", "V/", "/d", "V/V", "digits", "uV", "V.", "(V)", "V V",
    ]);
    prop_oneof![6 => prop::sample::select(units), 2 => odd].prop_map(str::to_owned)
}

fn space() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec!["", " ", " ", "  ", "\t", "\n"])
}

fn amount() -> impl Strategy<Value = String> {
    (number(), space(), unit()).prop_map(|(number, space, unit)| format!("{number}{space}{unit}"))
}

fn tolerance() -> impl Strategy<Value = String> {
    let mark = prop::sample::select(vec!["±", "±", "+/-", "+-", "+ /-", ""]);
    let part = prop_oneof![4 => amount(), 2 => (number(), space()).prop_map(|(n, s)| format!("{n}{s}%")), 1 => number().prop_map(|n| format!("{n} digits"))];
    let sign = prop::sample::select(vec!["+", "+", "+", "-", ""]);
    let two = (
        space(),
        number(),
        space(),
        space(),
        sign,
        space(),
        part.clone(),
        prop::sample::select(vec![")", ")", ")", "", "))"]),
    )
        .prop_map(|(a, percent, b, c, sign, d, part, close)| {
            format!("({a}{percent}{b}%{c}{sign}{d}{part}{close}")
        });
    (mark, space(), prop_oneof![part, two])
        .prop_map(|(mark, space, width)| format!("{mark}{space}{width}"))
}

fn quantity() -> impl Strategy<Value = String> {
    let range = (
        amount(),
        space(),
        prop::sample::select(vec!["..", "..", "...", ".", "-"]),
        space(),
        amount(),
    )
        .prop_map(|(low, a, dots, b, high)| format!("{low}{a}{dots}{b}{high}"));
    let body = prop_oneof![
        3 => amount(),
        3 => (amount(), space(), tolerance()).prop_map(|(amount, space, tolerance)| format!("{amount}{space}{tolerance}")),
        2 => range,
    ];
    (space(), body, space()).prop_map(|(before, body, after)| format!("{before}{body}{after}"))
}

#[test]
fn patterns_and_the_reader_of_quantities_agree() {
    let validators = validators();
    let agree = |text: String| {
        for (kind, quantity, _) in &validators {
            let read = Quantity::read(&text, *kind, Nature::Stated, None).map(drop);
            assert_agree(
                *kind,
                &text,
                quantity.is_valid(&Value::String(text.clone())),
                read,
            );
        }
        Ok(())
    };
    always(
        "patterns and the reader of quantities agree",
        2_000,
        quantity(),
        agree,
    );
}

#[test]
fn patterns_and_the_reader_of_meters_agree() {
    let validators = validators();
    let agree = |text: String| {
        for (kind, _, meter) in &validators {
            let Some(meter) = meter else { continue };
            assert_agree(
                *kind,
                &text,
                meter.is_valid(&Value::String(text.clone())),
                Meter::parse(&text, *kind).map(drop),
            );
        }
        Ok(())
    };
    always(
        "patterns and the reader of meters agree",
        2_000,
        tolerance(),
        agree,
    );
}
