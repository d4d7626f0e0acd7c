//! The smallest set of answers that lifts the verdict of a plan which nothing but missing answers
//! holds: found by trying.
//!
//! `asked` has the questions of the report that hold the verdict, `values` what each could be answered
//! with, `tries` checks the plan with answers and counts. `favourable` finds answers that lift the
//! verdict, `few` leaves out what can be left out, and `waiting` says which answers a finding waits
//! for, so that it is known without a check that one cannot be left out, or that fewer are too few.
//!
//! The answers that are told were tried: a check of the plan with them came to what is told, and
//! without any one of them it does not. The values speak for the use. They come out of the limits of
//! the rules, the options and the ranges of facts; none is listed by hand.

mod asked;
mod favourable;
mod few;
#[cfg(test)]
mod tests;
mod tries;
mod values;
mod waiting;

use std::collections::BTreeSet;

use rules_core::check::{Options, Report, Status, TriedAnswer, Verdict, WouldLift};
use serde_json::Value;

use super::Trial;
use super::reads::Reads;
use favourable::favourable;
use few::{Few, few};
use tries::Tries;

/// So many checks are made at the most of a plan with up to [`FEW_CELLS`] cells. One takes a tenth of a
/// millisecond.
const MOST_CHECKS: usize = 400;
/// A check of more cells takes longer in proportion, and fewer are made.
const FEW_CELLS: usize = 2;
/// So many are made of any plan.
const LEAST_CHECKS: usize = 40;

/// The smallest set of answers that was found to lift the verdict of a plan together. Nothing where
/// something speaks against the plan or is in doubt that no answer lifts, where nothing holds it, or
/// where no such answers were found.
#[must_use]
pub fn would_lift(trial: &Trial<'_>, report: &Report) -> Option<WouldLift> {
    would_lift_without(trial, report, &BTreeSet::new())
}

/// The same without answers at some places, of which nobody knows what belongs there:
/// `cells[K4].tabs`.
#[must_use]
pub fn would_lift_without(
    trial: &Trial<'_>,
    report: &Report,
    not_known: &BTreeSet<String>,
) -> Option<WouldLift> {
    let cells = trial.draft().value().get("cells");
    let cells = cells.and_then(Value::as_array).map_or(0, Vec::len);
    let most = (MOST_CHECKS * FEW_CELLS / cells.max(FEW_CELLS)).max(LEAST_CHECKS);
    would_lift_within(trial, report, not_known, most)
}

fn would_lift_within(
    trial: &Trial<'_>,
    report: &Report,
    not_known: &BTreeSet<String>,
    most_checks: usize,
) -> Option<WouldLift> {
    let aim = aim(report)?;
    let draft = trial.plain().ok()?.draft().clone();
    // What would narrow figures is not looked at, and takes long.
    let options = Options {
        narrowing: false,
        ..trial.options()
    };
    let plain = Trial::beside(None, draft, trial.rules(), options);
    let reads = Reads::of(trial.rules());
    let mut tries = Tries::of(&plain, aim, most_checks);
    let found = favourable(&mut tries, report, (&reads, not_known))?;
    let Few {
        answers,
        verdict,
        fewest,
    } = few(&mut tries, report, found)?;
    let answers = answers.into_iter().map(|answer| TriedAnswer {
        place: answer.place,
        tried: answer.value,
    });
    Some(WouldLift {
        answers: answers.collect(),
        verdict,
        fewest,
        checks: tries.made(),
    })
}

/// The verdict that is to be lifted. None where something has it that no answer lifts.
fn aim(report: &Report) -> Option<Verdict> {
    let now = report.gravest();
    let holding = report.findings.iter();
    let mut holding = holding.filter(|finding| finding.verdict == now.verdict);
    let is_asked = holding.clone().next().is_some();
    let waits = holding.all(|finding| {
        finding.subject.is_listed()
            && finding.status != Status::Decided
            && finding.best < now.verdict
            && !finding.missing.is_empty()
    });
    (now.best < now.verdict && is_asked && waits).then_some(now.verdict)
}
