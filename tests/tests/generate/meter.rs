//! What meters say of themselves: a share of the reading, a fixed part, and digits of its last place.

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

    pub(super) fn half(&self, value: f64, place: f64) -> f64 {
        self.gain * value.abs() + self.fixed + self.digits * place
    }
}

/// A meter of a kind.
pub(crate) fn meter(choices: &mut Choices<'_>, kind: Kind) -> Meter {
    spread(choices, kind).meter(kind, "±")
}
