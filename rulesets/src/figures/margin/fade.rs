//! The part of the charge that the worst credible cells still give at a rate and a temperature.

use crate::class::Class;
use crate::figures::resistance::arrhenius;
use crate::span::times;
use rules_core::quantity::Interval;

/// A curve of the part of the charge that the worst credible cells still give, by effective rate in
/// C: the rate times how much slower the cold makes them.
pub(super) struct Fade {
    points: &'static [(f64, f64)],
    /// Activation energy of what slows them, in J/mol.
    energy: f64,
    /// Whether a capacity test at a rate of its own already shows part of the loss.
    pub(super) shown: bool,
}

/// Cells whose electrolyte limits them.
pub(super) const ELECTROLYTE: Fade = Fade {
    points: &[
        (0.0, 1.0),
        (0.2, 0.98),
        (0.55, 0.945),
        (0.8, 0.85),
        (1.1, 0.71),
        (1.65, 0.45),
        (2.2, 0.27),
        (2.8, 0.15),
        (3.4, 0.0),
    ],
    energy: 19_000.0,
    shown: true,
};

/// The same in cells that are worn: of these a faster use may give so little.
pub(super) const WORN_ELECTROLYTE: Fade = Fade {
    points: &[
        (0.0, 1.0),
        (0.2, 0.98),
        (0.4, 0.92),
        (0.55, 0.83),
        (0.8, 0.64),
        (1.1, 0.45),
        (1.65, 0.20),
        (2.2, 0.10),
        (2.8, 0.0),
    ],
    energy: 19_000.0,
    shown: true,
};

/// The same where the cold slows the electrolyte more: of these a test at room temperature shows less
/// of what a use in the cold loses.
const WORN_ELECTROLYTE_IN_COLD: Fade = Fade {
    energy: 25_500.0,
    ..WORN_ELECTROLYTE
};

/// Cells whose electrolyte is proved not to limit them. Of the parameter sets with curves of this
/// class all but one are such cells, with no row outside up to 2 C; that one gives 83 to 90 % at 1
/// C.
pub(super) const NOT_ELECTROLYTE: Fade = Fade {
    points: &[
        (0.0, 1.0),
        (1.0, 0.99),
        (2.0, 0.965),
        (2.2, 0.27),
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
        (0.25, 0.95),
        (0.55, 0.86),
        (1.1, 0.70),
        (1.65, 0.52),
        (2.2, 0.35),
        (3.3, 0.15),
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

    /// What a use at a rate and temperature gives at most of what a test at a rate and temperature gave.
    pub(super) fn regained(
        &self,
        (rate, warmth): (Interval, Interval),
        tested: Interval,
        temperature: Interval,
    ) -> f64 {
        let shown = self.left(tested.hi(), temperature.lo());
        if shown > 0.0 {
            self.left_warm(rate.lo(), warmth.hi()) / shown
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

/// The curves that cells of a class may follow at the worst, worn ones among them.
pub(super) const fn worst_fades(class: Class) -> &'static [Fade] {
    if class.is_four_volt() {
        &[WORN_ELECTROLYTE, WORN_ELECTROLYTE_IN_COLD, PARTICLES]
    } else {
        &[IRON_COLD, IRON_SOFT]
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
