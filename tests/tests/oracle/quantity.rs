//! Quantities as text, read by the grammar of LANGUAGE.md section 2.

use rules_core::quantity::Kind;

use super::end::End;
use super::number::{Core, Number, Span};

/// A unit: its text, its kind, and how many base units it is.
type UnitRow = (&'static str, Kind, f64);

#[rustfmt::skip]
const UNITS: &[UnitRow] = &[
    ("V", Kind::Voltage, 1.0), ("mV", Kind::Voltage, 1e-3), ("µV", Kind::Voltage, 1e-6), ("kV", Kind::Voltage, 1e3),
    ("A", Kind::Current, 1.0), ("mA", Kind::Current, 1e-3), ("µA", Kind::Current, 1e-6),
    ("Ah", Kind::Charge, 1.0), ("mAh", Kind::Charge, 1e-3),
    ("ohm", Kind::Resistance, 1.0), ("Ω", Kind::Resistance, 1.0), ("mohm", Kind::Resistance, 1e-3), ("mΩ", Kind::Resistance, 1e-3),
    ("W", Kind::Power, 1.0), ("mW", Kind::Power, 1e-3), ("kW", Kind::Power, 1e3),
    ("Wh", Kind::Energy, 1.0), ("mWh", Kind::Energy, 1e-3), ("kWh", Kind::Energy, 1e3),
    ("degC", Kind::Temperature, 1.0), ("°C", Kind::Temperature, 1.0), ("K", Kind::TemperatureDifference, 1.0),
    ("s", Kind::Time, 1.0 / 3600.0), ("min", Kind::Time, 1.0 / 60.0), ("h", Kind::Time, 1.0), ("d", Kind::Time, 24.0),
    ("mm", Kind::Length, 1.0), ("cm", Kind::Length, 10.0), ("m", Kind::Length, 1000.0),
    ("%", Kind::Ratio, 0.01), ("C", Kind::Rate, 1.0), ("1/h", Kind::Rate, 1.0),
];

/// The spaces of LANGUAGE.md section 1.
const SPACES: [char; 7] = [' ', '\t', '\n', '\r', '\u{a0}', '\u{2009}', '\u{202f}'];

/// The text without the spaces before it.
pub(crate) fn after_spaces(text: &str) -> &str {
    text.trim_start_matches(SPACES)
}

/// The text without the spaces round it.
pub(crate) fn bare(text: &str) -> &str {
    text.trim_matches(SPACES)
}

/// Both signs of LANGUAGE.md section 1 that are read as a minus.
pub(crate) const MINUS: [char; 2] = ['-', '\u{2212}'];

/// The characters that are read as others, and as which.
const READ_AS: [(char, &str); 5] = [
    ('\u{3bc}', "µ"),
    ('\u{2126}', "Ω"),
    ('\u{ba}', "°"),
    ('\u{2103}', "°C"),
    ('\u{212a}', "K"),
];

/// A unit's kind and worth. `u` is read as the micro sign.
pub(crate) fn unit(text: &str) -> Option<(Kind, f64)> {
    let plain = READ_AS
        .iter()
        .fold(text.to_owned(), |text, (from, to)| text.replace(*from, to));
    let known = |text: &str| {
        UNITS
            .iter()
            .find(|(known, ..)| *known == text)
            .map(|(_, kind, worth)| (*kind, *worth))
    };
    let micro = || {
        plain
            .strip_prefix('u')
            .and_then(|rest| known(&format!("µ{rest}")))
    };
    let drift = || {
        let (over, under) = plain.split_once('/')?;
        match (unit(over)?, unit(under)?) {
            ((Kind::Voltage, volts), (Kind::Time, hours)) => Some((Kind::Drift, volts / hours)),
            _ => None,
        }
    };
    known(&plain).or_else(micro).or_else(drift)
}

/// A decimal: its value, and what one unit of its last place is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Decimal {
    pub(crate) value: f64,
    pub(crate) place: f64,
}

/// The decimal at the start of a text, and what follows it.
pub(crate) fn decimal(text: &str) -> Option<(Decimal, &str)> {
    let signs = ['+', MINUS[0], MINUS[1]];
    let unsigned = text.strip_prefix(signs).unwrap_or(text);
    let after_whole = after_digits(unsigned)?;
    let after_point = after_whole.strip_prefix('.').and_then(after_digits);
    let mantissa = after_point.unwrap_or(after_whole);
    let exponent = mantissa
        .strip_prefix(['e', 'E'])
        .map(|rest| (rest, rest.strip_prefix(signs).unwrap_or(rest)));
    let power = exponent.and_then(|(from, digits)| Some((from, after_digits(digits)?)));
    let rest = power.map_or(mantissa, |(_, rest)| rest);
    let decimals = after_point.map_or(0, |rest| after_whole.len() - rest.len() - 1);
    let power = power
        .map_or(Ok(0), |(from, rest)| {
            hyphened(from.split_at(from.len() - rest.len()).0).parse::<i32>()
        })
        .ok()?;
    let place = 10_f64.powi(power - i32::try_from(decimals).ok()?);
    Some((
        Decimal {
            value: hyphened(text.split_at(text.len() - rest.len()).0)
                .parse()
                .ok()?,
            place,
        },
        rest,
    ))
}

/// With the minus sign that Rust reads.
fn hyphened(number: &str) -> String {
    number.replace(MINUS, "-")
}

/// What follows the digits at the start; none if there are none.
fn after_digits(text: &str) -> Option<&str> {
    let rest = text.trim_start_matches(|c: char| c.is_ascii_digit());
    (rest.len() < text.len()).then_some(rest)
}

/// An amount in base units: the value, what one unit of the last place is worth, and the unit's
/// kind, if it has one.
#[derive(Debug, Clone, Copy)]
struct Amount {
    value: End,
    place: f64,
    /// The unit, as its kind and worth.
    unit: Option<(Kind, f64)>,
}

impl Amount {
    fn kind(self) -> Option<Kind> {
        self.unit.map(|(kind, _)| kind)
    }
}

fn amount(text: &str) -> Amount {
    let (number, rest) =
        decimal(bare(text)).unwrap_or_else(|| panic!("`{text}` starts with a number"));
    with_unit(number, bare(rest))
}

fn with_unit(number: Decimal, text: &str) -> Amount {
    if text.is_empty() {
        return Amount {
            value: End::exact(number.value),
            place: number.place,
            unit: None,
        };
    }
    scaled(
        number,
        unit(text).unwrap_or_else(|| panic!("`{text}` is a unit")),
    )
}

fn scaled(number: Decimal, (kind, worth): (Kind, f64)) -> Amount {
    let value = End::near(number.value * worth);
    Amount {
        value,
        place: number.place * worth,
        unit: Some((kind, worth)),
    }
}

/// A tolerance: a share of the reading, a fixed part, and digits of the last place.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Tolerance {
    pub(crate) share: f64,
    fixed: f64,
    digits: f64,
}

impl Tolerance {
    /// Reads it from after its mark, for a kind.
    fn read(text: &str, kind: Kind) -> Self {
        let inner = bare(text);
        let parts = inner
            .strip_prefix('(')
            .and_then(|rest| rest.strip_suffix(')'))
            .unwrap_or(inner);
        let mut made = Self::default();
        parts
            .split('+')
            .filter(|part| !bare(part).is_empty())
            .for_each(|part| made.add(bare(part), kind));
        made
    }

    fn add(&mut self, part: &str, kind: Kind) {
        let (number, rest) =
            decimal(part).unwrap_or_else(|| panic!("`{part}` starts with a number"));
        match bare(rest) {
            "digit" | "digits" => self.digits += number.value,
            // Of a ratio, percentage points.
            "%" if kind == Kind::Ratio => self.fixed += number.value / 100.0,
            "%" => self.share += number.value / 100.0,
            unit => self.fixed += with_unit(number, unit).value.middle(),
        }
    }

    /// As `meters` writes it.
    pub(crate) fn of_meter(text: &str, kind: Kind) -> Self {
        Self::read(
            bare(text).trim_start_matches("+/-").trim_start_matches('±'),
            kind,
        )
    }

    fn fixed_part(self, place: f64) -> f64 {
        self.fixed + self.digits * place
    }
}

/// What a text says of a number: an interval, a nominal value, and what it shares with other
/// readings of its meter.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Said {
    pub(crate) number: Number,
    pub(crate) nominal: Number,
    pub(crate) kind: Option<Kind>,
}

/// How a number is to be taken where its text has no tolerance.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Taking {
    Stated,
    Measured(Option<Tolerance>),
    /// To a half width, whatever read it.
    Within(f64),
}

/// Reads a quantity of a kind; for a limit, whose unit gives the kind, none is given.
pub(crate) fn said(text: &str, of: Option<Kind>, taking: Taking) -> Said {
    let text = bare(text);
    let mark = ["±", "+/-"]
        .into_iter()
        .find_map(|mark| text.split_once(mark));
    if let Some((before, after)) = mark {
        let amount = converted(amount(before), of);
        let kind = of.or(amount.kind()).unwrap_or(Kind::Ratio);
        let tolerance = Tolerance::read(after, kind);
        let half = amount.value.size() * tolerance.share + tolerance.fixed_part(amount.place);
        return about(amount, half, None);
    }
    if let Some((low, high)) = text.split_once("..") {
        return between(low, high, of);
    }
    let amount = converted(amount(text), of);
    match taking {
        Taking::Measured(meter) if of != Some(Kind::Count) => measured(amount, of, meter),
        Taking::Within(half) => about(amount, half, None),
        _ => about(amount, 0.0, None),
    }
}

/// A temperature in K counts from absolute zero.
fn converted(amount: Amount, of: Option<Kind>) -> Amount {
    if of == Some(Kind::Temperature) && amount.kind() == Some(Kind::TemperatureDifference) {
        return Amount {
            value: amount.value.plus_low(End::exact(-273.15)),
            ..amount
        };
    }
    amount
}

fn between(low: &str, high: &str, of: Option<Kind>) -> Said {
    let high = amount(high);
    let (number, rest) =
        decimal(bare(low)).unwrap_or_else(|| panic!("`{low}` starts with a number"));
    let low = match (bare(rest), high.unit) {
        ("", Some(unit)) => scaled(number, unit),
        (text, _) => with_unit(number, text),
    };
    let (low, high) = (converted(low, of), converted(high, of));
    let span = Span {
        low: low.value,
        high: high.value,
    };
    Said {
        number: Number::plain(span),
        nominal: Number::plain(span.middle()),
        kind: high.kind(),
    }
}

fn around(value: End, half: f64) -> Span {
    let half = End::near(half);
    Span {
        low: value.plus_low(half.negative()),
        high: value.plus_high(half),
    }
}

fn about(amount: Amount, half: f64, core: Option<Core>) -> Said {
    let number = Number {
        span: around(amount.value, half),
        core,
        missing: false,
    };
    Said {
        number,
        nominal: Number::plain(Span::point(amount.value)),
        kind: amount.kind(),
    }
}

/// How wide a reading that says no tolerance is by a meter, if it is one.
pub(crate) fn half_by(text: &str, kind: Kind, meter: Tolerance) -> Option<f64> {
    let says = ["±", "+/-", ".."].iter().any(|mark| text.contains(mark));
    if says || kind == Kind::Count || decimal(bare(text)).is_none() {
        return None;
    }
    let amount = converted(amount(bare(text)), Some(kind));
    let by_meter = meter.share * amount.value.size() + meter.fixed_part(amount.place);
    Some(by_meter.max(amount.place / 2.0))
}

/// As good as the meter or as the digits written, whichever is wider.
fn measured(amount: Amount, of: Option<Kind>, meter: Option<Tolerance>) -> Said {
    let half_digit = amount.place / 2.0;
    let (Some(meter), Some(kind)) = (meter, of) else {
        return about(amount, half_digit, None);
    };
    let fixed = meter.fixed_part(amount.place);
    let span = around(amount.value, half_digit.max(fixed));
    let core = (meter.share < 1.0).then_some(Core {
        meter: kind,
        span,
        gain: meter.share,
    });
    about(
        amount,
        half_digit.max(meter.share * amount.value.size() + fixed),
        core,
    )
}
