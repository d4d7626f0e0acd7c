//! The cells of a bench that could take the place of one of a plan.

use rules_core::check::{Change, Turn, Verdict};
use rules_core::facts::names;
use serde_json::Value;

use super::tries::{CELLS, Came, Edit, Tried, Tries};
use crate::bench::Bench;
use crate::jobs::Trial;
use crate::jobs::entries::of_bench;

/// Other cells, each tried in place of one of the plan.
#[derive(Debug, Default)]
pub(super) struct Instead {
    /// Those that are enough, together where they take the place of the same one and come to the same.
    pub enough: Option<Turn>,
    /// Those that lift the most where none is enough.
    pub partly: Option<Turn>,
    /// One of those, for what else is tried beside it.
    pub one: Option<Edit>,
    /// Whether every cell was tried in every place.
    pub all_tried: bool,
}

impl Instead {
    /// Of the cells of the plan's bench that are in no light.
    pub(super) fn of(trial: &Trial<'_>, tries: &mut Tries<'_, '_>) -> Self {
        let Some(bench) = trial.bench() else {
            return Self {
                all_tried: true,
                ..Self::default()
            };
        };
        let out = in_plan(trial, tries);
        let by = offered(bench, &out);
        let (mut all, mut all_tried) = (Vec::new(), true);
        for out in &out {
            for by in &by {
                let (out, by) = (out.clone(), by.clone());
                match tries.are_used_up() {
                    true => all_tried = false,
                    false => all.extend(tries.tried(vec![Edit::Instead { out, by }])),
                }
            }
        }
        Self::of_tried(&all, all_tried, tries)
    }

    fn of_tried(all: &[Tried], all_tried: bool, tries: &Tries<'_, '_>) -> Self {
        let against = tries.aim().against();
        let lifting = all.iter().filter(|tried| tried.came.left.len() < against);
        let Some(best) = lifting.min_by_key(|tried| rank(&tried.came)) else {
            return Self {
                all_tried,
                ..Self::default()
            };
        };
        let alike = all
            .iter()
            .filter(|tried| rank(&tried.came) == rank(&best.came) && out_of(tried) == out_of(best));
        let mut turn = best.turn(tries.aim());
        turn.changes = vec![Change {
            place: CELLS.to_owned(),
            is: out_of(best).unwrap_or_default().to_owned(),
            to: alike.filter_map(by_of).map(str::to_owned).collect(),
        }];
        let (enough, partly) = match best.came.is_met {
            true => (Some(turn), None),
            false => (None, Some(turn)),
        };
        Self {
            enough,
            partly,
            one: best.edits.first().cloned(),
            all_tried,
        }
    }
}

/// The better comes first.
fn rank(came: &Came) -> (bool, Verdict, Verdict, usize) {
    (!came.is_met, came.verdict, came.best, came.left.len())
}

fn out_of(tried: &Tried) -> Option<&str> {
    match tried.edits.as_slice() {
        [Edit::Instead { out, .. }] => Some(out),
        _ => None,
    }
}

fn by_of(tried: &Tried) -> Option<&str> {
    match tried.edits.as_slice() {
        [Edit::Instead { by, .. }] => Some(by),
        _ => None,
    }
}

/// The cells that the plan takes from the bench, those of which the most speaks against it first.
fn in_plan(trial: &Trial<'_>, tries: &Tries<'_, '_>) -> Vec<String> {
    let cells = trial.draft().value().get(CELLS).and_then(Value::as_array);
    let named = cells.into_iter().flatten().filter_map(of_bench);
    let mut named: Vec<String> = named
        .filter_map(|name| names::id(name).ok())
        .map(|id| id.to_string())
        .collect();
    named.sort_by_key(|name| usize::MAX - tries.aim().of_entry(name));
    named
}

/// The cells that are in no light and not in the plan.
pub(super) fn offered(bench: &Bench, in_plan: &[String]) -> Vec<String> {
    let free = bench.cells().filter(|cell| bench.light_of(cell).is_none());
    let others = free.filter(|cell| in_plan.iter().all(|own| own != cell));
    others.map(str::to_owned).collect()
}
