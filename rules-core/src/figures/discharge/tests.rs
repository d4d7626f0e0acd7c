//! Worked examples, and what is given at the edges.

use super::*;
use crate::figures::class::Class;

fn point(value: f64) -> Interval {
    Interval::point(value)
}

fn cell(class: Class, charge: f64, current: f64) -> CellModel {
    let capacity = CapacityTest { charge: point(charge), current: point(current), cut_off: point(3.0), temperature: point(25.0) };
    CellModel { classes: Classes::of(class), capacity, r10: point(0.05) }
}

fn use_of(draw: Draw, cut_off: f64) -> Duty {
    Duty { draw, start: point(1.0), temperature: point(25.0), cut_off: point(cut_off) }
}

/// Worked by hand: 2.0 Ah usable at a mean of 3.6 V, 10 W from a driver of 85 %: 0.61 h.
#[test]
fn a_run_time_comes_out_as_by_hand() {
    let light = Draw::Power(point(10.0 / 0.85));
    let given = discharge(&cell(Class::Inr, 2.0, 3.3), &use_of(light, 3.0));
    assert!(given.run_time.contains(0.61) && given.run_time.lo() > 0.3 && given.run_time.hi() < 0.9, "{given:?}");
    assert!(given.energy.contains(2.0 * 3.6) && given.delivered.contains(2.0), "{given:?}");
}

#[test]
fn nothing_drawn_lasts_for_ever() {
    for draw in [Draw::Current(point(0.0)), Draw::Power(point(0.0))] {
        let given = discharge(&cell(Class::Icr, 2.0, 0.4), &use_of(draw, 3.0));
        assert!(given.run_time.hi().is_infinite() && given.run_time.lo() > 1e300, "{given:?}");
        assert!(given.delivered.contains(2.0) && given.start.contains(4.2));
    }
}

#[test]
fn a_cell_without_charge_gives_nothing() {
    let given = discharge(&cell(Class::Icr, 0.0, 0.4), &use_of(Draw::Current(point(1.0)), 3.0));
    assert_eq!((given.run_time.lo(), given.delivered.lo()), (0.0, 0.0));
    assert!(given.open.is_some());
}

/// A light that cannot start: its end voltage is above all that the cell has.
#[test]
fn an_end_above_full_ends_at_once() {
    let given = discharge(&cell(Class::Icr, 2.0, 0.4), &use_of(Draw::Current(point(1.0)), 4.5));
    assert_eq!((given.run_time, given.delivered, given.energy), (point(0.0), point(0.0), point(0.0)));
    assert!(given.mid.hi() <= 4.3 && given.end.hi() <= 4.3);
}

/// Within the sag at the start it may end at once, or hold on.
#[test]
fn an_end_within_the_sag_is_open() {
    let given = discharge(&cell(Class::Icr, 2.0, 0.4), &use_of(Draw::Current(point(2.0)), 4.0));
    assert_eq!((given.open, given.run_time.lo()), (Some(Open::EarlyEnd), 0.0));
    assert!(given.run_time.hi() > 1.0);
}

#[test]
fn without_an_end_it_gives_all() {
    let given = discharge(&cell(Class::Icr, 2.0, 0.4), &use_of(Draw::Current(point(0.4)), 0.0));
    assert!(given.end.contains(0.0) && given.delivered.lo() > 1.9 && given.late.lo() >= 0.0);
}

/// More power than the cell can give: at 4.2 V and 0.5 ohm no more than 8.8 W.
#[test]
fn a_power_that_cannot_be_had_may_end_at_once() {
    let weak = CellModel { r10: point(0.5), ..cell(Class::Icr, 2.0, 0.1) };
    let given = discharge(&weak, &use_of(Draw::Power(point(9.5)), 2.5));
    assert!(given.run_time.lo() <= 0.0 && given.open.is_some(), "{given:?}");
}

/// A capacity test at 3 A through 0.5 ohm to 3.0 V would have left the cell at 4.5 V: no cell does that.
#[test]
fn a_test_that_cannot_be_is_doubted() {
    let odd = CellModel { r10: point(0.5), ..cell(Class::Icr, 2.0, 3.0) };
    let given = discharge(&odd, &use_of(Draw::Current(point(0.5)), 3.0));
    assert_eq!(given.open, Some(Open::DoubtfulTest));
    assert!(given.run_time.lo() <= 0.0 && given.run_time.hi().is_infinite());
}

#[test]
fn nothing_known_is_open() {
    let unknown = CellModel {
        classes: Classes::ALL,
        capacity: CapacityTest {
            charge: Interval::WHOLE,
            current: Interval::WHOLE,
            cut_off: Interval::WHOLE,
            temperature: Interval::WHOLE,
        },
        r10: Interval::WHOLE,
    };
    let duty =
        Duty { draw: Draw::Current(Interval::WHOLE), start: Interval::WHOLE, temperature: Interval::WHOLE, cut_off: Interval::WHOLE };
    let given = discharge(&unknown, &duty);
    let anything = span(0.0, f64::INFINITY);
    assert_eq!((given.run_time, given.delivered, given.energy), (anything, anything, anything));
    assert!(given.open.is_some() && given.mid.lo() <= 0.0 && given.start.lo() <= 0.0);
}
