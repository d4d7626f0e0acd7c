//! What each ruleset sees: the strictest of what it extends, then its own adjustments.
//!
//! A view is made of every layer in turn, bases first, and at last one of all that were asked for
//! together. Taking the strictest is what makes the order of files irrelevant and keeps a further
//! ruleset from ever improving a verdict.

mod adjust;

use std::collections::BTreeMap;

use self::adjust::Adjusting;
use super::layer::{Layer, Named, UnreadNames};
use super::ledger::Ledger;
use super::merge::Stack;
use super::model::{Acceptance, Loosening, Stricter};
use crate::document::{Fault, Problems};
use crate::quantity::{Holds, Interval, Kind, Measure, Nature, Quantity};

/// A limit as a ruleset sees it.
#[derive(Debug, Clone)]
pub(crate) struct SeenLimit {
    /// The layer that defines it, and its place there.
    pub layer: usize,
    pub index: usize,
    pub stricter: Stricter,
    pub value: Measure,
    pub written: String,
    pub kind: Kind,
    /// Why it is laxer than it was seen to be, if it is.
    pub loosened: Vec<Loosening>,
    /// What it was before it was loosened.
    pub before: Option<Measure>,
}

impl SeenLimit {
    /// Whether a value asks at least as much as this one.
    pub(super) fn is_met_by(&self, value: Measure) -> bool {
        asks_at_least(self.stricter, value, self.value)
    }

    /// Whether a value undoes every loosening so far.
    pub(super) fn is_restored_by(&self, value: Measure) -> bool {
        self.before
            .is_some_and(|before| asks_at_least(self.stricter, value, before))
    }
}

/// Whether a limit with the one value asks at least as much as with the other.
fn asks_at_least(stricter: Stricter, new: Measure, old: Measure) -> bool {
    let (new, old) = (new.range(), old.range());
    let (new, old) = if stricter == Stricter::Higher {
        (new, old)
    } else {
        (old, new)
    };
    let at_least = |a: f64, b: f64| Interval::point(b).at_most(Interval::point(a)) == Holds::Yes;
    at_least(new.lo(), old.lo()) && at_least(new.hi(), old.hi())
}

/// A caution as a ruleset sees it.
#[derive(Debug, Clone)]
pub(crate) struct SeenCaution {
    /// The layer that defines it, and its place there.
    pub layer: usize,
    pub index: usize,
    /// Why it does not apply any more, if it was dropped.
    pub dropped: Vec<Loosening>,
}

/// Everything a ruleset sees.
#[derive(Debug, Clone, Default)]
pub(crate) struct View {
    pub limits: BTreeMap<String, SeenLimit>,
    pub cautions: BTreeMap<String, SeenCaution>,
    pub acceptance: Acceptance,
    pub acceptance_loosened: Vec<Loosening>,
    pub unsure: Unsure,
}

/// What a ruleset cannot see for sure, because of faults where it is defined or changed. Of this
/// nothing more is asked.
#[derive(Debug, Clone, Default)]
pub(crate) struct Unsure {
    /// Limits that are there, but of what value is not known.
    pub limits: UnreadNames,
    /// Cautions.
    pub cautions: UnreadNames,
    /// Whether any limit may have been changed.
    pub changes: bool,
    /// Whether acceptance may have been.
    pub acceptance: bool,
}

impl Unsure {
    fn join(&mut self, other: &Self) {
        self.limits.join(&other.limits);
        self.cautions.join(&other.cautions);
        self.changes |= other.changes;
        self.acceptance |= other.acceptance;
    }

    /// Adds what could not be read of a layer's definitions.
    fn define(&mut self, layer: &Layer) {
        self.limits.join(&layer.unread.limits);
        self.cautions.join(&layer.unread.cautions);
        self.acceptance |= layer.unread.acceptance;
    }
}

/// The view of the rulesets asked for.
pub(super) fn view(stack: &Stack, ledger: &mut Ledger<'_>) -> View {
    let mut views: Vec<View> = Vec::new();
    for ((position, layer), problems) in stack.layers.iter().enumerate().zip(&mut ledger.layers) {
        let bases = stack
            .extends
            .get(position)
            .map(Vec::as_slice)
            .unwrap_or_default();
        let mut view = joined(&views, bases);
        view.unsure.define(layer);
        own_acceptance(&mut view, layer, bases.is_empty(), problems);
        define(&mut view, layer, position);
        Adjusting {
            stack,
            layer,
            view: &mut view,
            problems,
        }
        .all(&layer.adjust);
        view.unsure.changes |= layer.unread.changes;
        views.push(view);
    }
    joined(&views, &stack.asked)
}

/// What several rulesets see together.
fn joined(views: &[View], bases: &[usize]) -> View {
    let mut all = bases.iter().filter_map(|at| views.get(*at));
    all.next()
        .map(|first| all.fold(first.clone(), join))
        .unwrap_or_default()
}

fn join(mut view: View, other: &View) -> View {
    for (name, limit) in &other.limits {
        match view.limits.get_mut(name) {
            Some(kept) => join_limit(kept, limit),
            None => drop(view.limits.insert(name.clone(), limit.clone())),
        }
    }
    for (id, caution) in &other.cautions {
        match view.cautions.get_mut(id) {
            Some(kept) if kept.dropped.is_empty() || caution.dropped.is_empty() => {
                kept.dropped.clear()
            }
            Some(kept) => add_reasons(&mut kept.dropped, &caution.dropped),
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

/// A ruleset that extends nothing chooses freely; one that extends others goes to simple only in
/// the open, under `adjust`.
fn own_acceptance(view: &mut View, layer: &Layer, base: bool, problems: &mut Problems<'_>) {
    match layer.acceptance {
        Some((Acceptance::Guarded, _)) => {
            view.acceptance = Acceptance::Guarded;
            view.acceptance_loosened.clear();
        }
        Some((Acceptance::Simple, _)) if base => view.acceptance = Acceptance::Simple,
        Some((Acceptance::Simple, span))
            if view.acceptance == Acceptance::Guarded && !view.unsure.acceptance =>
        {
            let message = "what this ruleset extends is guarded";
            let help = "write it under `adjust`, with `because`";
            problems.add(Fault::LooseningWithoutReason, span, message, help);
            view.unsure.acceptance = true;
        }
        _ => {}
    }
    if view.acceptance == Acceptance::Simple {
        view.acceptance_loosened.extend(
            layer
                .merged_loosened
                .iter()
                .filter(|loosening| loosening.what == "acceptance")
                .cloned(),
        );
    }
}

fn define(view: &mut View, layer: &Layer, position: usize) {
    for (index, Named { name, body, .. }) in layer.limits.iter().enumerate() {
        let loosened: Vec<Loosening> = layer
            .merged_loosened
            .iter()
            .filter(|loosening| loosening.what == format!("limit {name}"))
            .cloned()
            .collect();
        let before = loosened
            .iter()
            .filter_map(|loosening| read_text(&loosening.from, body.kind))
            .reduce(|a, b| {
                if asks_at_least(body.stricter, a, b) {
                    a
                } else {
                    b
                }
            });
        let (stricter, value, kind, written) =
            (body.stricter, body.value, body.kind, body.written.clone());
        view.limits.entry(name.clone()).or_insert(SeenLimit {
            layer: position,
            index,
            stricter,
            value,
            written,
            kind,
            loosened,
            before,
        });
    }
    for (index, Named { name, .. }) in layer.cautions.iter().enumerate() {
        view.cautions.entry(name.clone()).or_insert(SeenCaution {
            layer: position,
            index,
            dropped: Vec::new(),
        });
    }
}

/// What a merged file says a limit was.
fn read_text(text: &str, kind: Kind) -> Option<Measure> {
    Quantity::parse(text)
        .ok()?
        .measure(kind, Nature::Stated, None)
        .ok()
}
