//! Knowing less never narrows what a cell, a string or a parallel group does.

use proptest::prelude::*;
use rules_core::quantity::Interval;
use rules_tests::law::always;
use rulesets::figures::discharge::{self, CellModel};
use rulesets::figures::parallel::{self, Joined};
use rulesets::figures::string::{self, Member, StringDuty};

use super::enclosing::{each_encloses, encloses, figures, string_figures};
use super::known::{Known, cell, draw, duty, known};

#[test]
fn a_discharge_never_narrows_for_knowing_less() {
    always(
        "a discharge never narrows for knowing less",
        2000,
        (cell(), duty()),
        |(cell, duty)| {
            // Of a cell whose slow test gave less than the fast one no figure is worked out: an
            // error.
            let slow = cell.more.further[0].map_or(f64::INFINITY, |slow| slow.charge.hi());
            if slow < cell.more.capacity.charge.lo() {
                return Ok(());
            }
            let less = discharge::discharge(&cell.less, &duty.less);
            let more = discharge::discharge(&cell.more, &duty.more);
            prop_assert!(
                less.open.is_some() || more.open.is_none(),
                "open only for knowing more: {:?}",
                more.open
            );
            each_encloses(figures(&less), figures(&more))
        },
    );
}

#[test]
fn a_string_never_narrows_for_knowing_less() {
    let members = proptest::collection::vec((cell(), known(0.2, 1.02)), 1..5);
    always(
        "a string never narrows for knowing less",
        500,
        (members, draw(), known(-5.0, 45.0), known(0.0, 16.0)),
        |(members, draw, temperature, cut_off)| {
            let less: Vec<Member> = members
                .iter()
                .map(|(cell, start)| Member {
                    cell: cell.less,
                    start: start.less,
                })
                .collect();
            let more: Vec<Member> = members
                .iter()
                .map(|(cell, start)| Member {
                    cell: cell.more,
                    start: start.more,
                })
                .collect();
            let less = string::discharge(
                &less,
                &StringDuty {
                    draw: draw.less,
                    temperature: temperature.less,
                    cut_off: cut_off.less,
                },
            );
            let more = string::discharge(
                &more,
                &StringDuty {
                    draw: draw.more,
                    temperature: temperature.more,
                    cut_off: cut_off.more,
                },
            );
            let (less, more) = (
                less.expect("there are cells"),
                more.expect("there are cells"),
            );
            prop_assert!(less.open.is_some() || more.open.is_none());
            prop_assert!(less.cells_open.is_some() || more.cells_open.is_none());
            each_encloses(string_figures(&less), string_figures(&more))
        },
    );
}

#[test]
fn a_parallel_group_never_narrows_for_knowing_less() {
    let cells = proptest::collection::vec((cell(), known(2.5, 4.25)), 1..6);
    always(
        "a parallel group never narrows for knowing less",
        1000,
        cells,
        |cells| {
            let joined = |one: fn(&Known<Interval>) -> Interval,
                          r10: fn(&Known<CellModel>) -> Interval|
             -> Vec<Joined> {
                cells
                    .iter()
                    .map(|(cell, rest)| Joined {
                        rest: one(rest),
                        r10: r10(cell),
                    })
                    .collect()
            };
            let (less, more) = (
                joined(|rest| rest.less, |cell| cell.less.r10),
                joined(|rest| rest.more, |cell| cell.more.r10),
            );
            encloses("inrush", parallel::inrush(&less), parallel::inrush(&more))?;
            let shares = |joined: &[Joined]| {
                parallel::shares(&joined.iter().map(|cell| cell.r10).collect::<Vec<_>>())
            };
            for (less, more) in shares(&less).into_iter().zip(shares(&more)) {
                encloses("share", less, more)?;
            }
            let group = |one: fn(&Known<CellModel>) -> CellModel| {
                parallel::as_one(&cells.iter().map(|(cell, _)| one(cell)).collect::<Vec<_>>())
            };
            let (less, more) = (
                group(|cell| cell.less).expect("cells"),
                group(|cell| cell.more).expect("cells"),
            );
            encloses("resistance", less.r10, more.r10)?;
            encloses("charge", less.capacity.charge, more.capacity.charge)?;
            encloses("current", less.capacity.current, more.capacity.current)?;
            prop_assert!(less.classes.encloses(more.classes));
            prop_assert!(
                less.further[0].is_none() || more.further[0].is_some(),
                "a further test only for knowing less"
            );
            if let (Some(less), Some(more)) = (less.further[0], more.further[0]) {
                encloses("slow charge", less.charge, more.charge)?;
            }
            Ok(())
        },
    );
}
