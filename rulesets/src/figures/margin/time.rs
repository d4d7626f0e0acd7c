//! The margin of run time and charge.

use super::Open;
use crate::class::Class;
use crate::figures::resistance::arrhenius;
use crate::span::{ratio, times};
use rules_core::quantity::Interval;

/// What the margin of a run time depends on. Each interval is taken at its worst end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeUse {
    /// The cell's class.
    pub class: Class,
    /// The draw's current by the charge of the cell, in C.
    pub rate: Interval,
    /// The capacity test's current by the charge of the cell, in C.
    pub tested: Interval,
    /// Temperature of the cell in use, in degC.
    pub temperature: Interval,
    /// Temperature of the cell in the capacity test, in degC.
    pub test_temperature: Interval,
    /// End voltage in use, in V.
    pub cut_off: Interval,
    /// End voltage of the capacity test, in V.
    pub test_cut_off: Interval,
    /// The draw's current by the grown resistance at the temperature of use, in V.
    pub drop: Interval,
    /// Whether the draw is a constant power.
    pub power: bool,
    /// A second, slow capacity test, if there is one.
    pub slow: Option<SlowCapacity>,
}

/// What a second, slow capacity test shows beside the ordinary one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlowCapacity {
    /// Its current by the charge that it implies, in C.
    pub rate: Interval,
    /// Temperature of the cell in it, in degC.
    pub temperature: Interval,
    /// The charge that the ordinary test implies, by the charge that this one implies. Both are
    /// freed of the sag of their currents: as they were read, the faster test of a sound cell gives
    /// less too, for the sag alone.
    pub ratio: Interval,
}

impl SlowCapacity {
    /// Whether it proves that the rate of the ordinary test did not limit the cell.
    #[must_use]
    pub const fn proves(&self) -> bool {
        self.rate.hi() <= SLOW_RATE && self.ratio.lo() >= NOT_LIMITED
    }
}

/// The fastest slow test, in C: the worst credible cell still gives 96 % there.
const SLOW_RATE: f64 = 0.3;

/// A cell of which a faster test shows at least this part of what a slow one does is not limited by
/// its rate.
const NOT_LIMITED: f64 = 0.95;

/// By how much a run time or charge from full may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeMargin {
    /// The least part of the model's value: from 0 to 1.
    pub least: f64,
    /// The greatest: 1 or more, perhaps infinite.
    pub greatest: f64,
    /// Why the least is 0, if it is.
    pub open: Option<Open>,
}

impl TimeMargin {
    /// Wider both ways by a part of the model's value.
    pub(in crate::figures) fn wider_by(self, part: f64) -> Self {
        Self {
            least: (self.least - part).max(0.0),
            greatest: self.greatest + part,
            open: self.open,
        }
    }

    /// The wider of both.
    pub(in crate::figures) fn or(self, other: Self) -> Self {
        let open = match (self.open, other.open) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        Self {
            least: self.least.min(other.least),
            greatest: self.greatest.max(other.greatest),
            open,
        }
    }
}

/// A curve of the part of the charge that the worst credible cells still give, by effective rate in
/// C: the rate times how much slower the cold makes them.
pub(super) struct Fade {
    points: &'static [(f64, f64)],
    /// Activation energy of what slows them, in J/mol.
    energy: f64,
    /// Whether a capacity test at a rate of its own already shows part of the loss.
    shown: bool,
}

/// Cells whose electrolyte limits them.
const ELECTROLYTE: Fade = Fade {
    points: &[
        (0.0, 1.0),
        (0.2, 0.98),
        (0.55, 0.945),
        (0.8, 0.89),
        (1.1, 0.765),
        (1.65, 0.49),
        (2.2, 0.30),
        (2.8, 0.15),
        (3.4, 0.0),
    ],
    energy: 19_000.0,
    shown: true,
};

/// Cells whose electrolyte is proved not to limit them. Of the parameter sets with curves of this
/// class all but one are such cells, with no row outside up to 2 C; that one gives 83 to 90 % at 1
/// C.
const NOT_ELECTROLYTE: Fade = Fade {
    points: &[
        (0.0, 1.0),
        (1.0, 0.99),
        (2.0, 0.965),
        (2.2, 0.30),
        (2.8, 0.15),
        (3.4, 0.0),
    ],
    energy: ELECTROLYTE.energy,
    shown: true,
};

/// Cells whose particles limit them.
const PARTICLES: Fade = Fade {
    points: &[
        (0.0, 1.0),
        (1.5, 1.0),
        (2.0, 0.92),
        (2.4, 0.85),
        (3.0, 0.42),
        (4.5, 0.40),
        (6.5, 0.0),
    ],
    energy: 40_000.0,
    shown: true,
};

/// Iron phosphate in the cold.
#[rustfmt::skip]
const IRON_COLD: Fade = Fade {
    points: &[
        (0.0, 1.0), (0.5, 0.98), (1.0, 0.94), (1.45, 0.87), (2.7, 0.83), (3.0, 0.78), (3.8, 0.73), (5.5, 0.66), (9.5, 0.44), (19.0, 0.18), (36.0, 0.10),
        (50.0, 0.0),
    ],
    energy: 80_000.0,
    shown: false,
};

/// Iron phosphate whose voltage falls softly towards the end.
const IRON_SOFT: Fade = Fade {
    points: &[
        (0.0, 1.0),
        (0.25, 0.97),
        (0.55, 0.92),
        (1.1, 0.845),
        (1.65, 0.745),
        (2.2, 0.65),
        (3.3, 0.51),
        (5.0, 0.0),
    ],
    energy: 0.0,
    shown: true,
};

impl Fade {
    /// The part left at a rate and at a temperature.
    pub(super) fn left(&self, rate: f64, temperature: f64) -> f64 {
        along(
            self.points,
            times(rate, arrhenius(self.energy, temperature)),
        )
    }

    /// What a use gives at most of what a test at a rate and temperature gave.
    fn regained(&self, of: &TimeUse, tested: Interval, temperature: Interval) -> f64 {
        let shown = self.left(tested.hi(), temperature.lo());
        if shown > 0.0 {
            self.left_warm(of.rate.lo(), of.temperature.hi()) / shown
        } else {
            f64::INFINITY
        }
    }

    /// The part left at a rate, at 25 degC or warmer.
    fn left_warm(&self, rate: f64, temperature: f64) -> f64 {
        along(
            self.points,
            times(rate, arrhenius(self.energy, temperature).min(1.0)),
        )
    }
}

/// The curves that cells of a class may follow.
pub(super) const fn fades(class: Class) -> [Fade; 2] {
    if class.is_four_volt() {
        [ELECTROLYTE, PARTICLES]
    } else {
        [IRON_COLD, IRON_SOFT]
    }
}

/// A value on straight lines between points, level beyond them.
pub(super) fn along(points: &[(f64, f64)], at: f64) -> f64 {
    let after = points.partition_point(|(x, _)| *x < at);
    match (
        after.checked_sub(1).and_then(|before| points.get(before)),
        points.get(after),
    ) {
        (Some((from, low)), Some((to, high))) => low + (high - low) * (at - from) / (to - from),
        (None, Some((_, level))) | (Some((_, level)), None) => *level,
        (None, None) => 0.0,
    }
}

/// The coldest and hottest cell, in degC, of which the comparison says anything.
const REACH: (f64, f64) = (-10.0, 45.0);

/// The least part of the charge that a closed interval holds: below it, to say that the charge is
/// not known is the honest answer.
const LEAST_PART: f64 = 0.25;

/// The sag in V above which a run time has no upper bound.
const MOST_SAG: f64 = 0.6;

/// Excess of run time by sag in V: a cell with less resistance than it was taken to have.
const BY_SAG: [(f64, f64); 7] = [
    (0.0, 0.02),
    (0.1, 0.027),
    (0.2, 0.045),
    (0.3, 0.09),
    (0.4, 0.15),
    (0.5, 0.26),
    (0.6, 0.45),
];

/// Lack of run time by temperature in degC.
const BY_WARMTH: [(f64, f64); 3] = [(25.0, 0.0), (35.0, 0.025), (45.0, 0.035)];

/// The margin of the run time or charge that a full cell gives, by the model.
#[must_use]
pub fn time(of: &TimeUse) -> TimeMargin {
    let (short, long) = shape(of);
    let faded = least_left(of, of.temperature.lo());
    let least = times(faded, 1.0 - short);
    let open = why_open(of, faded);
    let greatest = if of.drop.hi() > MOST_SAG {
        f64::INFINITY
    } else {
        most_left(of) * (1.0 + long)
    };
    TimeMargin {
        least: if open.is_some() { 0.0 } else { least },
        greatest,
        open,
    }
}

/// The least part that a cell of the class may give of what the model says.
fn least_left(of: &TimeUse, temperature: f64) -> f64 {
    let part = |fade: Fade| {
        let left = fade.left(of.rate.hi(), temperature);
        let shown = fade.left(of.tested.lo(), of.test_temperature.hi());
        if fade.shown {
            ratio(left, shown).min(1.0)
        } else {
            left
        }
    };
    fades(of.class).into_iter().map(part).fold(1.0, f64::min)
}

/// The greatest: a cell that was held back in its test is not in a gentler use. Without bound after
/// a test so fast that a cell may have given nothing.
fn most_left(of: &TimeUse) -> f64 {
    let [first, second] =
        fades(of.class).map(|fade| fade.regained(of, of.tested, of.test_temperature));
    let first = of
        .proof()
        .map_or(first, |slow| first.min(regained_at_most(of, &slow)));
    first.max(second).max(1.0)
}

/// The greatest of a cell that is proved not to be limited by its electrolyte: what such cells
/// regain, or if more, what the slow test showed more, and what the use regains of that test.
///
/// The least part has nothing to gain of the proof: up to the rate of the ordinary test it is
/// whole, and beyond nothing is proved.
fn regained_at_most(of: &TimeUse, slow: &SlowCapacity) -> f64 {
    let beyond = ELECTROLYTE
        .regained(of, slow.rate, slow.temperature)
        .max(1.0);
    NOT_ELECTROLYTE
        .regained(of, of.tested, of.test_temperature)
        .max(beyond / slow.ratio.lo())
}

impl TimeUse {
    /// The slow test, if it proves that the electrolyte does not limit the cell. Iron phosphate has
    /// no such limit.
    fn proof(&self) -> Option<SlowCapacity> {
        self.slow
            .filter(|slow| self.class.is_four_volt() && slow.proves())
    }
}

/// Above this, in degC, nobody would call the cold the reason.
const MILD: f64 = 15.0;

fn why_open(of: &TimeUse, faded: f64) -> Option<Open> {
    if of.temperature.lo() < REACH.0 {
        Some(Open::Cold)
    } else if of.temperature.hi() > REACH.1 {
        Some(Open::Hot)
    } else if faded >= LEAST_PART {
        None
    } else if of.temperature.lo() < MILD
        && least_left(of, of.temperature.lo().max(25.0)) >= LEAST_PART
    {
        Some(Open::Cold)
    } else if fades(of.class)
        .iter()
        .any(|fade| fade.left(of.rate.hi(), 25.0) <= 0.0)
    {
        Some(Open::Fast)
    } else {
        Some(Open::SlowTest)
    }
}

/// By what part a cell of ordinary shape may give less, and more, besides what the curves say.
fn shape(of: &TimeUse) -> (f64, f64) {
    let above = (of.cut_off.hi() - of.test_cut_off.lo()).max(0.0);
    let below = (of.test_cut_off.hi() - of.cut_off.lo()).max(0.0);
    let (short, long) = if of.class.is_four_volt() {
        four_volt(of, above, below)
    } else {
        iron(of, above, below)
    };
    let fast_test = 0.05 * (of.tested.hi() - 1.0).max(0.0);
    let long = long + if of.power { 0.012 } else { 0.0 };
    (
        short + along(&BY_WARMTH, of.temperature.hi()) + fast_test,
        long + along(&BY_SAG, of.drop.hi()) + fast_test,
    )
}

/// `above`: by how many volts the use may end above the test; `below`: below it.
fn four_volt(of: &TimeUse, above: f64, below: f64) -> (f64, f64) {
    let fast = (of.rate.hi().max(of.tested.hi()) - 0.6).max(0.0);
    let short = 0.035 + 0.03 * above + 0.25 * times(above.min(0.25), fast);
    let cold = (25.0 - of.temperature.lo()).max(0.0);
    let long = 0.015
        + 0.006 * of.rate.hi()
        + 0.03 * below
        + 0.25 * times(below.min(0.25), fast)
        + 0.0007 * cold;
    (short, long)
}

/// End voltages closer than this, in V, are the same.
const SAME_END: f64 = 1e-6;

fn iron(of: &TimeUse, above: f64, below: f64) -> (f64, f64) {
    let cold = (25.0 - of.temperature.lo()).max(0.0);
    let other_end = |volts: f64| {
        if volts > SAME_END {
            0.03 + 0.12 * volts + 0.03 * times(volts, of.rate.hi())
        } else {
            0.0
        }
    };
    (
        0.03 + other_end(above),
        0.03 + other_end(below) + 0.012 * cold,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mild() -> TimeUse {
        let point = Interval::point;
        TimeUse {
            class: Class::Inr,
            rate: point(0.5),
            tested: point(0.5),
            temperature: point(25.0),
            test_temperature: point(25.0),
            cut_off: point(3.0),
            test_cut_off: point(3.0),
            drop: point(0.1),
            power: false,
            slow: None,
        }
    }

    fn beside(rate: f64, ratio: f64) -> Option<SlowCapacity> {
        Some(SlowCapacity {
            rate: Interval::point(rate),
            temperature: Interval::point(25.0),
            ratio: Interval::point(ratio),
        })
    }

    /// In the same use as its test a cell gives the same, but for a few percent.
    #[test]
    fn a_use_like_the_test_is_known_best() {
        let margin = time(&mild());
        assert!(
            (0.95..1.0).contains(&margin.least)
                && (1.0..1.06).contains(&margin.greatest)
                && margin.open.is_none(),
            "{margin:?}"
        );
        let slow = time(&TimeUse {
            tested: Interval::point(0.2),
            rate: Interval::point(1.0),
            ..mild()
        });
        assert!((0.78..0.86).contains(&slow.least), "{slow:?}");
    }

    #[test]
    fn what_no_data_reach_is_open() {
        let at = |rate: f64, temperature: f64| {
            let margin = time(&TimeUse {
                rate: Interval::point(rate),
                temperature: Interval::point(temperature),
                tested: Interval::point(0.2),
                ..mild()
            });
            assert_eq!(margin.open.is_some(), margin.least <= 0.0);
            margin.open
        };
        assert_eq!(
            (at(2.3, 25.0), at(2.5, 25.0), at(3.5, 25.0)),
            (None, Some(Open::SlowTest), Some(Open::Fast))
        );
        assert_eq!((at(1.1, 0.0), at(1.3, 0.0)), (None, Some(Open::Cold)));
        assert_eq!((at(0.1, -10.0), at(0.1, -10.1)), (None, Some(Open::Cold)));
        assert_eq!((at(0.1, 45.0), at(0.1, 45.1)), (None, Some(Open::Hot)));
        assert!(
            time(&TimeUse {
                drop: Interval::point(0.61),
                ..mild()
            })
            .greatest
            .is_infinite()
        );
        assert!(
            time(&TimeUse {
                tested: Interval::point(3.5),
                ..mild()
            })
            .greatest
            .is_infinite()
        );
    }

    /// Known from a test at 1 C and used gently: more by what the worst cell regains, or with a
    /// proof by what the slow test left open.
    #[test]
    fn a_slow_test_bounds_what_a_gentle_use_regains() {
        let used = TimeUse {
            tested: Interval::point(1.0),
            rate: Interval::point(0.2),
            ..mild()
        };
        let greatest = |slow: Option<SlowCapacity>| {
            time(&TimeUse { slow, ..used }).greatest
                / time(&TimeUse {
                    rate: used.tested,
                    ..used
                })
                .greatest
        };
        let plain = greatest(None);
        // By the curves: 0.98 / 0.807; then 0.998 / 0.99; then what the slow test showed more.
        assert!((plain - 1.21).abs() < 0.01, "{plain}");
        assert!((greatest(beside(0.2, 1.02)) - 1.005).abs() < 0.01);
        assert!((greatest(beside(0.2, 0.96)) - 1.0 / 0.96).abs() < 0.01);
        for unproved in [beside(0.2, 0.949), beside(0.301, 1.0)] {
            assert!((greatest(unproved) - plain).abs() < 1e-12);
        }
        for proved in [beside(0.2, 0.95), beside(0.3, 1.0), beside(0.299, 0.951)] {
            assert!(greatest(proved) < 1.09);
        }
    }

    /// Iron phosphate has no such limit, and what is lost by another cause or beyond what is known
    /// stays.
    #[test]
    fn a_slow_test_narrows_nothing_else() {
        let gentle = TimeUse {
            tested: Interval::point(1.0),
            rate: Interval::point(0.2),
            ..mild()
        };
        let iron = TimeUse {
            class: Class::Ifr,
            ..gentle
        };
        assert_eq!(
            time(&TimeUse {
                slow: beside(0.2, 1.0),
                ..iron
            }),
            time(&iron)
        );
        let fast = TimeUse {
            tested: Interval::point(2.4),
            ..gentle
        };
        assert_eq!(
            time(&TimeUse {
                slow: beside(0.2, 1.0),
                ..fast
            }),
            time(&fast)
        );
        let faster = TimeUse {
            rate: Interval::point(1.5),
            ..gentle
        };
        assert_eq!(
            time(&TimeUse {
                slow: beside(0.2, 1.0),
                ..faster
            }),
            time(&faster)
        );
    }

    /// The curve of the proved cells lies nowhere below that of the worst.
    #[test]
    fn a_proved_cell_keeps_no_less() {
        for step in 0..800 {
            let rate = f64::from(step) / 200.0;
            assert!(
                NOT_ELECTROLYTE.left(rate, 25.0) >= ELECTROLYTE.left(rate, 25.0) - 1e-12,
                "{rate}"
            );
        }
    }
}
