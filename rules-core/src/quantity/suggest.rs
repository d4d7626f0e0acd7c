//! Near misses of units.

use super::simple_unit::SIMPLE;
use super::{Kind, Unit};

/// Names of units that people write out, in lower case and singular.
const NAMES: [(&str, &str); 24] = [
    ("volt", "V"),
    ("millivolt", "mV"),
    ("amp", "A"),
    ("ampere", "A"),
    ("milliamp", "mA"),
    ("milliampere", "mA"),
    ("watt", "W"),
    ("milliohm", "mohm"),
    ("celsius", "degC"),
    ("centigrade", "degC"),
    ("deg", "degC"),
    ("degree", "degC"),
    ("kelvin", "K"),
    ("second", "s"),
    ("sec", "s"),
    ("minute", "min"),
    ("hour", "h"),
    ("hr", "h"),
    ("day", "d"),
    ("millimetre", "mm"),
    ("millimeter", "mm"),
    ("percent", "%"),
    ("pct", "%"),
    ("watthour", "Wh"),
];

/// Words near a unit that must not lead to it, because they are another unit of the same kind.
const OTHER_UNITS: [&str; 8] = ["degf", "°f", "kohm", "kω", "µω", "uohm", "mω/d", "nm"];

/// The unit that the word was probably meant to be, of the expected kind if there is one.
pub(super) fn unit(word: &str, expected: Option<Kind>) -> Option<String> {
    if OTHER_UNITS.contains(&word.to_lowercase().as_str()) {
        return None;
    }
    match word.split_once('/') {
        Some((over, under)) => {
            let pair = format!("{}/{}", spelling(over, None)?, spelling(under, None)?);
            Unit::parse(&pair).map(|_| pair)
        }
        None => spelling(word, expected).map(str::to_owned),
    }
}

fn spelling(word: &str, expected: Option<Kind>) -> Option<&'static str> {
    let lower = word.to_lowercase();
    named(&lower).or_else(|| nearest(word, &lower, expected))
}

fn named(lower: &str) -> Option<&'static str> {
    let singular = lower.strip_suffix('s').unwrap_or(lower);
    NAMES
        .iter()
        .find(|(name, _)| *name == lower || *name == singular)
        .map(|(_, unit)| *unit)
}

/// The unit fewest slips away, at most one slip in three letters. Among equals the expected kind
/// goes first, then the same length, then the same case.
fn nearest(word: &str, lower: &str, expected: Option<Kind>) -> Option<&'static str> {
    let allowed = (lower.chars().count() / 3).min(2);
    SIMPLE
        .iter()
        .map(|simple| {
            let slips = strsim::osa_distance(lower, &simple.spelling.to_lowercase());
            let other_kind = expected.is_some_and(|kind| kind != simple.kind);
            let longer = simple.spelling.len().abs_diff(word.len());
            let exact_slips = strsim::osa_distance(word, simple.spelling);
            (slips, other_kind, longer, exact_slips, simple.spelling)
        })
        .filter(|(slips, ..)| *slips <= allowed)
        .min()
        .map(|(.., spelling)| spelling)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_lead_to_units() {
        let table = [
            ("mv", "mV"),
            ("mha", "mAh"),
            ("mah", "mAh"),
            ("MAH", "mAh"),
            ("Volts", "V"),
            ("volt", "V"),
            ("ohms", "ohm"),
            ("Ohm", "ohm"),
            ("amps", "A"),
            ("hours", "h"),
            ("mins", "min"),
            ("Celsius", "degC"),
            ("degc", "degC"),
            ("KW", "kW"),
            ("percent", "%"),
            ("mv/day", "mV/d"),
            ("milliohms", "mohm"),
            ("v", "V"),
            ("MM", "mm"),
        ];
        for (word, expected) in table {
            assert_eq!(unit(word, None).as_deref(), Some(expected), "{word}");
        }
    }

    #[test]
    fn strange_words_lead_nowhere() {
        for word in [
            "degF", "kohm", "bananas", "x", "xy", "V/cable", "cable/d", "q/h",
        ] {
            assert_eq!(unit(word, None), None, "{word}");
        }
    }

    #[test]
    fn every_suggestion_is_a_unit() {
        for (_, spelling) in NAMES {
            assert!(Unit::parse(spelling).is_some(), "{spelling}");
        }
    }

    #[test]
    fn the_expected_kind_comes_first() {
        assert_eq!(unit("c", Some(Kind::Rate)).as_deref(), Some("C"));
        assert_eq!(unit("M", Some(Kind::Length)).as_deref(), Some("m"));
    }
}
