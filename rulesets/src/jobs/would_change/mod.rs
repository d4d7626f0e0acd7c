//! What would make a refused plan pass, or warn: found by trying.
//!
//! `aim` says what a change is to reach, `knobs` what can be changed in the plan; `tries` checks the
//! plan with changes and counts. `values` finds the nearest value of one knob, `sets` the few that
//! are enough together, `instead` the cells of the bench that could take a place.
//!
//! What is shown was tried: a check of the plan with the very values that are written came to what is
//! told. That something is *not* enough is shown by leaving it open: what is missing counts as all
//! that could be written, so that no value of it does better (law 5).

mod aim;
mod instead;
mod knobs;
mod sets;
#[cfg(test)]
mod tests;
mod tries;
mod values;

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::{OnlyOthers, Report, Turn, WouldChange};
use rules_core::facts::FactId;
use serde_json::Value;

use super::Trial;
use super::reads::Reads;
use aim::Aim;
use instead::Instead;
use knobs::{Knob, knobs};
use sets::Few;
use tries::{CELLS, Edit, Tries};
use values::nearest;

/// So many checks are made at the most of a plan with up to [`FEW_CELLS`] cells. One takes some tenths
/// of a millisecond.
const MOST_CHECKS: usize = 120;
/// A check of more cells takes longer in proportion, and fewer are made.
const FEW_CELLS: usize = 4;

/// What would change a refusal: single values of the plan, other cells of its bench, the fewest
/// changes together. Nothing for a plan that is not refused, or that nothing but missing answers
/// holds.
#[must_use]
pub fn would_change(trial: &Trial<'_>, report: &Report) -> Option<WouldChange> {
    let cells = trial.draft().value().get(CELLS);
    let cells = cells.and_then(Value::as_array).map_or(0, Vec::len);
    would_change_within(
        trial,
        report,
        MOST_CHECKS * FEW_CELLS / cells.max(FEW_CELLS),
    )
}

fn would_change_within(
    trial: &Trial<'_>,
    report: &Report,
    most_checks: usize,
) -> Option<WouldChange> {
    let aim = Aim::of(report)?;
    let reads = Reads::of(trial.rules());
    let knobs = knobs(trial, &aim, &reads)?;
    let mut tries = Tries::of(trial, (&aim, &reads), most_checks)?;
    let stands = standing(&knobs, &mut tries);
    let open: Vec<&Knob> = match stands.is_empty() {
        true => knobs
            .iter()
            .filter(|knob| !is_ruled_out(knob, &mut tries))
            .collect(),
        false => Vec::new(),
    };
    let found = open.iter().filter_map(|knob| nearest(knob, &mut tries));
    let found: Vec<Turn> = found.map(|found| found.turn(&aim)).collect();
    let instead = Instead::of(trial, &mut tries);
    let alone: Vec<Turn> = found.into_iter().chain(instead.enough.clone()).collect();
    let few = Few {
        knobs: &knobs,
        all_ruled_out: open.is_empty(),
        needs_cell: !stands.is_empty(),
        instead: &instead,
    };
    let together = match alone.is_empty() {
        true => few.found(&mut tries),
        false => None,
    };
    let is_enough = !alone.is_empty() || together.is_some();
    let all_tried = !tries.are_used_up() && instead.all_tried;
    let partly = instead.partly.filter(|_| !is_enough);
    let (of_cells, of_nothing) = by_reach(stands, trial, &reads);
    Some(WouldChange {
        against: aim.against(),
        alone,
        together,
        partly,
        only_others: of_cells.filter(|_| !is_enough),
        stands: of_nothing,
        checks: tries.made(),
        all_tried,
    })
}

/// The cautions that refuse whatever the values of all knobs are.
fn standing(knobs: &[Knob], tries: &mut Tries<'_, '_>) -> BTreeSet<Arc<str>> {
    let open: Vec<Edit> = knobs.iter().map(Knob::left_open).collect();
    let came = tries.with(&open).filter(|_| tries.aim().can_be_ruled_out());
    came.map(|came| came.left).unwrap_or_default()
}

/// Whether no value of a knob is enough by itself: not even the plan that leaves it open does better.
fn is_ruled_out(knob: &Knob, tries: &mut Tries<'_, '_>) -> bool {
    let open = tries
        .aim()
        .can_be_ruled_out()
        .then(|| tries.with(&[knob.left_open()]));
    open.flatten().is_some_and(|came| !came.is_met)
}

/// Of cautions that no knob lifts, those that other cells could lift, and those that nothing could.
fn by_reach(
    stands: BTreeSet<Arc<str>>,
    trial: &Trial<'_>,
    reads: &Reads,
) -> (Option<OnlyOthers>, Vec<String>) {
    let catalogue = trial.rules().catalogue();
    let is_of_many = |fact: FactId| {
        let def = catalogue.fact(fact);
        def.is_some_and(|def| catalogue.is_many(def.subject))
    };
    let (cells, nothing): (Vec<_>, Vec<_>) = stands
        .into_iter()
        .partition(|caution| reads.all(caution).any(is_of_many));
    let words = |all: Vec<Arc<str>>| all.iter().map(ToString::to_string).collect::<Vec<_>>();
    let others = OnlyOthers {
        list: CELLS.to_owned(),
        cautions: words(cells),
    };
    (
        Some(others).filter(|others| !others.cautions.is_empty()),
        words(nothing),
    )
}
