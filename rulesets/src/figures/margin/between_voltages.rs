//! What the voltages that a capacity test showed on its way say of another discharge of the same
//! cell from full: by how much its voltage half way and near its end may differ.
//!
//! No model of the cell is needed: the difference follows the sag of the currents, and what is left
//! grows with how unlike the two are. The constants were set on two thirds of the parameter sets and
//! half of the worn cells, with half as much again to spare, and on 15,228 pairs that hold measured
//! discharges besides: so none of these is independent evidence. They hold from 15 to 45 degC and to
//! 2 C.

use super::between_tests::Run;
use super::voltage::Mark;
use crate::class::Class;
use crate::figures::resistance::{RESISTANCE_ENERGY, arrhenius};
use crate::span::{VAST, ratio, span, times};
use rules_core::quantity::Interval;

/// Temperatures in degC and the rate in C that the constants hold for.
const WARMTH: (f64, f64) = (15.0, 45.0);
const FASTEST: f64 = 2.0;

/// By how much a voltage may differ, in V, and what it follows.
struct Differs {
    /// Between discharges that are alike.
    alike: f64,
    /// More for each volt between the ends.
    end: f64,
    /// More for each C between the rates.
    rate: f64,
    /// More for each kelvin between the temperatures.
    warmth: f64,
    /// The least and the greatest sag by that of the 10-second resistance.
    sag: (f64, f64),
}

const fn differs(class: Class, mark: Mark) -> Differs {
    let (alike, end, rate, warmth, sag) = match (class, mark) {
        (Class::Icr, Mark::Mid) => (0.012, 0.02, 0.015, 0.005, (0.7, 2.2)),
        (Class::Icr, Mark::Late) => (0.06, 0.09, 0.01, 0.006, (0.8, 2.7)),
        // The mixtures have no sets of their own: as the one that differs more.
        (Class::Inr | Class::Imr, Mark::Mid) => (0.036, 0.11, 0.015, 0.008, (0.6, 3.0)),
        (Class::Inr | Class::Imr, Mark::Late) => (0.10, 0.38, 0.01, 0.003, (0.25, 4.5)),
        (Class::Ifr, Mark::Mid) => (0.036, 0.03, 0.03, 0.003, (0.7, 1.6)),
        (Class::Ifr, Mark::Late) => (0.15, 0.5, 0.03, 0.003, (0.5, 2.0)),
    };
    Differs {
        alike,
        end,
        rate,
        warmth,
        sag,
    }
}

/// The voltage at a mark of a use, where a capacity test of a charge in Ah showed another at that
/// mark. Anything, where the two are beyond what the constants hold for.
#[must_use]
pub fn shown_voltage(
    (class, mark): (Class, Mark),
    r10: Interval,
    (test, charge): (&Run, Interval),
    shown: Interval,
    other: &Run,
) -> Interval {
    let is_warm = |run: &Run| run.temperature.lo() >= WARMTH.0 && run.temperature.hi() <= WARMTH.1;
    let rate = |run: &Run| ratio(run.current.hi(), charge.lo());
    let reached = is_warm(test) && is_warm(other) && rate(test).max(rate(other)) <= FASTEST;
    if !reached || !r10.is_bounded() {
        return Interval::WHOLE;
    }
    let differs = differs(class, mark);
    let apart = |one: Interval, other: Interval| {
        (one.hi() - other.lo()).max(other.hi() - one.lo()).min(VAST)
    };
    let unlike = differs.alike
        + differs.end * apart(test.cut_off, other.cut_off)
        + differs.rate * ratio(apart(test.current, other.current), charge.lo())
        + differs.warmth * apart(test.temperature, other.temperature);
    let (least, most) = sags(r10, test, other, differs.sag);
    span(shown.lo() - most - unlike, shown.hi() - least + unlike)
}

/// The least and the greatest by which the sag of another discharge is above that of a test, in V.
fn sags(r10: Interval, test: &Run, other: &Run, (least, most): (f64, f64)) -> (f64, f64) {
    let slowed = |temperature: f64| arrhenius(RESISTANCE_ENERGY, temperature);
    let gentle = |run: &Run| run.current.lo() * slowed(run.temperature.hi());
    let harsh = |run: &Run| run.current.hi() * slowed(run.temperature.lo());
    let (low, high) = (gentle(other) - harsh(test), harsh(other) - gentle(test));
    let end = |more: f64, rising: (f64, f64), falling: (f64, f64)| {
        if more >= 0.0 {
            times(more * rising.0, rising.1)
        } else {
            -times(-more * falling.0, falling.1)
        }
    };
    (
        end(low, (least, r10.lo()), (most, r10.hi())),
        end(high, (most, r10.hi()), (least, r10.lo())),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(current: f64, temperature: f64) -> Run {
        Run {
            current: Interval::point(current),
            cut_off: Interval::point(3.0),
            temperature: Interval::point(temperature),
        }
    }

    fn mid(other: &Run) -> Interval {
        shown_voltage(
            (Class::Icr, Mark::Mid),
            Interval::point(0.05),
            (&run(1.0, 25.0), Interval::point(2.0)),
            Interval::point(3.70),
            other,
        )
    }

    /// A use like the test shows what the test showed; 1 A more takes 0.7 to 2.2 times 50 mV off, and
    /// half a C of rate adds 7.5 mV to the error.
    #[test]
    fn the_difference_follows_the_sag() {
        let near = |one: Interval, low: f64, high: f64| {
            (one.lo() - low).abs() < 1e-9 && (one.hi() - high).abs() < 1e-9
        };
        assert!(near(mid(&run(1.0, 25.0)), 3.688, 3.712));
        assert!(near(
            mid(&run(2.0, 25.0)),
            3.70 - 0.11 - 0.0195,
            3.70 - 0.035 + 0.0195
        ));
        assert!(near(
            mid(&run(0.0, 25.0)),
            3.70 + 0.035 - 0.0195,
            3.70 + 0.11 + 0.0195
        ));
        for beyond in [run(4.1, 25.0), run(1.0, 14.9), run(1.0, 45.1)] {
            assert_eq!(mid(&beyond), Interval::WHOLE);
        }
    }
}
