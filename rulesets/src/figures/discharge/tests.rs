//! Worked examples, and what is given at the edges.

use super::*;
use crate::class::Class;

fn point(value: f64) -> Interval {
    Interval::point(value)
}

fn cell(class: Class, charge: f64, current: f64) -> CellModel {
    let capacity = CapacityTest {
        charge: point(charge),
        current: point(current),
        cut_off: point(3.0),
        temperature: point(25.0),
    };
    CellModel {
        classes: Classes::of(class),
        capacity,
        further: [None; 3],
        shown: Default::default(),
        joined: false,
        r10: point(0.05),
    }
}

fn use_of(draw: Draw, cut_off: f64) -> Duty {
    Duty {
        draw,
        start: point(1.0),
        temperature: point(25.0),
        cut_off: point(cut_off),
    }
}

/// Worked by hand: 2.0 Ah usable at a mean of 3.6 V, 10 W from a driver of 85 %: 0.61 h.
#[test]
fn a_run_time_comes_out_as_by_hand() {
    let light = Draw::Power(point(10.0 / 0.85));
    let given = discharge(&cell(Class::Inr, 2.0, 3.3), &use_of(light, 3.0));
    assert!(
        given.run_time.contains(0.61) && given.run_time.lo() > 0.3 && given.run_time.hi() < 1.05,
        "{given:?}"
    );
    assert!(
        given.energy.contains(2.0 * 3.6) && given.delivered.contains(2.0),
        "{given:?}"
    );
}

/// 7.40 Wh of 2.0 Ah are 3.70 V on the whole: half way a cobalt cell shows no more than 50 mV above it and no
/// less than 70 mV under it, and a use like the test differs by 12 mV from it. Energy that no cell of the
/// class has takes no part.
#[test]
fn the_energy_of_a_test_narrows_the_voltage_half_way() {
    let with = |energy: Option<f64>| {
        let mut cell = cell(Class::Icr, 2.0, 1.0);
        cell.shown[0].energy = energy.map(point);
        discharge(&cell, &use_of(Draw::Current(point(1.0)), 3.0)).mid
    };
    let (without, known) = (with(None), with(Some(7.40)));
    assert!(
        without.encloses(known) && known.width() < without.width(),
        "{without:?} {known:?}"
    );
    assert!(
        known.lo() >= 3.63 - 0.0121 && known.hi() <= 3.75 + 0.0121,
        "{known:?}"
    );
    assert_eq!(with(Some(6.2)), without);
    assert_eq!(with(Some(f64::INFINITY)), without);
}

#[test]
fn nothing_drawn_lasts_for_ever() {
    for draw in [Draw::Current(point(0.0)), Draw::Power(point(0.0))] {
        let given = discharge(&cell(Class::Icr, 2.0, 0.4), &use_of(draw, 3.0));
        assert!(
            given.run_time.hi().is_infinite() && given.run_time.lo() > 1e300,
            "{given:?}"
        );
        assert!(given.delivered.contains(2.0) && given.start.contains(4.2));
    }
}

#[test]
fn a_cell_without_charge_gives_nothing() {
    let given = discharge(
        &cell(Class::Icr, 0.0, 0.4),
        &use_of(Draw::Current(point(1.0)), 3.0),
    );
    assert_eq!((given.run_time.lo(), given.delivered.lo()), (0.0, 0.0));
    assert!(given.open.is_some());
}

/// A light that cannot start: its end voltage is above all that the cell has.
#[test]
fn an_end_above_full_ends_at_once() {
    let given = discharge(
        &cell(Class::Icr, 2.0, 0.4),
        &use_of(Draw::Current(point(1.0)), 4.5),
    );
    assert_eq!(
        (given.run_time, given.delivered, given.energy),
        (point(0.0), point(0.0), point(0.0))
    );
    assert!(given.mid.hi() <= 4.3 && given.end.hi() <= 4.3);
}

/// Within the sag at the start it may end at once, or hold on.
#[test]
fn an_end_within_the_sag_is_open() {
    let given = discharge(
        &cell(Class::Icr, 2.0, 0.4),
        &use_of(Draw::Current(point(2.0)), 4.0),
    );
    assert_eq!(
        (given.open, given.run_time.lo()),
        (Some(OpenReason::EarlyEnd), 0.0)
    );
    assert!(given.run_time.hi() > 1.0);
}

#[test]
fn without_an_end_it_gives_all() {
    let given = discharge(
        &cell(Class::Icr, 2.0, 0.4),
        &use_of(Draw::Current(point(0.4)), 0.0),
    );
    assert!(given.end.contains(0.0) && given.delivered.lo() > 1.9 && given.late.lo() >= 0.0);
}

/// More power than the cell can give: at 4.2 V and 0.5 ohm no more than 8.8 W.
#[test]
fn a_power_that_cannot_be_had_may_end_at_once() {
    let weak = CellModel {
        r10: point(0.5),
        ..cell(Class::Icr, 2.0, 0.1)
    };
    let given = discharge(&weak, &use_of(Draw::Power(point(9.5)), 2.5));
    assert!(
        given.run_time.lo() <= 0.0 && given.open.is_some(),
        "{given:?}"
    );
}

/// A capacity test at 3 A through 0.5 ohm to 3.0 V would have left the cell at 4.5 V: no cell does
/// that. What it gave still bounds a gentler use, and of a faster one nothing is known.
#[test]
fn a_test_that_cannot_be_is_doubted() {
    let odd = CellModel {
        r10: point(0.5),
        ..cell(Class::Icr, 2.0, 3.0)
    };
    let at = |current: f64| discharge(&odd, &use_of(Draw::Current(point(current)), 3.0));
    let (gentle, fast) = (at(0.5), at(3.5));
    assert_eq!(
        (gentle.open, fast.open),
        (None, Some(OpenReason::DoubtfulTest))
    );
    assert!((gentle.run_time.lo() - 2.0 * 0.985 / 0.5).abs() < 1e-9);
    assert!(fast.run_time.lo() <= 0.0);
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
        further: [None; 3],
        shown: Default::default(),
        joined: false,
        r10: Interval::WHOLE,
    };
    let duty = Duty {
        draw: Draw::Current(Interval::WHOLE),
        start: Interval::WHOLE,
        temperature: Interval::WHOLE,
        cut_off: Interval::WHOLE,
    };
    let given = discharge(&unknown, &duty);
    let anything = span(0.0, f64::INFINITY);
    assert_eq!(
        (given.run_time, given.delivered, given.energy),
        (anything, anything, anything)
    );
    assert!(given.open.is_some() && given.mid.lo() <= 0.0 && given.start.lo() <= 0.0);
}

/// A cell without resistance whose tests ran to where the class's curve starts: its charge is what
/// they gave, but for the lag, which at these rates has settled. So the ratio of two tests is known
/// by hand: `(charge + 0.02 h x current)` of the one by that of the other.
fn tested_twice(charge: f64, slow: f64, current: f64) -> CellModel {
    let test = |charge: f64, current: f64| CapacityTest {
        charge: point(charge),
        current: point(current),
        cut_off: point(2.75),
        temperature: point(25.0),
    };
    CellModel {
        classes: Classes::of(Class::Icr),
        capacity: test(charge, 2.0),
        further: [Some(test(slow, current)), None, None],
        shown: Default::default(),
        joined: false,
        r10: point(0.0),
    }
}

fn ratio_of(cell: &CellModel) -> Interval {
    match compared_tests(cell) {
        Some(Compared::Ratio(ratio)) => ratio,
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_ratio_of_two_tests_comes_out_as_by_hand() {
    let ratio = ratio_of(&tested_twice(1.9, 2.0, 0.4));
    let by_hand = (1.9 + 0.04) / (2.0 + 0.008);
    // If the faster test, at 1.05 C, warmed the cell by 26 K, 0.38 of its lag are left.
    let warmed = (1.9 + 0.38 * 0.04) / (2.0 + 0.008);
    assert!(
        (ratio.lo() - warmed).abs() < 1e-3 && (ratio.hi() - by_hand).abs() < 1e-3,
        "{ratio:?} {by_hand}"
    );
    assert_eq!(
        compared_tests(&CellModel {
            further: [None; 3],
            ..tested_twice(1.9, 2.0, 0.4)
        }),
        None
    );
}

/// What is compared is the charge without the sag: two cells of which the faster test gave 91 % as
/// it was read, the one for its resistance alone, the other for its rate.
#[test]
fn sag_is_not_taken_for_a_limit() {
    let test = |charge: f64, current: f64| CapacityTest {
        charge: point(charge),
        current: point(current),
        cut_off: point(3.3),
        temperature: point(25.0),
    };
    let cell = |ohms: f64| CellModel {
        classes: Classes::of(Class::Inr),
        capacity: test(1.82, 2.0),
        further: [Some(test(2.0, 0.4)), None, None],
        shown: Default::default(),
        joined: false,
        r10: point(ohms),
    };
    assert!(
        is_proved_unlimited(&cell(0.08)),
        "{:?}",
        ratio_of(&cell(0.08))
    );
    assert!(
        ratio_of(&cell(0.005)).hi() < 0.95,
        "{:?}",
        ratio_of(&cell(0.005))
    );
}

/// A slow test proves something at 0.3 C and below, and from a ratio of 0.95.
#[test]
fn a_slow_test_proves_from_its_bounds_on() {
    // The charge is 1.95 by both tests, so that 0.3 C are 0.585 A: slow + 0.02 h x current = 1.95.
    let at_rate =
        |current: f64| is_proved_unlimited(&tested_twice(1.91, 1.95 - 0.02 * current, current));
    assert_eq!((at_rate(0.58), at_rate(0.59)), (true, false));
    // 2.0 by the slow test, so that 1.90 by the other are 0.95. The other, at 1.06 C, may have warmed
    // the cell by 26.6 K, where 0.37 of its lag of 0.04 Ah are left.
    let at_ratio = |charge: f64| is_proved_unlimited(&tested_twice(charge - 0.015, 1.992, 0.4));
    assert_eq!((at_ratio(1.902), at_ratio(1.898)), (true, false));
}

/// A test that cannot be of such a cell proves nothing and leaves the ratio open.
#[test]
fn a_slow_test_that_cannot_be_proves_nothing() {
    let whole = tested_twice(1.95, 2.0, 0.4);
    let doubtful = CapacityTest {
        cut_off: point(4.1),
        ..whole.capacity
    };
    for cell in [
        CellModel {
            further: [Some(doubtful), None, None],
            shown: Default::default(),
            joined: false,
            ..whole
        },
        CellModel {
            capacity: doubtful,
            ..whole
        },
    ] {
        assert!(!is_proved_unlimited(&cell));
        assert_eq!(compared_tests(&cell), Some(Compared::Doubtful));
    }
}

/// Used gently, a cell that is known from a fast test may give more than that test: by the worst
/// credible cell an eighth more, by the slow test hardly.
#[test]
fn a_slow_test_narrows_a_gentle_use() {
    let duty = use_of(Draw::Current(point(0.4)), 2.75);
    let cell = tested_twice(1.95, 2.0, 0.4);
    let (twice, once) = (
        discharge(&cell, &duty),
        discharge(
            &CellModel {
                further: [None; 3],
                ..cell
            },
            &duty,
        ),
    );
    let more = |given: &Discharge| given.delivered.hi() / given.delivered.lo();
    assert!(
        more(&once) > 1.1 && more(&twice) < 1.04,
        "{once:?} {twice:?}"
    );
    assert!(twice.delivered.contains(2.0) && once.delivered.encloses(twice.delivered));
}

/// Nobody knows how much of the charge of an iron phosphate cell lies between two end voltages.
#[test]
fn iron_phosphate_compares_only_to_the_same_end() {
    let whole = tested_twice(1.95, 2.0, 0.4);
    let to = |classes: Classes, volts: f64| CellModel {
        classes,
        capacity: CapacityTest {
            cut_off: point(2.75),
            ..whole.capacity
        },
        further: whole.further.map(|test| {
            test.map(|slow| CapacityTest {
                cut_off: point(volts),
                ..slow
            })
        }),
        shown: Default::default(),
        joined: false,
        r10: point(0.0),
    };
    let iron = Classes::of(Class::Ifr);
    // The lag of this class is 0.07 h.
    let (ratio, by_hand) = (ratio_of(&to(iron, 2.75)), (1.95 + 0.14) / (2.0 + 0.028));
    // Less of it, if the test warmed the cell.
    let warmed = 1.95 / (2.0 + 0.028);
    assert!(
        (warmed..by_hand).contains(&ratio.lo()) && (ratio.hi() - by_hand).abs() < 2e-3,
        "{ratio:?} {by_hand}"
    );
    assert_eq!(compared_tests(&to(iron, 2.76)), Some(Compared::UnlikeEnds));
    assert_eq!(
        compared_tests(&to(Classes::ALL, 2.76)),
        Some(Compared::UnlikeEnds)
    );
    assert!(ratio_of(&to(Classes::of(Class::Icr), 2.76)).lo() > 0.96);
}
