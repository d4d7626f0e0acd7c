//! Ranges that go backwards, as a regular expression.

use serde_json::{Value, json};

use super::digits::any;
use super::keywords::{Parts, part};

/// A range that goes from more to less.
pub(super) fn forward(parts: &mut Parts) -> Value {
    part(parts, "range", || {
        let message = "this range goes from more to less: write the smaller number first";
        json!({
            "$comment": "A range goes from less to more.",
            "if": { "pattern": backward() },
            "then": { "pattern": "^[^.]*$", "patternErrorMessage": message },
        })
    })
}

/// As far as can be said: by the number of digits, by the first of as many, and by the first after
/// the point.
fn backward() -> String {
    const REST: &str = r"(\.[0-9]+)?";
    let by_count = (1..=5).map(|n| {
        (
            format!("[1-9][0-9]{{{n},}}{REST}"),
            format!("[0-9]{{1,{n}}}{REST}"),
        )
    });
    let by_first = (0..=3).flat_map(|n| {
        (1..=9).map(move |digit| {
            let less = digit - 1;
            (
                format!("{digit}{}{REST}", any(n)),
                format!("[0-{less}]{}{REST}", any(n)),
            )
        })
    });
    let by_decimal = (0..=9).flat_map(|whole| {
        (1..=9).map(move |digit| {
            let less = digit - 1;
            (
                format!(r"{whole}\.{digit}[0-9]*"),
                format!(r"{whole}(\.[0-{less}][0-9]*)?"),
            )
        })
    });
    let ways = by_count.chain(by_first).chain(by_decimal);
    let ways: Vec<String> = ways
        .map(|(more, less)| format!(r"{more} *\.\. *{less}"))
        .collect();
    format!("^ *({})([^0-9.eE]|$)", ways.join("|"))
}
