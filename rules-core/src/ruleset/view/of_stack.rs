//! What each ruleset of a stack sees, bases first.

use super::adjust::Adjusting;
use super::join::Views;
use super::meter;
use super::seen::{SeenCaution, SeenLimit, View, asks_at_least};
use super::stage::known_stage;
use crate::document::{Fault, Problems};
use crate::quantity::{Kind, Measure, Nature, Quantity};
use crate::ruleset::adjustment::Adjustment;
use crate::ruleset::layer::{Layer, Named};
use crate::ruleset::ledger::Ledger;
use crate::ruleset::loosening::{Loosened, Loosening};
use crate::ruleset::model::Acceptance;
use crate::ruleset::stack::Stack;

/// The view of the rulesets asked for.
pub(in crate::ruleset) fn view(stack: &Stack, ledger: &mut Ledger<'_>) -> View {
    let mut views = Views::of(stack);
    for ((position, layer), problems) in stack.layers.iter().enumerate().zip(&mut ledger.layers) {
        let bases = stack
            .extends
            .get(position)
            .map(Vec::as_slice)
            .unwrap_or_default();
        let mut view = views.joined(bases);
        view.unsure.define(layer);
        own_acceptance(&mut view, layer, bases.is_empty(), problems);
        define(&mut view, layer, position, problems);
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
    views.joined(&stack.asked)
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
                .filter(|loosening| loosening.what == Loosened::Acceptance)
                .cloned(),
        );
    }
}

fn define(view: &mut View, layer: &Layer, position: usize, problems: &mut Problems<'_>) {
    for (index, Named { name, body, .. }) in layer.limits.iter().enumerate() {
        let loosened: Vec<Loosening> = layer
            .merged_loosened
            .iter()
            .filter(|loosening| matches!(&loosening.what, Loosened::Limit(limit) if limit == name))
            .cloned()
            .collect();
        let before = loosened
            .iter()
            .filter_map(|loosening| read_text(&loosening.from, body.kind))
            .reduce(|a, b| {
                if asks_at_least(body.written.stricter, a, b) {
                    a
                } else {
                    b
                }
            });
        let (stricter, value, kind, written) = (
            body.written.stricter,
            body.value,
            body.kind,
            body.written.value.to_string(),
        );
        view.limits.entry(name.clone()).or_insert(SeenLimit {
            layer: position,
            index,
            stricter,
            value,
            written,
            kind,
            adjusted: loosened.iter().map(Adjustment::from).collect(),
            loosened,
            before,
        });
    }
    for (kind, seen) in meter::declared(layer) {
        meter::add(view.meters.entry(kind.to_owned()).or_default(), seen);
    }
    view.stages
        .extend(layer.stages.iter().map(|stage| stage.name.clone()));
    for (index, Named { name, body, .. }) in layer.cautions.iter().enumerate() {
        let stage = body.stage.as_ref();
        let seen = SeenCaution {
            layer: position,
            index,
            dropped: Vec::new(),
            stage: stage.and_then(|named| known_stage(named, view, problems)),
            moved: Vec::new(),
        };
        view.cautions.entry(name.clone()).or_insert(seen);
    }
}

/// What a merged file says a limit was.
fn read_text(text: &str, kind: Kind) -> Option<Measure> {
    Quantity::parse(text)
        .ok()?
        .measure(kind, Nature::Stated, None)
        .ok()
}
