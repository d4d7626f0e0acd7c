//! Cells that are exactly known: the model gives back what it was made from, and a string or a group
//! of equal ones is so many times one of them.

use proptest::prelude::*;
use proptest::sample::select;
use rules_core::quantity::Interval;
use rules_tests::law::always;
use rulesets::class::{Class, Classes};
use rulesets::figures::discharge::{self, CapacityTest, CellModel, Draw, Duty};
use rulesets::figures::margin::{self, OpenReason};
use rulesets::figures::parallel;
use rulesets::figures::string::{self, Member, StringDuty};

use super::enclosing::figures;
use super::known::{cell, duty};

/// A group of equal cells under n times the load is one of them under the load. Further tests count
/// in a group only where they prove something.
#[test]
fn equal_cells_in_parallel_are_one_cell() {
    always(
        "equal cells in parallel are one cell",
        500,
        (cell(), duty(), 1..5_usize),
        |(cell, duty, count)| {
            let many = Interval::point(count as f64);
            let cell = cell.map(|cell| CellModel {
                further: [None; 3],
                ..*cell
            });
            let one = discharge::discharge(&cell.more, &duty.more);
            let draw = match duty.more.draw {
                Draw::Current(current) => Draw::Current(current * many),
                Draw::Power(power) => Draw::Power(power * many),
            };
            let group = parallel::as_one(&vec![cell.more; count]).expect("cells");
            let all = discharge::discharge(&group, &Duty { draw, ..duty.more });
            let close = |one: f64, all: f64| {
                one.is_infinite() && all.is_infinite()
                    || (one - all).abs() <= 1e-6 * one.abs().max(1.0)
            };
            for ((name, one), (_, all)) in figures(&one).into_iter().zip(figures(&all)).take(4) {
                let usual = |value: Interval| value.lo() > 0.0 && value.is_bounded();
                if usual(cell.more.r10)
                    && usual(cell.more.capacity.current)
                    && usual(cell.more.capacity.charge)
                    && one.is_bounded()
                    && one.hi() < 1e6
                {
                    prop_assert!(
                        close(one.lo(), all.lo()) && close(one.hi(), all.hi()),
                        "{name}: {one:?} {all:?}"
                    );
                }
            }
            Ok(())
        },
    );
}

/// An exactly known cell of one class, in mild use.
fn exact() -> impl Strategy<Value = (CellModel, f64, f64)> {
    (
        select(vec![Class::Icr, Class::Inr, Class::Ifr]),
        1.0..3.5_f64,
        0.2..1.0_f64,
        2.5..3.0_f64,
        0.02..0.12_f64,
    )
        .prop_map(|(class, charge, rate, cut_off, sag)| {
            let point = Interval::point;
            let current = rate * charge;
            let ohms = sag / current;
            let capacity = CapacityTest {
                charge: point(charge),
                current: point(current),
                cut_off: point(cut_off),
                temperature: point(25.0),
            };
            (
                CellModel {
                    classes: Classes::of(class),
                    capacity,
                    further: [None; 3],
                    shown: Default::default(),
                    joined: false,
                    r10: point(ohms),
                },
                current,
                cut_off,
            )
        })
}

/// The capacity test itself, run through the model, gives the tested charge within the stated
/// margin, and the whole is consistent.
#[test]
fn the_model_gives_back_its_own_capacity_test() {
    always(
        "the model gives back its own capacity test",
        500,
        exact(),
        |(cell, current, cut_off)| {
            let point = Interval::point;
            let duty = Duty {
                draw: Draw::Current(point(current)),
                start: point(1.0),
                temperature: point(25.0),
                cut_off: point(cut_off),
            };
            let given = discharge::discharge(&cell, &duty);
            let charge = cell.capacity.charge.lo();
            prop_assert!(given.delivered.contains(charge), "{given:?}");
            let open = given.open.is_some_and(|open| open != OpenReason::EarlyEnd);
            prop_assert!(
                !open
                    && (given.open.is_some()
                        || given.delivered.lo() > 0.9 * charge
                            && given.delivered.hi() < 1.6 * charge),
                "{given:?}"
            );
            prop_assert!((given.run_time.hi() * current / given.delivered.hi() - 1.0).abs() < 1e-9);
            prop_assert!(
                given.start.hi() >= given.end.hi()
                    && given.mid.hi() >= given.late.hi()
                    && given.mid.lo() >= given.late.lo()
            );
            prop_assert!(
                given.late.lo() >= cut_off && given.end == point(cut_off),
                "{given:?}"
            );
            prop_assert!(
                given.energy.lo() <= given.delivered.lo() * given.start.hi()
                    && given.energy.hi() >= given.delivered.lo() * cut_off,
                "{given:?}"
            );
            Ok(())
        },
    );
}

/// A string of one cell is that cell; one of equal cells divides everything equally.
#[test]
fn a_string_of_equal_cells_is_so_many_of_one() {
    always(
        "a string of equal cells is so many of one",
        300,
        (exact(), 1..6_usize, any::<bool>()),
        |((cell, current, cut_off), count, power)| {
            let point = Interval::point;
            let (one, many) = (point(1.0), point(count as f64));
            let draw = |of: Interval| {
                if power {
                    Draw::Power(point(current * 3.3) * of)
                } else {
                    Draw::Current(point(current))
                }
            };
            let single = discharge::discharge(
                &cell,
                &Duty {
                    draw: draw(one),
                    start: one,
                    temperature: point(25.0),
                    cut_off: point(cut_off),
                },
            );
            let duty = StringDuty {
                draw: draw(many),
                temperature: point(25.0),
                cut_off: point(cut_off) * many,
            };
            let string = string::discharge(&vec![Member { cell, start: one }; count], &duty)
                .expect("there are cells");
            let near = |string: f64, single: f64, part: f64| (string / single - 1.0).abs() < part;
            if single.open.is_none() && string.open.is_none() {
                let part = margin::STRING_TIME + 0.015;
                prop_assert!(
                    near(string.run_time.lo(), single.run_time.lo(), part)
                        && near(string.run_time.hi(), single.run_time.hi(), part),
                    "{single:?} {string:?}"
                );
                prop_assert!(
                    near(string.energy.hi(), single.energy.hi() * count as f64, part),
                    "{single:?} {string:?}"
                );
                prop_assert!(
                    near(string.mid.hi(), single.mid.hi() * count as f64, 0.01),
                    "{single:?} {string:?}"
                );
            }
            let equal = cut_off * (1.0 + 1e-6);
            prop_assert!(
                string
                    .cells
                    .iter()
                    .all(|end| end.lo() <= equal && end.hi() >= cut_off / 1.000_001),
                "{string:?}"
            );
            prop_assert!(string.weakest.hi() <= equal, "{string:?}");
            Ok(())
        },
    );
}

/// The weakest cell ends lowest, and what a string leaves it is what its end voltage leaves beside
/// the others.
#[test]
fn the_weakest_cell_ends_lowest() {
    always(
        "the weakest cell ends lowest",
        300,
        (exact(), 0.5..0.95_f64, 2..6_usize),
        |((cell, current, cut_off), part, count)| {
            let point = Interval::point;
            let mut members = vec![
                Member {
                    cell,
                    start: point(1.0)
                };
                count
            ];
            members[0].cell.capacity.charge = cell.capacity.charge * point(part);
            let whole = cut_off * count as f64;
            let duty = StringDuty {
                draw: Draw::Current(point(current)),
                temperature: point(25.0),
                cut_off: point(whole),
            };
            let string = string::discharge(&members, &duty).expect("there are cells");
            let (weak, strong) = (string.cells[0], string.cells[1]);
            prop_assert!(
                weak.lo() <= strong.lo()
                    && string.weakest.lo() <= weak.lo()
                    && string.weakest.hi() <= cut_off * (1.0 + 1e-6),
                "{string:?}"
            );
            let others: f64 = string.cells.iter().skip(1).map(|end| end.hi()).sum();
            prop_assert!(weak.hi() >= whole - others - 1e-6, "{string:?}");
            Ok(())
        },
    );
}

/// A string without an end may drive any of its cells into reversal, however strong.
#[test]
fn without_an_end_every_cell_is_open_downwards() {
    always(
        "without an end every cell is open downwards",
        50,
        (exact(), 2..5_usize),
        |((cell, current, _), count)| {
            let point = Interval::point;
            let duty = StringDuty {
                draw: Draw::Current(point(current)),
                temperature: point(25.0),
                cut_off: point(0.0),
            };
            let string = string::discharge(
                &vec![
                    Member {
                        cell,
                        start: point(1.0)
                    };
                    count
                ],
                &duty,
            )
            .expect("there are cells");
            prop_assert!(
                string.cells.iter().all(|end| end.lo().is_infinite())
                    && string.cells_open == Some(OpenReason::Reversal),
                "{string:?}"
            );
            Ok(())
        },
    );
}
