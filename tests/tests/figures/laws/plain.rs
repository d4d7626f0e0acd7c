//! Knowing less never narrows what is worked out without a discharge, nor a margin; what was sure of
//! less is sure of more.

use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::TestCaseError;
use rules_core::quantity::{Holds, Interval};
use rules_tests::law::always;
use rulesets::class::{Class, Classes};
use rulesets::figures::discharge;
use rulesets::figures::margin::{self, SlowCapacity, TimeUse};
use rulesets::figures::ocv;
use rulesets::figures::operating::operating_point;
use rulesets::figures::resistance::{self, Method};
use rulesets::figures::rest::{ChargeState, charge_state};
use rulesets::figures::stop::stop_plan;
use rulesets::figures::{charging, rating, storage};

use super::enclosing::{SLACK, each_encloses, encloses};
use super::known::{Known, classes, known};

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
        ("lasts", storage::lasts(charge, ohms)),
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
    always(
        "plain figures never narrow for knowing less",
        3000,
        inputs,
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
    always(
        "a margin never narrows for knowing less",
        5000,
        (select(Class::ALL.to_vec()), any::<bool>(), ends, slow),
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

/// A surely-yes or surely-no stays so for knowing more, and a state that may be outside the curves
/// is never passed off as one on them.
#[test]
fn sure_answers_stay_sure() {
    always(
        "sure answers stay sure",
        2000,
        (
            classes(),
            known(1.5, 4.6),
            known(0.005, 0.5),
            known(0.0, 48.0),
            known(0.0, 40.0),
        ),
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
