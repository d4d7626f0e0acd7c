//! Joined cells, shares and groups, against circuit arithmetic and modelled pairs.

use super::*;
use crate::figures::discharge::{CapacityTest, CellModel};
use crate::span::span;
use rules_core::quantity::Interval;

fn point(value: f64) -> Interval {
    Interval::point(value)
}

fn near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() < within, "{value} {expected}");
}

/// Circuit arithmetic, worked by hand: the difference of two voltages by the sum of two
/// resistances.
#[test]
fn two_cells_equalise_by_ohms_law() {
    let cases = [
        (0.010, 0.100, 0.10),
        (0.050, 0.100, 0.5),
        (0.100, 0.100, 1.0),
        (0.300, 0.100, 3.0),
        (0.500, 0.070, 7.1),
        (1.0, 0.120, 8.3),
    ];
    for (difference, both, expected) in cases {
        let joined = |rest: f64| Joined {
            rest: point(rest),
            r10: point(both / 2.0),
        };
        let current = equalising(&[joined(3.7), joined(3.7 - difference)]);
        near(current.lo(), expected, 0.05);
        near(current.hi(), expected, 0.05);
    }
}

/// Currents of two equal cells joined at unlike charge, by model (parameter sets of `ocv` in
/// PyBaMM 26.10.1.1, no resistance in the joint): rest voltages, 10-second resistance at half
/// charge, and the current in the first moment.
#[test]
fn the_first_moment_of_modelled_pairs_lies_within() {
    let pairs = [
        (4.2000, 3.7509, 0.028670, 6.0251),
        (3.8406, 3.7983, 0.028670, 0.70638),
        (4.2000, 3.7873, 0.269610, 0.77786),
        (3.8155, 3.7979, 0.269610, 0.036881),
        (4.2000, 3.6846, 0.039571, 11.168),
        (3.7678, 3.7253, 0.039571, 0.92923),
        (4.2000, 3.7925, 0.045754, 4.0703),
        (3.8365, 3.8122, 0.045754, 0.26929),
        (3.6500, 3.2781, 0.061047, 2.2675),
        (3.2864, 3.2809, 0.061047, 0.040257),
    ];
    for (one, other, ohms, current) in pairs {
        let joined = |rest: f64| Joined {
            rest: point(rest),
            r10: point(ohms),
        };
        let rush = inrush(&[joined(one), joined(other)]);
        assert!(
            rush.contains(current),
            "{one} V and {other} V: {rush:?} {current}"
        );
    }
}

/// Three cells, solved by hand: 4.0, 3.8 and 3.8 V with 0.1 ohm each meet at 3.8667 V, so that
/// 1.333 A leave the first.
#[test]
fn a_full_cell_rushes_into_all_the_others() {
    let joined = |rest: f64| Joined {
        rest: point(rest),
        r10: point(0.1),
    };
    near(
        equalising(&[joined(3.8), joined(4.0), joined(3.8)]).lo(),
        4.0 / 3.0,
        1e-9,
    );
    near(
        equalising(&[joined(4.0), joined(3.8), joined(4.0)]).hi(),
        4.0 / 3.0,
        1e-9,
    );
    assert_eq!(inrush(&[joined(4.0)]), point(0.0));
    assert_eq!(inrush(&[]), point(0.0));
}

/// Every choice of ends of a few cells lies within.
#[test]
fn no_choice_of_ends_rushes_harder() {
    let cells = [
        (3.70, 3.76, 0.05, 0.09),
        (3.72, 3.74, 0.03, 0.20),
        (3.60, 3.90, 0.04, 0.06),
        (3.80, 3.81, 0.08, 0.11),
    ];
    let ends = |low: f64, high: f64| Interval::new(low, high).unwrap();
    let joined: Vec<Joined> = cells
        .iter()
        .map(|(a, b, c, d)| Joined {
            rest: ends(*a, *b),
            r10: ends(*c, *d),
        })
        .collect();
    let bounds = equalising(&joined);
    let mut highest: f64 = 0.0;
    for choice in 0..256_u32 {
        let pick = |bit: usize, value: Interval| {
            if choice >> bit & 1 == 1 {
                value.hi()
            } else {
                value.lo()
            }
        };
        let picked: Vec<Joined> = joined
            .iter()
            .enumerate()
            .map(|(place, cell)| Joined {
                rest: point(pick(place, cell.rest)),
                r10: point(pick(place + 4, cell.r10)),
            })
            .collect();
        let rush = equalising(&picked);
        assert!(
            bounds.lo() <= rush.lo() + 1e-9 && rush.hi() <= bounds.hi() + 1e-9,
            "{bounds:?} {rush:?}"
        );
        highest = highest.max(rush.hi());
    }
    near(bounds.hi(), highest, 1e-9);
}

#[test]
fn nothing_known_rushes_without_limit() {
    let unknown = Joined {
        rest: Interval::WHOLE,
        r10: Interval::WHOLE,
    };
    assert_eq!(
        inrush(&[unknown, unknown]),
        Interval::new(0.0, f64::INFINITY).unwrap()
    );
    let bare = Joined {
        rest: Interval::new(3.7, 3.8).unwrap(),
        r10: point(0.0),
    };
    assert_eq!(
        inrush(&[bare, bare]),
        Interval::new(0.0, f64::INFINITY).unwrap()
    );
}

/// 60 and 72 mohm share 54.5 % to 45.5 % (arithmetic).
#[test]
fn shares_go_by_conductance() {
    let shares = shares(&[point(0.060), point(0.072)]);
    near(shares[0].lo(), 0.545, 5e-4);
    near(shares[1].hi(), 0.455, 5e-4);
    assert_eq!(super::shares(&[Interval::WHOLE]), [point(1.0)]);
    let unknown = super::shares(&[Interval::WHOLE, Interval::WHOLE]);
    assert_eq!(unknown, [span(0.0, 1.0); 2]);
}

#[test]
fn a_group_adds_up() {
    use crate::class::{Class, Classes};
    let cell = |charge: f64, ohms: f64| CellModel {
        classes: Classes::of(Class::Icr),
        capacity: CapacityTest {
            charge: point(charge),
            current: point(0.5),
            cut_off: point(3.0),
            temperature: point(25.0),
        },
        further: [None; 3],
        shown: Default::default(),
        joined: false,
        r10: point(ohms),
    };
    let group = as_one(&[cell(2.0, 0.060), cell(2.2, 0.030)]).unwrap();
    near(group.capacity.charge.lo(), 4.2, 1e-9);
    near(group.r10.hi(), 0.020, 1e-9);
    assert_eq!(as_one(&[cell(2.0, 0.060)]), Some(cell(2.0, 0.060)));
    assert_eq!(as_one(&[]), None);
}

/// The charge of one cell that its rate limits would hide in that of the others.
#[test]
fn a_group_is_proved_only_if_every_cell_is() {
    use crate::class::{Class, Classes};
    use crate::figures::discharge::compared_tests;
    let test = |charge: f64, current: f64| CapacityTest {
        charge: point(charge),
        current: point(current),
        cut_off: point(2.75),
        temperature: point(25.0),
    };
    let cell = |charge: f64| CellModel {
        classes: Classes::of(Class::Icr),
        capacity: test(charge, 1.0),
        further: [Some(test(2.0, 0.4)), None, None],
        shown: Default::default(),
        joined: false,
        r10: point(0.05),
    };
    let (sound, limited) = (cell(1.98), cell(1.80));
    let group = as_one(&[sound, sound]).unwrap();
    assert_eq!(group.further, [Some(test(4.0, 0.8)), None, None]);
    assert_eq!(compared_tests(&group), compared_tests(&sound));
    assert_eq!(
        as_one(&[sound, sound, sound, limited]).unwrap().further,
        [None; 3]
    );
    assert_eq!(
        as_one(&[
            sound,
            CellModel {
                further: [None; 3],
                ..sound
            }
        ])
        .unwrap()
        .further,
        [None; 3]
    );
    assert_eq!(as_one(&[limited]), Some(limited));
}
