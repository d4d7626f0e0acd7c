//! Amounts and quantities as text, with the interval they stand for worked out here once more.

use rules_core::quantity::Kind;

use super::choices::Choices;
use super::vocabulary::Fact;

/// What is usual of a kind, in base units, and the units it is written in.
pub(crate) struct Usual {
    /// Values that come up again and again, so that they meet. The first is the simplest.
    landmarks: &'static [f64],
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// A unit, and how many base units it is.
    units: &'static [(&'static str, f64)],
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

fn of_number(number: &str, (unit, worth): (&str, f64)) -> Amount {
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
fn range_text(kind: Kind, low: f64, high: f64) -> String {
    let unit = main_unit(kind);
    let digits = if kind == Kind::Count { 1.0 } else { 1e7 };
    let (low, high) = (
        (low * digits).floor() / digits,
        (high * digits).ceil() / digits,
    );
    let gap = if unit.is_empty() { "" } else { " " };
    format!("{low}..{high}{gap}{unit}")
}

/// What a meter of one kind says of itself.
#[derive(Debug, Clone)]
pub(crate) struct Meter {
    pub(crate) text: String,
    kind: Kind,
    spread: Spread,
    gain: f64,
    fixed: f64,
    digits: f64,
}

/// How a quantity says how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Shape {
    /// Not at all.
    Plain,
    /// By a tolerance: this half width.
    Within(f64),
    /// As a range.
    Between(f64, f64),
}

/// A value of a fact as written.
#[derive(Debug, Clone)]
pub(crate) struct Quantity {
    pub(crate) text: String,
    amount: Amount,
    shape: Shape,
}

/// What a quantity says: an interval, the nominal value, and of a reading that shares its meter's
/// gain the core and the gain.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Interval {
    pub(crate) low: f64,
    pub(crate) high: f64,
    pub(crate) nominal: f64,
    pub(crate) core: Option<(f64, f64, f64)>,
}

/// How exactly quantities are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Care {
    /// Every way there is.
    Any,
    /// As a single number.
    Exact,
}

/// A quantity for a fact, now and then with other characters that are read alike.
pub(crate) fn quantity(choices: &mut Choices<'_>, fact: &Fact, care: Care) -> Quantity {
    let made = plain_quantity(choices, fact, care);
    if !choices.one_in(6) {
        return made;
    }
    let (from, to) = *choices.pick(&READ_ALIKE);
    Quantity {
        text: made.text.replace("+/-", "±").replace(from, to),
        ..made
    }
}

/// Characters of LANGUAGE.md section 1 that are read alike.
const READ_ALIKE: [(&str, &str); 10] = [
    (" ", "\u{a0}"),
    (" ", "\u{202f}"),
    (" ", " \u{2009}\t"),
    ("..", " .. "),
    ("-", "\u{2212}"),
    ("°C", "\u{ba}C"),
    ("°C", "\u{2103}"),
    ("K", "\u{212a}"),
    ("Ω", "\u{2126}"),
    ("µ", "\u{3bc}"),
];

fn plain_quantity(choices: &mut Choices<'_>, fact: &Fact, care: Care) -> Quantity {
    let kind = fact.kind().unwrap();
    if matches!(fact.name.as_str(), "light.cut_off" | "charging.low_start") && choices.one_in(5) {
        return Quantity {
            text: "none".to_owned(),
            amount: Amount {
                text: String::new(),
                value: 0.0,
                place: 1.0,
            },
            shape: Shape::Between(0.0, 0.0),
        };
    }
    let amount = if kind == Kind::Temperature && choices.one_in(6) {
        kelvins(choices)
    } else {
        amount(choices, kind, fact.low, fact.high)
    };
    let plain = |amount: Amount| Quantity {
        text: amount.text.clone(),
        amount,
        shape: Shape::Plain,
    };
    match (care, choices.weighted(&[3, 2, 1])) {
        (Care::Exact, _) if fact.measured && kind != Kind::Count => tolerated(
            amount,
            Spread {
                share: 0.0,
                fixed: 0.0,
                digits: 0.0,
            },
            kind,
            "±",
        ),
        (Care::Exact, _) | (_, 0) => plain(amount),
        (_, 1) if kind == Kind::Count => plain(amount),
        (_, 1) => {
            let spread = spread(choices, kind);
            tolerated(
                amount,
                spread,
                kind,
                if choices.one_in(4) { "+/-" } else { "±" },
            )
        }
        _ => around(choices, amount, fact),
    }
}

fn kelvins(choices: &mut Choices<'_>) -> Amount {
    let made = amount(choices, Kind::TemperatureDifference, -10.0, 40.0);
    let number = format!("{:.1}", made.value - ABSOLUTE_ZERO);
    Amount {
        value: number.parse::<f64>().unwrap() + ABSOLUTE_ZERO,
        text: format!("{number} K"),
        place: 0.1,
    }
}

/// A tolerance as a share of the value, a fixed part in base units, and digits of the last place.
#[derive(Debug, Clone, Copy)]
struct Spread {
    share: f64,
    fixed: f64,
    digits: f64,
}

fn spread(choices: &mut Choices<'_>, kind: Kind) -> Spread {
    let size = usual(kind).high / 100.0;
    let fixed = size * [0.1, 0.01, 1.0, 5.0, 0.0][choices.below(5)];
    let share = [0.005, 0.01, 0.03, 0.0, 0.2, 1.5][choices.weighted(&[5, 4, 3, 2, 1, 1])];
    let digits = [2.0, 1.0, 5.0, 0.0][choices.below(4)];
    match choices.below(4) {
        0 => Spread {
            share: 0.0,
            fixed,
            digits: 0.0,
        },
        _ if kind == Kind::Temperature => Spread {
            share: 0.0,
            fixed,
            digits: 0.0,
        },
        1 => Spread {
            share,
            fixed: 0.0,
            digits: 0.0,
        },
        2 => Spread {
            share,
            fixed,
            digits: 0.0,
        },
        _ => Spread {
            share,
            fixed: 0.0,
            digits,
        },
    }
}

impl Spread {
    fn text(self, kind: Kind, mark: &str) -> String {
        let unit = main_unit(kind);
        let percent = format!("{:.2} %", self.share * 100.0);
        let fixed = format!(
            "{:.7} {}",
            self.fixed,
            if kind == Kind::Temperature { "K" } else { unit }
        );
        let fixed = fixed.trim();
        match self {
            Self { digits, .. } if digits > 0.0 => format!("{mark} ({percent} + {digits} digits)"),
            Self {
                share, fixed: 0.0, ..
            } if share > 0.0 => format!("{mark} {percent}"),
            Self { share: 0.0, .. } => format!("{mark} {fixed}"),
            _ => format!("{mark} ({percent} + {fixed})"),
        }
    }

    /// As read back from the text. A percentage of a ratio is percentage points.
    fn meter(self, kind: Kind, mark: &str) -> Meter {
        let share = (self.share * 1e4).round() / 1e4;
        let fixed = (self.fixed * 1e7).round() / 1e7;
        let (gain, fixed) = if kind == Kind::Ratio {
            (0.0, fixed + share)
        } else {
            (share, fixed)
        };
        Meter {
            text: self.text(kind, mark),
            kind,
            spread: self,
            gain,
            fixed,
            digits: self.digits,
        }
    }
}

impl Meter {
    /// One that is no better in any part.
    pub(crate) fn worse(&self, choices: &mut Choices<'_>) -> Self {
        let kind = self.kind;
        let times =
            |choices: &mut Choices<'_>, value: f64| value * [1.0, 1.5, 3.0, 10.0][choices.below(4)];
        let step = usual(kind).high / 1000.0;
        let spread = Spread {
            share: times(choices, self.spread.share),
            fixed: times(choices, self.spread.fixed)
                + if self.spread.digits > 0.0 {
                    0.0
                } else {
                    step * choices.part()
                },
            digits: times(choices, self.spread.digits).ceil(),
        };
        spread.meter(kind, "±")
    }

    fn half(&self, value: f64, place: f64) -> f64 {
        self.gain * value.abs() + self.fixed + self.digits * place
    }
}

/// A meter of a kind.
pub(crate) fn meter(choices: &mut Choices<'_>, kind: Kind) -> Meter {
    spread(choices, kind).meter(kind, "±")
}

fn tolerated(amount: Amount, spread: Spread, kind: Kind, mark: &str) -> Quantity {
    let meter = spread.meter(kind, mark);
    let half = meter.half(amount.value, amount.place);
    Quantity {
        text: format!("{} {}", amount.text, meter.text),
        amount,
        shape: Shape::Within(half),
    }
}

fn around(choices: &mut Choices<'_>, amount: Amount, fact: &Fact) -> Quantity {
    let kind = fact.kind().unwrap();
    let step = usual(kind).high / 50.0;
    let reach = |choices: &mut Choices<'_>| {
        if kind == Kind::Count {
            choices.below(3) as f64
        } else {
            step * choices.part() * [0.1, 1.0, 10.0][choices.below(3)]
        }
    };
    let (below, above) = (reach(choices), reach(choices));
    between(
        fact,
        (amount.value - below).max(fact.low),
        (amount.value + above).min(fact.high),
        amount,
    )
}

fn between(fact: &Fact, low: f64, high: f64, amount: Amount) -> Quantity {
    let text = range_text(fact.kind().unwrap(), low, high);
    let number = |part: &str| part.split(' ').next().unwrap().parse::<f64>().unwrap();
    let (from, to) = text.split_once("..").unwrap();
    // A range says its ends; written outward they may pass the domain by a hair, and the middle
    // must not.
    Quantity {
        shape: Shape::Between(number(from), number(to)),
        text,
        amount,
    }
}

impl Quantity {
    /// An amount as written, without a tolerance.
    pub(crate) fn of_text(kind: Kind, text: &str) -> Self {
        let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
        let worth = usual(kind)
            .units
            .iter()
            .find(|(known, _)| *known == unit)
            .unwrap()
            .1;
        Self {
            text: text.to_owned(),
            amount: of_number(number, (unit, worth)),
            shape: Shape::Plain,
        }
    }

    /// One number and no other.
    pub(crate) fn exactly(fact: &Fact, value: f64) -> Self {
        let kind = fact.kind().unwrap();
        if kind == Kind::Count {
            return Self::of_text(kind, &format!("{}", value.round()));
        }
        let (unit, gap) = (
            main_unit(kind),
            if main_unit(kind).is_empty() { "" } else { " " },
        );
        let half = if kind == Kind::Temperature {
            "0 K".to_owned()
        } else {
            format!("0{gap}{unit}")
        };
        let amount = Amount {
            text: format!("{value:e}{gap}{unit}"),
            value,
            place: 0.0,
        };
        Self {
            text: format!("{} ± {half}", amount.text),
            amount,
            shape: Shape::Within(0.0),
        }
    }

    /// What it says of a fact, with a meter or without.
    pub(crate) fn interval(&self, fact: &Fact, meter: Option<&Meter>) -> Interval {
        let (value, place) = (self.amount.value, self.amount.place);
        let about = |half: f64| Interval {
            low: value - half,
            high: value + half,
            nominal: value,
            core: None,
        };
        let half_place = place / 2.0;
        let said = match self.shape {
            Shape::Between(low, high) => Interval {
                low,
                high,
                nominal: f64::midpoint(low, high),
                core: None,
            },
            Shape::Within(half) => about(half),
            Shape::Plain if !fact.measured || fact.kind() == Some(Kind::Count) => about(0.0),
            Shape::Plain => match meter {
                Some(meter) => {
                    let fixed = half_place.max(meter.fixed + meter.digits * place);
                    let core =
                        (meter.gain < 1.0).then_some((value - fixed, value + fixed, meter.gain));
                    Interval {
                        core,
                        ..about(meter.half(value, place).max(half_place))
                    }
                }
                None => about(half_place),
            },
        };
        Interval {
            low: said.low.max(fact.low),
            high: said.high.min(fact.high),
            ..said
        }
    }

    /// The same nominal value with a tolerance that holds all of this and more. None where that
    /// cannot be written: of a range the middle would move by the last place, and a count has no
    /// tolerance.
    pub(crate) fn widened_round_nominal(
        &self,
        fact: &Fact,
        meter: Option<&Meter>,
        choices: &mut Choices<'_>,
    ) -> Option<Self> {
        let (said, kind) = (self.interval(fact, meter), fact.kind().unwrap());
        if matches!(self.shape, Shape::Between(..)) || kind == Kind::Count {
            return None;
        }
        let half = (said.high - said.nominal).max(said.nominal - said.low);
        let reach = usual(kind).high * choices.part() * [0.002, 0.05, 1.0][choices.below(3)];
        let spread = Spread {
            share: 0.0,
            fixed: half + reach + 1e-6,
            digits: 0.0,
        };
        Some(tolerated(self.amount.clone(), spread, kind, "±"))
    }

    /// A range that holds all of this and more.
    pub(crate) fn widened(
        &self,
        fact: &Fact,
        meter: Option<&Meter>,
        choices: &mut Choices<'_>,
    ) -> Self {
        let said = self.interval(fact, meter);
        let kind = fact.kind().unwrap();
        let reach = |choices: &mut Choices<'_>| {
            usual(kind).high * choices.part() * [0.002, 0.05, 1.0][choices.below(3)]
        };
        let (low, high) = (
            said.low - reach(choices) - 1e-6,
            said.high + reach(choices) + 1e-6,
        );
        between(
            fact,
            low.max(fact.low),
            high.min(fact.high),
            self.amount.clone(),
        )
    }
}
