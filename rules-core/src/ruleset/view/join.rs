//! What several rulesets see together: the strictest of everything.

use super::meter;
use super::seen::{SeenCaution, SeenLimit, View};
use crate::quantity::Measure;
use crate::ruleset::loosening::Loosening;
use crate::ruleset::model::{Acceptance, Stricter};

/// What several rulesets see together.
pub(super) fn joined(views: &[View], bases: &[usize]) -> View {
    let mut all = bases.iter().filter_map(|at| views.get(*at));
    all.next()
        .map(|first| all.fold(first.clone(), join))
        .unwrap_or_default()
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
        }
    }
}

fn add_reasons(kept: &mut Vec<Loosening>, other: &[Loosening]) {
    kept.extend(other.iter().cloned());
    kept.sort();
    kept.dedup();
}
