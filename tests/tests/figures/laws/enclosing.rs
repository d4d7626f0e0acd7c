//! How a law is tried, and what it says: what is known less encloses what is known more.

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use rules_core::quantity::Interval;
use rulesets::figures::discharge::Discharge;
use rulesets::figures::string::StringDischarge;

/// What the arithmetic of two calls may differ by in the last places.
pub(crate) const SLACK: f64 = 1e-9;

pub(crate) fn figures(of: &Discharge) -> [(&'static str, Interval); 7] {
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

pub(crate) fn string_figures(of: &StringDischarge) -> Vec<(String, Interval)> {
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
pub(crate) fn encloses(name: &str, less: Interval, more: Interval) -> Result<(), TestCaseError> {
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

pub(crate) fn each_encloses<N: AsRef<str>>(
    less: impl IntoIterator<Item = (N, Interval)>,
    more: impl IntoIterator<Item = (N, Interval)>,
) -> Result<(), TestCaseError> {
    less.into_iter()
        .zip(more)
        .try_for_each(|((name, less), (_, more))| encloses(name.as_ref(), less, more))
}
