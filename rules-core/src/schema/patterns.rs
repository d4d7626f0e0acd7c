//! How quantities are written, as regular expressions.
//!
//! They keep to what ECMA-262, and with it nearly every engine, knows: classes, groups,
//! alternatives and repeats.

use crate::quantity::Kind;

/// The spaces of quantities (`characters::is_space`).
const SPACE: &str = r"[ \t\r\n\u00a0\u2009\u202f]";

/// A pattern with `\s` for the spaces of the language. What `\s` is by itself differs by engine.
pub fn spaced(pattern: &str) -> String {
    pattern.replace(r"\s", SPACE)
}

/// A number. U+2212, the typographic minus, is read too.
const NUMBER: &str = r"[-+−]?[0-9]+(\.[0-9]+)?([eE][-+−]?[0-9]+)?";
/// A number that is not negative, as tolerances need it.
const WIDTH: &str = r"\+?[0-9]+(\.[0-9]+)?([eE][-+−]?[0-9]+)?";
/// A whole number.
const WHOLE: &str = r"[-+−]?[0-9]+(\.0+)?";

/// The whole text of a quantity of a kind: an amount, an amount with a tolerance, or a range.
pub(super) fn quantity(kind: Kind) -> String {
    if kind == Kind::Count {
        return spaced(&format!(r"^\s*{WHOLE}(\s*\.\.\s*{WHOLE})?\s*$"));
    }
    let (unit, tolerance) = (unit(kind), tolerance(kind));
    if kind == Kind::Ratio {
        // A range with a unit at its start has one at its end.
        return spaced(&format!(
            r"^\s*{NUMBER}(({unit})?(\s*{tolerance})?|\s*\.\.\s*{NUMBER}({unit})?|{unit}\s*\.\.\s*{NUMBER}{unit})\s*$"
        ));
    }
    spaced(&format!(
        r"^\s*{NUMBER}({unit}(\s*{tolerance})?|({unit})?\s*\.\.\s*{NUMBER}{unit})\s*$"
    ))
}

/// The whole text of a meter's statement for a kind.
pub(super) fn meter(kind: Kind) -> String {
    spaced(&format!(r"^\s*{}\s*$", tolerance(kind)))
}

/// A tolerance from its mark on. A temperature has none in per cent, and a plain number needs no
/// unit in its own.
fn tolerance(kind: Kind) -> String {
    let unit = unit(kind);
    match kind {
        Kind::Temperature => format!(r"(±|\+/-)\s*{WIDTH}{unit}"),
        Kind::Ratio => format!(
            r"(±|\+/-)\s*({WIDTH}({unit})?|{})",
            of_two_parts(&format!("({unit})?"))
        ),
        _ => format!(
            r"(±|\+/-)\s*({WIDTH}({unit}|\s*%)|{})",
            of_two_parts(&format!(r"({unit}|\s*%)"))
        ),
    }
}

/// `(0.5 % + 2 digits)`
fn of_two_parts(unit: &str) -> String {
    format!(r"\(\s*{WIDTH}\s*%\s*\+\s*{WIDTH}({unit}|\s*digits?)\s*\)")
}

/// A unit of a kind with the space before it.
fn unit(kind: Kind) -> String {
    match kind {
        Kind::Drift => format!(
            r"\s*({})/({})",
            spellings(Kind::Voltage),
            spellings(Kind::Time)
        ),
        // Without a space the 1 would belong to the number.
        Kind::Rate => r"(\s*C|\s+1/h)".to_owned(),
        _ => format!(r"\s*({})", spellings(kind)),
    }
}

/// Every spelling of the units of a kind.
fn spellings(kind: Kind) -> String {
    kind.unit_names()
        .iter()
        .map(|name| unit_spelling(name))
        .collect::<Vec<_>>()
        .join("|")
}

/// A unit's name with the characters that may stand for those in it.
pub(super) fn unit_spelling(name: &str) -> String {
    match name {
        "°C" => "[°\u{ba}]C|\u{2103}".to_owned(),
        "K" => "[K\u{212a}]".to_owned(),
        _ => name.replace('µ', "[µ\u{3bc}u]").replace('Ω', "[Ω\u{2126}]"),
    }
}
