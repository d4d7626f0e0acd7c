//! Laws of the figures' model: knowing less never shows less.
//!
//! Each figure is a function from intervals to intervals. Where every input of one call encloses
//! that of another, so does the result; what is unknown altogether gives a result and no panic.
//! `LAWS_CASES=100000 cargo test -p rules-tests --test figure_laws` makes a long run.
#![cfg(test)]

#[path = "figure_laws/known.rs"]
mod known;

use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, TestCaseError, TestRunner};
use rules_core::quantity::{Holds, Interval};
use rulesets::class::{Class, Classes};
use rulesets::figures::discharge::{self, CapacityTest, CellModel, Discharge, Draw, Duty};
use rulesets::figures::margin::{self, Open, SlowCapacity, TimeUse};
use rulesets::figures::ocv;
use rulesets::figures::operating::operating_point;
use rulesets::figures::parallel::{self, Joined};
use rulesets::figures::resistance::{self, Method};
use rulesets::figures::rest::{ChargeState, charge_state};
use rulesets::figures::stop::stop_plan;
use rulesets::figures::string::{self, Member, StringDischarge, StringDuty};
use rulesets::figures::{charging, rating, storage};

use known::{Known, cell, classes, draw, duty, known};

/// What the arithmetic of two calls may differ by in the last places.
const SLACK: f64 = 1e-9;

fn run<S: Strategy>(strategy: S, quick: u32, law: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let cases = std::env::var("LAWS_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok())
        .unwrap_or(quick);
    let config = Config {
        cases,
        failure_persistence: None,
        ..Config::default()
    };
    TestRunner::new(config)
        .run(&strategy, law)
        .unwrap_or_else(|error| panic!("{error}"));
}

fn figures(of: &Discharge) -> [(&'static str, Interval); 7] {
    [
        ("start", of.start),
        ("mid", of.mid),
        ("late", of.late),
        ("end", of.end),
        ("delivered", of.delivered),
        ("run time", of.run_time),
        ("energy", of.energy),
    ]
}

fn string_figures(of: &StringDischarge) -> Vec<(String, Interval)> {
    let whole = [
        ("weakest", of.weakest),
        ("start", of.start),
        ("mid", of.mid),
        ("late", of.late),
        ("delivered", of.delivered),
        ("run time", of.run_time),
        ("energy", of.energy),
    ];
    let cells = of
        .cells
        .iter()
        .enumerate()
        .map(|(place, cell)| (format!("cell {place}"), *cell));
    whole
        .into_iter()
        .map(|(name, value)| (name.to_owned(), value))
        .chain(cells)
        .collect()
}

/// The result of knowing less encloses that of knowing more.
fn encloses(name: &str, less: Interval, more: Interval) -> Result<(), TestCaseError> {
    let slack = |end: f64| {
        if end.is_finite() {
            SLACK * end.abs().max(1.0)
        } else {
            0.0
        }
    };
    let holds =
        less.lo() <= more.lo() + slack(more.lo()) && more.hi() <= less.hi() + slack(more.hi());
    prop_assert!(
        holds,
        "{name}: knowing less gives {less:?}, knowing more gives {more:?}"
    );
    Ok(())
}

fn each_encloses<N: AsRef<str>>(
    less: impl IntoIterator<Item = (N, Interval)>,
    more: impl IntoIterator<Item = (N, Interval)>,
) -> Result<(), TestCaseError> {
    less.into_iter()
        .zip(more)
        .try_for_each(|((name, less), (_, more))| encloses(name.as_ref(), less, more))
}

#[test]
fn a_discharge_never_narrows_for_knowing_less() {
    run((cell(), duty()), 2000, |(cell, duty)| {
        // Of a cell whose slow test gave less than the fast one no figure is worked out: an error.
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
    });
}

#[test]
fn a_string_never_narrows_for_knowing_less() {
    let members = proptest::collection::vec((cell(), known(0.2, 1.02)), 1..5);
    run(
        (members, draw(), known(-5.0, 45.0), known(0.0, 16.0)),
        500,
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
    run(cells, 1000, |cells| {
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
    });
}

/// A group of equal cells under n times the load is one of them under the load. Further tests count
/// in a group only where they prove something.
#[test]
fn equal_cells_in_parallel_are_one_cell() {
    run((cell(), duty(), 1..5_usize), 500, |(cell, duty, count)| {
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
            one.is_infinite() && all.is_infinite() || (one - all).abs() <= 1e-6 * one.abs().max(1.0)
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
    });
}

/// Volts, ohms, a load, a temperature, hours and a charge.
type Inputs = [Interval; 6];

/// What is worked out of them without a course over time.
fn plain_figures(of: Classes, inputs: &Inputs) -> Vec<(&'static str, Interval)> {
    let [volts, ohms, load, temperature, hours, charge] = *inputs;
    let point = operating_point(volts, ohms, load);
    let plan = stop_plan(of, load, ohms, hours);
    let state = charge_state(of, volts, Some(hours));
    let loss = storage::monthly_loss(of, state.charge(), ohms);
    vec![
        ("operating current", point.current),
        ("operating voltage", point.voltage),
        ("most power", point.most_power),
        ("collapse", point.collapse),
        ("rest stop", plan.rest),
        ("loaded stop", plan.loaded),
        ("first check", plan.first_check),
        ("charge state", state.charge()),
        ("charges", ocv::charges(of, volts)),
        ("voltages", ocv::voltages(of, charge)),
        ("charged to", discharge::charged_to(of, volts)),
        ("resistance", resistance::at_any(ohms, of, temperature)),
        ("slope", storage::slope(of, charge)),
        ("monthly loss", loss),
        ("leak", storage::leak(loss, charge)),
        ("lasts", storage::lasts(state.charge(), charge, ohms, loss)),
        (
            "charge time",
            charging::charge_time(state.charge(), charge, load),
        ),
        ("heat", rating::heat(load, ohms)),
        ("rate", rating::rate(load, charge)),
        ("energy", rating::energy(charge, volts)),
    ]
}

/// A resistance by each method, and from two voltages across a load.
fn resistances_never_narrow(less: &Inputs, more: &Inputs) -> Result<(), TestCaseError> {
    for method in [
        Method::Dc10s,
        Method::DcTwoCurrent,
        Method::Ac1khz,
        Method::KnownLoad,
        Method::ChargerDisplay,
    ] {
        encloses(
            "reading",
            resistance::dc(method, less[1]),
            resistance::dc(method, more[1]),
        )?;
    }
    let by_load =
        |[volts, _, load, .., charge]: &Inputs| resistance::from_load(*volts, *charge, *load);
    match (by_load(less), by_load(more)) {
        (Some(less), Some(more)) => encloses("known load", less, more),
        (less, more) => {
            prop_assert!(
                less.is_none(),
                "a resistance only for knowing less: {less:?} {more:?}"
            );
            Ok(())
        }
    }
}

#[test]
fn plain_figures_never_narrow_for_knowing_less() {
    let inputs = (
        classes(),
        known(2.0, 4.3),
        known(0.005, 0.5),
        known(0.0, 20.0),
        known(-20.0, 60.0),
        known(0.0, 48.0),
        known(0.0, 3.5),
    );
    run(
        inputs,
        3000,
        |(classes, volts, ohms, load, temperature, hours, charge)| {
            let of = |side: fn(&Known<Interval>) -> Interval| {
                [&volts, &ohms, &load, &temperature, &hours, &charge].map(side)
            };
            let (less, more) = (of(|known| known.less), of(|known| known.more));
            each_encloses(
                plain_figures(classes.less, &less),
                plain_figures(classes.more, &more),
            )?;
            resistances_never_narrow(&less, &more)
        },
    );
}

/// A use and a test of it, and a slow test by its rate, temperature and ratio.
fn time_use(
    class: Class,
    power: bool,
    [
        rate,
        tested,
        temperature,
        test_temperature,
        cut_off,
        test_cut_off,
        drop,
    ]: [Interval; 7],
    slow: Option<[Interval; 3]>,
) -> TimeUse {
    let slow = slow.map(|[rate, temperature, ratio]| SlowCapacity {
        rate,
        temperature,
        ratio,
    });
    TimeUse {
        class,
        rate,
        tested,
        temperature,
        test_temperature,
        cut_off,
        test_cut_off,
        drop,
        power,
        slow,
    }
}

/// A margin on run time never narrows for knowing less, nor closes.
#[test]
fn a_margin_never_narrows_for_knowing_less() {
    let ends = (
        known(0.02, 4.0),
        known(0.1, 2.0),
        known(-15.0, 50.0),
        known(10.0, 30.0),
        known(2.0, 3.3),
        known(2.0, 3.3),
        known(0.0, 0.8),
    );
    let slow = (
        known(0.02, 0.35),
        known(10.0, 30.0),
        known(0.9, 1.1),
        0..4_u8,
    );
    run(
        (select(Class::ALL.to_vec()), any::<bool>(), ends, slow),
        5000,
        |(
            class,
            power,
            (rate, tested, warm, test_warm, cut_off, test_cut_off, drop),
            (slow_rate, slow_warm, slow_ratio, kept),
        )| {
            let of = |side: fn(&Known<Interval>) -> Interval, kept: bool| {
                let slow = [&slow_rate, &slow_warm, &slow_ratio].map(side);
                let ends = [
                    &rate,
                    &tested,
                    &warm,
                    &test_warm,
                    &cut_off,
                    &test_cut_off,
                    &drop,
                ]
                .map(side);
                margin::time(&time_use(class, power, ends, kept.then_some(slow)))
            };
            let (less, more) = (
                of(|known| known.less, kept > 1),
                of(|known| known.more, kept > 0),
            );
            prop_assert!(
                less.least <= more.least + SLACK && more.greatest <= less.greatest + SLACK,
                "{less:?} {more:?}"
            );
            prop_assert!(
                (0.0..=1.0).contains(&less.least)
                    && less.greatest >= 1.0
                    && (less.open.is_some() || more.open.is_none()),
                "{less:?} {more:?}"
            );
            Ok(())
        },
    );
}

/// A surely-yes or surely-no stays so for knowing more, and a state that may lie outside the curves
/// is never passed off as one on them.
#[test]
fn sure_answers_stay_sure() {
    run(
        (
            classes(),
            known(1.5, 4.6),
            known(0.005, 0.5),
            known(0.0, 48.0),
            known(0.0, 40.0),
        ),
        2000,
        |(classes, volts, ohms, hours, power)| {
            let less = operating_point(volts.less, ohms.less, power.less).exists;
            let more = operating_point(volts.more, ohms.more, power.more).exists;
            prop_assert!(
                less == Holds::Undecided || less == more,
                "{less:?} {more:?}"
            );
            let less = charge_state(classes.less, volts.less, Some(hours.less));
            let more = charge_state(classes.more, volts.more, Some(hours.more));
            if matches!(less, ChargeState::Known(_)) && volts.more.is_bounded() {
                prop_assert!(matches!(more, ChargeState::Known(_)), "{less:?} {more:?}");
            }
            if let (
                ChargeState::Outside { below, above, .. },
                ChargeState::Outside {
                    below: under,
                    above: over,
                    ..
                },
            ) = (less, more)
            {
                prop_assert!(
                    below == Holds::Undecided || below == under,
                    "{less:?} {more:?}"
                );
                prop_assert!(
                    above == Holds::Undecided || above == over,
                    "{less:?} {more:?}"
                );
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
    run(exact(), 500, |(cell, current, cut_off)| {
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
        let open = given.open.is_some_and(|open| open != Open::EarlyEnd);
        prop_assert!(
            !open
                && (given.open.is_some()
                    || given.delivered.lo() > 0.9 * charge && given.delivered.hi() < 1.6 * charge),
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
    });
}

/// A string of one cell is that cell; one of equal cells divides everything equally.
#[test]
fn a_string_of_equal_cells_is_so_many_of_one() {
    run(
        (exact(), 1..6_usize, any::<bool>()),
        300,
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
    run(
        (exact(), 0.5..0.95_f64, 2..6_usize),
        300,
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
    run((exact(), 2..5_usize), 50, |((cell, current, _), count)| {
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
                && string.cells_open == Some(Open::Reversal),
            "{string:?}"
        );
        Ok(())
    });
}
