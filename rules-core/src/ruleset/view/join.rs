//! What several rulesets see together: the strictest of everything.

use std::mem;

use super::meter;
use super::seen::{SeenCaution, SeenLimit, View};
use crate::quantity::Measure;
use crate::ruleset::adjustment::Adjustment;
use crate::ruleset::loosening::Loosening;
use crate::ruleset::model::{Acceptance, Stricter};
use crate::ruleset::stack::Stack;

/// The views of rulesets, each for as long as somebody still looks at it.
pub(super) struct Views {
    all: Vec<View>,
    /// How many are still to look at each.
    looks: Vec<usize>,
}

impl Views {
    /// None yet, of the rulesets of a stack.
    pub(super) fn of(stack: &Stack) -> Self {
        let mut looks = vec![0; stack.layers.len()];
        for at in stack.extends.iter().flatten().chain(&stack.asked) {
            if let Some(looks) = looks.get_mut(*at) {
                *looks += 1;
            }
        }
        Self {
            all: Vec::with_capacity(looks.len()),
            looks,
        }
    }

    /// Adds that of the next ruleset.
    pub(super) fn push(&mut self, view: View) {
        self.all.push(view);
    }

    /// What several rulesets see together.
    pub(super) fn joined(&mut self, bases: &[usize]) -> View {
        let mut bases = bases.iter();
        let first = bases.next().and_then(|at| self.looked_at(*at));
        bases.fold(first.unwrap_or_default(), |view, at| {
            match self.looked_at(*at) {
                Some(other) => join(view, &other),
                None => view,
            }
        })
    }

    /// A view, which nobody needs any more if this is the last look at it.
    fn looked_at(&mut self, at: usize) -> Option<View> {
        let (view, looks) = self.all.get_mut(at).zip(self.looks.get_mut(at))?;
        *looks = looks.saturating_sub(1);
        Some(match *looks {
            0 => mem::take(view),
            _ => view.clone(),
        })
    }
}

fn join(mut view: View, other: &View) -> View {
    view.stages.extend(other.stages.iter().cloned());
    for (name, limit) in &other.limits {
        match view.limits.get_mut(name) {
            Some(kept) => join_limit(kept, limit),
            None => drop(view.limits.insert(name.clone(), limit.clone())),
        }
    }
    for (kind, meters) in &other.meters {
        let kept = view.meters.entry(kind.clone()).or_default();
        meters.iter().for_each(|one| meter::add(kept, one.clone()));
    }
    for (id, caution) in &other.cautions {
        match view.cautions.get_mut(id) {
            Some(kept) => join_caution(kept, caution),
            None => drop(view.cautions.insert(id.clone(), caution.clone())),
        }
    }
    if view.acceptance == Acceptance::Simple && other.acceptance == Acceptance::Simple {
        add_reasons(&mut view.acceptance_loosened, &other.acceptance_loosened);
    } else {
        view.acceptance = Acceptance::Guarded;
        view.acceptance_loosened.clear();
    }
    view.unsure.join(&other.unsure);
    view
}

/// Of two views of one caution the one counts that speaks. One that is seen in two stages speaks in
/// every stage, so that neither misses it.
fn join_caution(kept: &mut SeenCaution, other: &SeenCaution) {
    add_if_both(&mut kept.dropped, &other.dropped);
    if kept.stage == other.stage {
        add_if_both(&mut kept.moved, &other.moved);
    } else {
        kept.stage = None;
        kept.moved.clear();
    }
}

/// Something is loosened only if it is in both views.
fn add_if_both(kept: &mut Vec<Loosening>, other: &[Loosening]) {
    if kept.is_empty() || other.is_empty() {
        kept.clear();
    } else {
        add_reasons(kept, other);
    }
}

/// Of two views of one limit the stricter counts, whichever comes first.
fn join_limit(kept: &mut SeenLimit, other: &SeenLimit) {
    match (kept.is_met_by(other.value), other.is_met_by(kept.value)) {
        (true, false) => *kept = other.clone(),
        (false, true) => {}
        (equal, _) => {
            let (a, b) = (kept.value.range(), other.value.range());
            let ends = if kept.stricter == Stricter::Higher {
                a.max(b)
            } else {
                a.min(b)
            };
            kept.value = Measure::of(ends);
            // Equal values may be written in two ways; two ranges of which neither is the stricter
            // give a third.
            kept.written = if equal {
                kept.written.clone().min(other.written.clone())
            } else {
                kept.value.shown(kept.kind).as_range().to_string()
            };
            kept.before = kept.before.or(other.before);
            add_reasons(&mut kept.loosened, &other.loosened);
            add_adjustments(&mut kept.adjusted, &other.adjusted);
        }
    }
}

fn add_reasons(kept: &mut Vec<Loosening>, other: &[Loosening]) {
    kept.extend(other.iter().cloned());
    kept.sort();
    kept.dedup();
}

/// Those of one view stay in their order, whichever view comes first.
fn add_adjustments(kept: &mut Vec<Adjustment>, other: &[Adjustment]) {
    let mut ways = [mem::take(kept), other.to_vec()];
    ways.sort();
    for one in ways.into_iter().flatten() {
        if !kept.contains(&one) {
            kept.push(one);
        }
    }
}
