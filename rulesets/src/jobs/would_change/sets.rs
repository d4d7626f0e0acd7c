//! The fewest changes that are enough together.

use rules_core::check::Together;

use super::instead::Instead;
use super::knobs::{Knob, Values};
use super::tries::{Edit, Tried, Tries};
use super::values::{ladder, nearest_beside, written};

/// What is known of single changes, of which none is enough.
pub(super) struct Few<'f> {
    pub knobs: &'f [Knob],
    /// Whether it is shown that no value of a knob is enough by itself.
    pub all_ruled_out: bool,
    /// Whether no knobs together are enough without another cell.
    pub needs_cell: bool,
    pub instead: &'f Instead,
}

/// A knob at its best value by itself.
struct AtBest<'k> {
    knob: &'k Knob,
    edit: Edit,
}

impl Few<'_> {
    /// The fewest that were found, and whether fewer are shown not to be enough.
    pub(super) fn found(&self, tries: &mut Tries<'_, '_>) -> Option<Together> {
        let without = (!self.needs_cell).then(Vec::new);
        let with_cell = self.instead.one.clone().map(|edit| vec![edit]);
        let mut at_best_value = None;
        for first in [without, with_cell].into_iter().flatten() {
            if !could_be_enough(&first, self.knobs, tries) {
                continue;
            }
            let all = || {
                self.knobs
                    .iter()
                    .filter_map(|knob| at_best(knob, tries))
                    .collect()
            };
            let at_best: &Vec<AtBest<'_>> = at_best_value.get_or_insert_with(all);
            if let Some(found) = enough(&first, at_best, tries) {
                let (turn, fewest) = (found.turn(tries.aim()), self.are_fewest(&found));
                return Some(Together { turn, fewest });
            }
        }
        None
    }

    /// Two are the fewest where it is shown that none is enough by itself.
    fn are_fewest(&self, found: &Tried) -> bool {
        found.edits.len() == 2 && self.all_ruled_out && self.instead.all_tried
    }
}

/// Whether the plan with some changes could be enough for some values of all knobs.
fn could_be_enough(first: &[Edit], knobs: &[Knob], tries: &mut Tries<'_, '_>) -> bool {
    let open = knobs.iter().map(Knob::left_open);
    let edits: Vec<Edit> = first.iter().cloned().chain(open).collect();
    let came = tries.with(&edits);
    !tries.aim().can_be_ruled_out() || came.is_some_and(|came| came.is_met)
}

/// The value of a knob that leaves the least against the plan; none where none leaves less.
fn at_best<'k>(knob: &'k Knob, tries: &mut Tries<'_, '_>) -> Option<AtBest<'k>> {
    let mut best: Option<(usize, Edit)> = None;
    for to in choices(&knob.values) {
        let edit = knob.set_to(&to);
        let Some(came) = tries.with(std::slice::from_ref(&edit)) else {
            continue;
        };
        let left = came.left.len();
        if left
            < best
                .as_ref()
                .map_or(tries.aim().against(), |(least, _)| *least)
        {
            best = Some((left, edit));
        }
    }
    best.map(|(_, edit)| AtBest { knob, edit })
}

/// So many values of a number are tried to see how much it can lift.
const FEW: usize = 4;

fn choices(values: &Values) -> Vec<String> {
    match values {
        Values::Words(words) | Values::OfBench(words) => words.clone(),
        Values::Numbers { kind, .. } => {
            let steps = ladder(values);
            let few = steps.iter().rev().step_by(2).take(FEW).rev();
            few.flatten()
                .flatten()
                .map(|value| written(*value, *kind))
                .collect()
        }
    }
}

/// Beside some changes all knobs at their best, if that is enough, without those that can be left as
/// they are; each number as near as can be to what is written.
fn enough(first: &[Edit], at_best: &[AtBest<'_>], tries: &mut Tries<'_, '_>) -> Option<Tried> {
    let all = |kept: &[&AtBest<'_>]| {
        let edits = kept.iter().map(|one| one.edit.clone());
        first.iter().cloned().chain(edits).collect::<Vec<Edit>>()
    };
    let mut kept: Vec<&AtBest<'_>> = at_best.iter().collect();
    let mut found = tries.tried(all(&kept)).filter(|tried| tried.came.is_met)?;
    for one in at_best {
        let fewer: Vec<&AtBest<'_>> = kept
            .iter()
            .copied()
            .filter(|other| !std::ptr::eq(*other, one))
            .collect();
        if let Some(tried) = tries.tried(all(&fewer)).filter(|tried| tried.came.is_met) {
            (kept, found) = (fewer, tried);
        }
    }
    for one in kept {
        let others: Vec<Edit> = found
            .edits
            .iter()
            .filter(|edit| **edit != one.edit)
            .cloned()
            .collect();
        if let Some(nearer) = nearest_beside(one.knob, &others, tries) {
            found = nearer;
        }
    }
    Some(found)
}
