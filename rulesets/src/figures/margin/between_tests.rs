//! What a capacity test says of another discharge of the same cell, without a model of the cell.
//!
//! A cell gives no less where it is used no faster, no colder and to no higher an end than in its
//! test, and no more where it is used no slower, no warmer and to no lower an end. How much it may
//! lose from one to the other is a *loss*: a logarithm that is 0 if nothing turns for the worse, and
//! grows with each thing that does, by slopes no cell of the class was found to exceed. It is an
//! asymmetric distance: what is lost on the way by a third discharge is no less than what is lost
//! straight. So tests that agree in pairs leave something for every use.
//!
//! The slopes hold from 15 to 45 degC and to 2 C of the cell's own charge, for cells with half their
//! lithium or three times their resistance; beyond, they grow by the stated rule. They were set on
//! two thirds of the parameter sets and half of the aged cells, with half as much again to spare; of
//! the rest ten rows in 11,568 then lay outside, by up to 3 %, in cells worn most, and two slopes were
//! raised by a fifth. So those rows are no independent evidence any more.

use crate::class::Class;
use crate::figures::discharge::CapacityTest;
use crate::figures::resistance::arrhenius;
use crate::span::{VAST, ratio, span, times};
use rules_core::quantity::Interval;

/// The least and the most that a use gives that is like a test, as a part of what the test gave. No
/// pair of the tables is under 1 or over it where nothing turns for the worse; this is left for the
/// scatter of repeating a discharge. Runs that follow each other in the measured discharges of the
/// NASA Prognostics Center of Excellence (Battery Data Set, 2007) differ by up to 1 %.
const LIKE: (f64, f64) = (0.985, 0.985 / 0.97);

/// The same for cells in parallel taken as one: they share their current otherwise than each was
/// tested.
const LIKE_JOINED: (f64, f64) = (0.95, 1.05);

/// A smaller part of a test than this is no bound.
const LEAST_PART: f64 = 0.25;

/// More than the resistance of any cell, in ohms, an open one apart. It stands for no bound, where a
/// larger number would lose the difference of two sags.
const MOST_OHMS: f64 = 1e4;

/// Far above the last slope, in V.
const FAR: f64 = 50.0;

/// What a sag of the 10-second resistance grows to in a long discharge.
const GROWN: f64 = 1.4;

/// Under this temperature in degC a test counts as made on a warmer cell, by so many kelvins for
/// each C that it was faster: a fast discharge in the cold warms the cell. Measured: 11 K at 2 C and
/// 25 degC.
const COLD: f64 = 15.0;
const WARMS_BY: f64 = 8.0;

/// Above this rate in C, as slowed by the cold, the end voltage counts for more: by the square of
/// how far the rate is above.
const FAST: f64 = 1.5;
const FAST_ENERGY: f64 = 40_000.0;

/// The rate in C, as slowed by the cold, up to which a discharge scatters as `LIKE` has it; how much
/// more for each C above, and at most. Measured discharges at 3 to 12 C that follow each other
/// differ by up to 16 % (the data set above).
const FASTEST: f64 = 2.0;
const SCATTER: f64 = 0.02;
const MOST_SCATTER: f64 = 0.25;

/// Slopes of a class: each from a value on.
struct Slopes {
    /// Loss by rate in C.
    rate: &'static [(f64, f64)],
    /// Activation energies in J/mol with which the cold raises the rate.
    energies: [f64; 3],
    /// Loss by the voltage of the source at the end, in V.
    end: &'static [(f64, f64)],
    /// Activation energy of the resistance.
    resistance: f64,
}

const COBALT: Slopes = Slopes {
    rate: &[(0.0, 0.11), (1.0, 0.22), (1.5, 0.5), (2.0, 1.2), (3.0, 3.0)],
    energies: [0.0, 20_000.0, 45_000.0],
    end: &[
        (0.0, 0.01),
        (2.0, 0.03),
        (2.75, 0.06),
        (3.0, 0.10),
        (3.3, 0.4),
        (3.5, 2.0),
        (3.6, 9.0),
    ],
    resistance: 25_000.0,
};

const NICKEL: Slopes = Slopes {
    rate: &[(0.0, 0.15), (0.25, 0.5), (0.5, 1.3), (1.0, 1.6), (2.0, 3.0)],
    energies: [0.0, 20_000.0, 45_000.0],
    end: &[
        (0.0, 0.01),
        (2.0, 0.06),
        (2.5, 0.15),
        (2.75, 0.3),
        (3.0, 0.6),
        (3.1, 1.0),
        (3.2, 2.1),
        (3.5, 4.0),
        (3.6, 6.0),
        (3.7, 10.5),
    ],
    resistance: 25_000.0,
};

const IRON: Slopes = Slopes {
    rate: &[(0.0, 0.35), (0.5, 0.5), (1.0, 0.8), (2.0, 2.0)],
    energies: [0.0, 20_000.0, 80_000.0],
    end: &[
        (0.0, 0.01),
        (2.0, 0.12),
        (2.5, 0.4),
        (2.75, 0.9),
        (2.9, 2.0),
        (3.05, 10.0),
        (3.15, 30.0),
        (3.25, 80.0),
    ],
    resistance: 20_000.0,
};

const fn slopes(class: Class) -> &'static Slopes {
    match class {
        Class::Icr => &COBALT,
        // The mixtures have no sets of their own: the steeper of their parts.
        Class::Inr | Class::Imr => &NICKEL,
        Class::Ifr => &IRON,
    }
}

/// A discharge from full: how fast, how far and how warm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Current, in A.
    pub current: Interval,
    /// End voltage under load, in V.
    pub cut_off: Interval,
    /// Temperature of the cell at its start, in degC.
    pub temperature: Interval,
}

impl Run {
    /// The discharge that a capacity test was.
    #[must_use]
    pub const fn of(test: &CapacityTest) -> Self {
        Self {
            current: test.current,
            cut_off: test.cut_off,
            temperature: test.temperature,
        }
    }
}

/// The cell that both discharges are of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Of {
    /// Its class.
    pub class: Class,
    /// Its 10-second resistance at 25 degC, in ohms.
    pub r10: Interval,
    /// Whether it is several cells in parallel.
    pub joined: bool,
}

/// The charge in Ah that another discharge from full gives, by a capacity test.
#[must_use]
pub fn by_test(of: &Of, test: &CapacityTest, other: &Run) -> Interval {
    let tested = Run::of(test);
    let (least, most) = if of.joined { LIKE_JOINED } else { LIKE };
    let charge = test.charge.lo();
    let scatter = scatter(&tested, charge).max(scatter(other, charge));
    let kept = least * (-loss(of, &tested, other, charge) - scatter).exp();
    let gained = most * (loss(of, other, &tested, charge) + scatter).exp();
    span(
        if kept < LEAST_PART {
            0.0
        } else {
            times(charge, kept)
        },
        times(test.charge.hi(), gained),
    )
}

/// By how much more than others a discharge scatters that is faster than the slopes hold for: a
/// logarithm.
fn scatter(run: &Run, charge: f64) -> f64 {
    let rate = ratio(run.current.hi(), charge).min(VAST);
    let slowed = rate * arrhenius(FAST_ENERGY, run.temperature.lo());
    (SCATTER * (slowed - FASTEST).max(0.0)).min(MOST_SCATTER)
}

/// How much a cell may lose from one discharge to another, of a charge in Ah: a logarithm.
fn loss(of: &Of, from: &Run, to: &Run, charge: f64) -> f64 {
    let slopes = slopes(of.class);
    let rate = |current: f64| ratio(current, charge).min(VAST);
    let (slower, faster) = (rate(from.current.lo()), rate(to.current.hi()));
    let colder = to.temperature.lo();
    let warmer = if colder < COLD {
        from.temperature.hi() + WARMS_BY * (slower - faster).max(0.0)
    } else {
        from.temperature.hi()
    };
    let by_rate = slopes.energies.map(|energy| {
        let harsh = along(slopes.rate, faster * arrhenius(energy, colder));
        harsh - along(slopes.rate, slower * arrhenius(energy, warmer))
    });
    let ohms = of.r10.hi().clamp(0.0, MOST_OHMS) * GROWN;
    let sag = |current: f64, temperature: f64| {
        times(
            current.min(VAST),
            ohms * arrhenius(slopes.resistance, temperature),
        )
    };
    let deep = sag(to.current.hi(), colder);
    let shallow = sag(from.current.lo(), warmer).min(deep);
    // Far above all slopes only the difference counts; large numbers would lose it.
    let beyond = (shallow - FAR).max(0.0);
    let (deep, shallow) = (deep - beyond, shallow - beyond);
    let by_end = along(slopes.end, to.cut_off.hi().max(0.0) + deep)
        - along(slopes.end, from.cut_off.lo().max(0.0) + shallow);
    let steeper = (faster * arrhenius(FAST_ENERGY, colder) / FAST)
        .max(1.0)
        .powi(2);
    by_rate.into_iter().fold(0.0, f64::max) + times(by_end.max(0.0), steeper)
}

/// What slopes add up to from 0 to a value: convex, so that differences grow with it.
fn along(slopes: &[(f64, f64)], at: f64) -> f64 {
    let ends = slopes
        .iter()
        .skip(1)
        .map(|(from, _)| *from)
        .chain([f64::INFINITY]);
    slopes
        .iter()
        .zip(ends)
        .map(|((from, slope), end)| slope * (at.min(end) - from).max(0.0))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    const COBALT_CELL: Of = Of {
        class: Class::Icr,
        r10: Interval::WHOLE,
        joined: false,
    };

    fn run(current: f64, cut_off: f64, temperature: f64) -> Run {
        let point = Interval::point;
        Run {
            current: point(current),
            cut_off: point(cut_off),
            temperature: point(temperature),
        }
    }

    fn test(charge: f64, of: &Run) -> CapacityTest {
        CapacityTest {
            charge: Interval::point(charge),
            current: of.current,
            cut_off: of.cut_off,
            temperature: of.temperature,
        }
    }

    /// Whatever the resistance, a gentler use gives no less and a harsher one no more.
    #[test]
    fn nothing_that_turns_for_the_worse_loses_nothing() {
        let tested = run(1.0, 3.0, 20.0);
        let by = |other| by_test(&COBALT_CELL, &test(2.0, &tested), &other);
        for gentler in [
            tested,
            run(0.5, 3.0, 20.0),
            run(1.0, 2.5, 20.0),
            run(1.0, 3.0, 30.0),
        ] {
            assert!((by(gentler).lo() - 1.97).abs() < 1e-9, "{gentler:?}");
        }
        for harsher in [
            tested,
            run(1.6, 3.0, 20.0),
            run(1.0, 3.3, 20.0),
            run(1.0, 3.0, 10.0),
        ] {
            assert!((by(harsher).hi() - 1.97 / 0.97).abs() < 1e-9, "{harsher:?}");
        }
        // Of a resistance that may be anything, a faster use may give nothing.
        assert!(by(run(1.1, 3.0, 20.0)).lo() <= 0.0);
    }

    /// 2310 and 2250 mAh of one cell are ordinary.
    #[test]
    fn tests_that_scatter_leave_something() {
        let tested = run(1.0, 3.0, 22.0);
        let by = |charge| by_test(&COBALT_CELL, &test(charge, &tested), &tested);
        assert!(by(2.310).meets(by(2.250)).is_some());
        assert!(by(2.310).meets(by(2.230)).is_none());
    }
}
