//! Amounts as text: a number and a unit, with what they are worth worked out here once more.

use rules_core::quantity::Kind;

use super::choices::Choices;

/// What is usual of a kind, in base units, and the units it is written in.
pub(crate) struct Usual {
    /// Values that come up again and again, so that they meet. The first is the simplest.
    landmarks: &'static [f64],
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// A unit, and how many base units it is.
    pub(super) units: &'static [(&'static str, f64)],
}

/// Absolute zero in degrees Celsius (SI Brochure, BIPM, 9th edition, section 2.3.1).
const ABSOLUTE_ZERO: f64 = -273.15;

#[rustfmt::skip]
pub(crate) const fn usual(kind: Kind) -> Usual {
    let (landmarks, low, high, units): (&[f64], f64, f64, &[(&str, f64)]) = match kind {
        Kind::Voltage => (&[3.0, 0.0, 0.05, 2.5, 3.7, 4.2, 8.4], 0.0, 9.0, &[("V", 1.0), ("mV", 1e-3), ("kV", 1e3), ("uV", 1e-6), ("µV", 1e-6)]),
        Kind::Current => (&[1.0, 0.0, 0.5, 2.0, 3.0], 0.0, 6.0, &[("A", 1.0), ("mA", 1e-3), ("µA", 1e-6)]),
        Kind::Charge => (&[2.0, 0.0, 1.0, 2.5, 2.6], 0.0, 5.0, &[("Ah", 1.0), ("mAh", 1e-3)]),
        Kind::Resistance => (&[0.06, 0.0, 0.1, 1.0], 0.0, 2.0, &[("ohm", 1.0), ("mΩ", 1e-3), ("Ω", 1.0), ("mohm", 1e-3)]),
        Kind::Power => (&[7.5, 0.0, 3.0, 10.0], 0.0, 20.0, &[("W", 1.0), ("mW", 1e-3), ("kW", 1e3)]),
        Kind::Energy => (&[9.0, 0.0, 1.0, 20.0], 0.0, 40.0, &[("Wh", 1.0), ("mWh", 1e-3), ("kWh", 1e3)]),
        Kind::Temperature => (&[20.0, 0.0, -10.0, 45.0], -20.0, 60.0, &[("degC", 1.0), ("°C", 1.0)]),
        Kind::TemperatureDifference => (&[5.0, 0.0, 10.0, -2.0], -10.0, 40.0, &[("K", 1.0)]),
        Kind::Time => (&[1.0, 24.0, 0.5, 0.0, 336.0], 0.0, 100.0, &[("h", 1.0), ("min", 1.0 / 60.0), ("d", 24.0), ("s", 1.0 / 3600.0)]),
        Kind::Length => (&[65.0, 18.0, 0.0, 66.0, 19.0], 0.0, 80.0, &[("mm", 1.0), ("cm", 10.0), ("m", 1000.0)]),
        Kind::Ratio => (&[0.8, 0.0, 1.0, 0.05, 1.2], 0.0, 1.5, &[("%", 1e-2), ("", 1.0)]),
        Kind::Rate => (&[1.0, 0.0, 0.5, 2.0], 0.0, 4.0, &[("C", 1.0), ("1/h", 1.0)]),
        Kind::Drift => (&[0.0001, 0.0, 0.001], -0.001, 0.003, &[("V/h", 1.0), ("mV/d", 1e-3 / 24.0), ("mV/h", 1e-3), ("µV/min", 6e-5)]),
        Kind::Count => (&[1.0, 2.0, 0.0, 3.0, 4.0], 0.0, 8.0, &[("", 1.0)]),
    };
    Usual { landmarks, low, high, units }
}

/// A decimal with its unit.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Amount {
    pub(crate) text: String,
    /// In base units.
    pub(crate) value: f64,
    /// What one unit of the last place written is worth, in base units.
    pub(crate) place: f64,
}

/// An amount inside a domain, often a landmark.
pub(crate) fn amount(choices: &mut Choices<'_>, kind: Kind, low: f64, high: f64) -> Amount {
    let usual = usual(kind);
    let unit = if kind == Kind::Count {
        usual.units[0]
    } else {
        *choices.pick(usual.units)
    };
    let made = if choices.one_in(2) && kind != Kind::Count {
        let (from, to) = (usual.low.max(low), usual.high.min(high));
        let part = choices.part();
        written(from + part * (to - from), unit, choices.below(4))
    } else {
        written(*choices.pick(usual.landmarks), unit, 9)
    };
    if low <= made.value && made.value <= high {
        return exponent(made, unit, choices);
    }
    let inside = usual
        .landmarks
        .iter()
        .find(|mark| low <= **mark && **mark <= high)
        .unwrap();
    written(*inside, usual.units[0], 9)
}

fn written(base: f64, (unit, worth): (&str, f64), places: usize) -> Amount {
    let number = format!("{:.places$}", base / worth);
    // A decimal that was meant to be short is cut to what it says.
    let number = if places == 9 && number.contains('.') {
        number
            .trim_end_matches('0')
            .trim_end_matches('.')
            .to_owned()
    } else {
        number
    };
    of_number(&number, (unit, worth))
}

pub(super) fn of_number(number: &str, (unit, worth): (&str, f64)) -> Amount {
    let (mantissa, exponent) = number.split_once('e').unwrap_or((number, "0"));
    let decimals = mantissa
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    let place =
        10_f64.powi(exponent.parse::<i32>().unwrap() - i32::try_from(decimals).unwrap()) * worth;
    let gap = if unit.is_empty() { "" } else { " " };
    Amount {
        text: format!("{number}{gap}{unit}"),
        value: number.parse::<f64>().unwrap() * worth,
        place,
    }
}

/// Now and then the same with an exponent, which keeps its last place.
fn exponent(amount: Amount, unit: (&str, f64), choices: &mut Choices<'_>) -> Amount {
    let number = amount.text.split(' ').next().unwrap();
    let plain = number
        .split_once('.')
        .map(|(whole, decimals)| (format!("{whole}{decimals}"), decimals.len()));
    match plain {
        Some((digits, decimals)) if choices.one_in(8) => {
            of_number(&format!("{digits}e-{decimals}"), unit)
        }
        _ => amount,
    }
}

/// The base unit of a kind; empty for plain numbers.
pub(crate) fn main_unit(kind: Kind) -> &'static str {
    usual(kind)
        .units
        .iter()
        .find(|(_, worth)| (0.9999..1.0001).contains(worth))
        .unwrap()
        .0
}

/// What an interval in base units is written as, so that it is no narrower.
pub(super) fn range_text(kind: Kind, low: f64, high: f64) -> String {
    let unit = main_unit(kind);
    let digits = if kind == Kind::Count { 1.0 } else { 1e7 };
    let (low, high) = (
        (low * digits).floor() / digits,
        (high * digits).ceil() / digits,
    );
    let gap = if unit.is_empty() { "" } else { " " };
    format!("{low}..{high}{gap}{unit}")
}

pub(super) fn kelvins(choices: &mut Choices<'_>) -> Amount {
    let made = amount(choices, Kind::TemperatureDifference, -10.0, 40.0);
    let number = format!("{:.1}", made.value - ABSOLUTE_ZERO);
    Amount {
        value: number.parse::<f64>().unwrap() + ABSOLUTE_ZERO,
        text: format!("{number} K"),
        place: 0.1,
    }
}
