//! What meters say of themselves: a share of the reading, a fixed part, and digits of its last place.

use std::collections::BTreeMap;

use rules_core::quantity::Kind;

use super::amount::{main_unit, usual};
use super::choices::Choices;

/// What a meter of one kind says of itself.
#[derive(Debug, Clone)]
pub(crate) struct Meter {
    pub(crate) text: String,
    kind: Kind,
    spread: Spread,
    pub(super) gain: f64,
    pub(super) fixed: f64,
    pub(super) digits: f64,
}

/// A tolerance as a share of the value, a fixed part in base units, and digits of the last place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spread {
    pub(super) share: f64,
    pub(super) fixed: f64,
    pub(super) digits: f64,
}

pub(super) fn spread(choices: &mut Choices<'_>, kind: Kind) -> Spread {
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
    pub(super) fn meter(self, kind: Kind, mark: &str) -> Meter {
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

    /// One that is no worse in any part.
    pub(super) fn better(&self, choices: &mut Choices<'_>) -> Self {
        let mut part = |value: f64| value * [0.1, 0.5, 1.0, 0.0][choices.below(4)];
        let spread = Spread {
            share: part(self.spread.share),
            fixed: part(self.spread.fixed),
            digits: part(self.spread.digits),
        };
        spread.meter(self.kind, "±")
    }

    /// One that is better in each part that says something.
    pub(super) fn halved(&self) -> Self {
        let spread = Spread {
            share: self.spread.share / 2.0,
            fixed: self.spread.fixed / 2.0,
            digits: self.spread.digits / 2.0,
        };
        spread.meter(self.kind, "±")
    }

    /// Whether it says that readings are not exact.
    pub(super) fn is_wide(&self) -> bool {
        self.gain + self.fixed + self.digits > 1e-5
    }

    /// As a ruleset says it: `± (1 % + 3 digits)`.
    pub(super) fn read(said: &str, kind: Kind) -> Self {
        let mut spread = Spread {
            share: 0.0,
            fixed: 0.0,
            digits: 0.0,
        };
        let parts = said.trim_matches(['±', ' ', '(', ')']).split('+');
        for (number, unit) in parts.filter_map(|part| part.trim().split_once(' ')) {
            let number: f64 = number.parse().unwrap();
            match unit {
                "%" => spread.share = number / 100.0,
                "digit" | "digits" => spread.digits = number,
                "K" => spread.fixed = number,
                unit => {
                    let units = usual(kind).units;
                    let known = units.iter().find(|(known, _)| *known == unit);
                    spread.fixed = number * known.unwrap().1;
                }
            }
        }
        spread.meter(kind, "±")
    }

    pub(super) fn half(&self, value: f64, place: f64) -> f64 {
        self.gain * value.abs() + self.fixed + self.digits * place
    }
}

/// What took a reading of which the text says no tolerance.
#[derive(Debug, Clone, Copy)]
pub(crate) enum ReadBy<'m> {
    /// Nobody knows: it is as good as its digits.
    Digits,
    /// The meter of the proposal.
    Stated(&'m Meter),
    /// The widest of those that the rules assume.
    Assumed(&'m [Meter]),
}

/// Meters that rules assume beside those of a proposal: of some kinds, and none better.
pub(super) fn assumed(
    choices: &mut Choices<'_>,
    stated: &BTreeMap<Kind, Meter>,
) -> BTreeMap<Kind, Vec<Meter>> {
    let mut made = BTreeMap::new();
    if choices.one_in(3) {
        return made;
    }
    for kind in METERED {
        if choices.one_in(4) {
            continue;
        }
        let worst = match stated.get(&kind) {
            Some(meter) => meter.worse(choices),
            None => meter(choices, kind),
        };
        let mut meters = vec![worst];
        if choices.one_in(4) {
            meters.push(meter(choices, kind));
        }
        made.insert(kind, meters);
    }
    made
}

/// The kinds of meters in proposals and rules.
pub(super) const METERED: [Kind; 8] = [
    Kind::Voltage,
    Kind::Charge,
    Kind::Resistance,
    Kind::Length,
    Kind::TemperatureDifference,
    Kind::Energy,
    Kind::Ratio,
    Kind::Temperature,
];

/// A meter of a kind.
pub(crate) fn meter(choices: &mut Choices<'_>, kind: Kind) -> Meter {
    spread(choices, kind).meter(kind, "±")
}
