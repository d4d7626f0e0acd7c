//! Quantities as facts have them, by every way in which they can be written, with the interval they
//! stand for worked out here once more.

use rules_core::quantity::Kind;

use super::amount::{Amount, amount, kelvins, main_unit, of_number, range_text, usual};
use super::choices::Choices;
use super::meter::{ReadBy, Spread, spread};
use super::vocabulary::Fact;

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

    /// What it says of a fact, by what took it.
    pub(crate) fn interval(&self, fact: &Fact, read_by: ReadBy<'_>) -> Interval {
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
            Shape::Plain => match read_by {
                ReadBy::Stated(meter) => {
                    let fixed = half_place.max(meter.fixed + meter.digits * place);
                    let core =
                        (meter.gain < 1.0).then_some((value - fixed, value + fixed, meter.gain));
                    Interval {
                        core,
                        ..about(meter.half(value, place).max(half_place))
                    }
                }
                ReadBy::Assumed(meters) => {
                    let halves = meters.iter().map(|meter| meter.half(value, place));
                    about(halves.fold(half_place, f64::max))
                }
                ReadBy::Digits => about(half_place),
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
        read_by: ReadBy<'_>,
        choices: &mut Choices<'_>,
    ) -> Option<Self> {
        let (said, kind) = (self.interval(fact, read_by), fact.kind().unwrap());
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
        read_by: ReadBy<'_>,
        choices: &mut Choices<'_>,
    ) -> Self {
        let said = self.interval(fact, read_by);
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
