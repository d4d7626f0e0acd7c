//! What cautions use, and definitions that nothing uses.

use std::collections::BTreeSet;

use crate::document::{Fault, Problems, Span};
use crate::formula::{FigureId, LimitId, Uses};
use crate::ruleset::{Basis, FigureInfo, Layer, LimitText, Named, Placeholder, Rules, Stack, View};

/// Everything that the cautions refer to, in formulas or in text.
pub(super) fn used(rules: &Rules) -> Uses {
    let mut all = Uses::default();
    for caution in rules.cautions() {
        let uses = rules.uses_of(caution);
        all.facts.extend(uses.facts);
        all.asked.extend(uses.asked);
        all.limits.extend(uses.limits);
        all.figures.extend(uses.figures);
        let texts = std::iter::once(&caution.reason).chain(&caution.remedy);
        for value in texts.flat_map(|text| &text.values) {
            match value {
                Placeholder::Number(number, _) => {
                    all.add_number(number, rules.program(), rules.catalogue())
                }
                Placeholder::Condition(condition) => {
                    all.add_condition(condition, rules.program(), rules.catalogue())
                }
                Placeholder::Fact(_) => {}
            }
        }
    }
    all
}

pub(super) fn vet_limit(
    limit: &Named<LimitText>,
    rules: &Rules,
    used: &Uses,
    found: &mut Problems<'_>,
) {
    if limit.body.written.basis.is_empty() {
        found.advise(
            Fault::MissingBasis,
            limit.span,
            format!("the limit `{}` has no basis", limit.name),
            "add `basis`",
        );
    }
    let position = rules
        .limits()
        .iter()
        .position(|info| info.name == limit.name);
    if position.is_some_and(|position| !used.limits.contains(&LimitId(position))) {
        unused("limit", &limit.name, limit.span, found);
    }
}

pub(super) fn vet_meters(layer: &Layer, found: &mut Problems<'_>) {
    let bare = layer
        .meters
        .iter()
        .filter(|meter| meter.body.basis.is_empty());
    for meter in bare {
        let message = format!("the meter assumed for `{}` has no basis", meter.name);
        found.advise(Fault::MissingBasis, meter.span, message, "add `basis`");
    }
}

pub(super) fn unused_figures(layer: &Layer, rules: &Rules, used: &Uses, found: &mut Problems<'_>) {
    for figure in &layer.figures {
        let named = |info: &FigureInfo| {
            info.name
                .split_once('.')
                .is_some_and(|(_, name)| name == figure.name)
        };
        let position = rules.figures().iter().position(named);
        if position.is_some_and(|position| !used.figures.contains(&FigureId(position))) {
            unused("figure", &figure.name, figure.span, found);
        }
    }
}

pub(super) fn unused_sources(layer: &Layer, stack: &Stack, found: &mut Problems<'_>) {
    let limits = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.limits)
        .flat_map(|limit| &limit.body.written.basis);
    let cautions = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.cautions)
        .flat_map(|caution| &caution.body.basis)
        .map(|(basis, _)| basis);
    let meters = stack.layers.iter().flat_map(|layer| &layer.meters);
    let meters = meters.flat_map(|meter| meter.body.basis.iter().map(|(basis, _)| basis));
    let named: BTreeSet<&str> = limits
        .chain(cautions)
        .chain(meters)
        .filter_map(|basis| {
            if let Basis::Source { source, .. } = basis {
                Some(&**source)
            } else {
                None
            }
        })
        .collect();
    for source in layer
        .sources
        .iter()
        .filter(|source| !named.contains(source.name.as_str()))
    {
        unused("source", &source.name, source.span, found);
    }
}

/// Stages that no caution of what is asked for is of.
pub(super) fn unused_stages(layer: &Layer, view: &View, found: &mut Problems<'_>) {
    let is_used = |id: &str| {
        let mut cautions = view.cautions.values();
        cautions.any(|caution| caution.stage.as_deref() == Some(id))
    };
    for stage in layer.stages.iter().filter(|stage| !is_used(&stage.name)) {
        unused("stage", &stage.name, stage.span, found);
    }
}

fn unused(what: &str, name: &str, span: Span, found: &mut Problems<'_>) {
    found.advise(
        Fault::Unused,
        span,
        format!("nothing uses the {what} `{name}`"),
        "use it or take it out",
    );
}
