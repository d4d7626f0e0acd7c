//! Cautions with their formulas and texts compiled.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::subject::subject_of;
use crate::document::{Fault, Problems};
use crate::facts::SubjectId;
use crate::formula::{Vocabulary, resolve_condition};
use crate::ruleset::layer::{CautionText, FormulaText, Layer, Named};
use crate::ruleset::model::Basis;
use crate::ruleset::names::told;
use crate::ruleset::rules::{Caution, CautionCondition};
use crate::ruleset::stack::Stack;
use crate::ruleset::stages::{Stage, StageId};
use crate::ruleset::template::template;
use crate::ruleset::view::{SeenCaution, View};

pub(super) fn cautions(
    stack: &Stack,
    (view, stages): (&View, &[Stage]),
    vocabulary: &Vocabulary<'_>,
    problems: &mut [Problems<'_>],
) -> Vec<Caution> {
    let mut compiled = Vec::new();
    for ((position, layer), problems) in stack.layers.iter().enumerate().zip(problems) {
        for named in &layer.cautions {
            // A dropped caution is compiled too, so that dropping does not hide its faults.
            let caution = caution(named, layer, vocabulary, problems);
            let seen = view
                .cautions
                .get(&named.name)
                .filter(|seen| seen.layer == position && seen.dropped.is_empty());
            compiled.extend(caution.zip(seen).map(|(caution, seen)| {
                let stage = stage(seen, stages);
                let of_stage = || stages.get(stage?.0)?.refused;
                let refused = caution.refused.or_else(of_stage);
                Caution {
                    stage,
                    refused,
                    ..caution
                }
            }));
        }
        check_sources(layer, stack, vocabulary, problems);
    }
    compiled.sort_by(|a, b| a.id.cmp(&b.id));
    compiled
}

/// The stage that a caution is of.
fn stage(seen: &SeenCaution, stages: &[Stage]) -> Option<StageId> {
    let id = seen.stage.as_deref()?;
    let at = stages.iter().position(|stage| *stage.id == *id)?;
    Some(StageId(at))
}

/// A caution, of which it is not said yet what stage it is of.
fn caution(
    named: &Named<CautionText>,
    layer: &Layer,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) -> Option<Caution> {
    let text = &named.body;
    let about = text
        .about
        .as_ref()
        .and_then(|about| subject_of(about, vocabulary.catalogue, problems));
    let mut rung = |formula: &Option<FormulaText>| {
        formula
            .as_ref()
            .and_then(|formula| rung(formula, about, layer, vocabulary, problems))
    };
    let (applies_when, refuse_unless, warn_unless) = (
        rung(&text.applies_when),
        rung(&text.refuse_unless),
        rung(&text.warn_unless),
    );
    let reason = template(&text.reason.0, &text.reason.1, about, vocabulary, problems);
    let remedy = text
        .remedy
        .as_ref()
        .map(|(written, node)| template(written, node, about, vocabulary, problems));
    Some(Caution {
        id: named.name.as_str().into(),
        title: text.title.as_str().into(),
        about: about?,
        stage: None,
        refused: text.refused,
        applies_when,
        refuse_unless,
        warn_unless,
        if_unmeasured: text.if_unmeasured,
        fixed: text.fixed,
        reason,
        remedy,
        basis: text.basis.iter().map(|(basis, _)| basis.clone()).collect(),
        place: layer.source.place(named.span.start),
    })
}

fn rung(
    formula: &FormulaText,
    about: Option<SubjectId>,
    layer: &Layer,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) -> Option<CautionCondition> {
    let condition = told(
        resolve_condition(&formula.tree, about, vocabulary),
        &formula.node,
        problems,
    )?;
    Some(CautionCondition {
        condition,
        text: Arc::clone(&formula.text),
        place: layer.source.place(formula.node.span.start),
    })
}

/// Every source that a basis names must be defined by some ruleset.
fn check_sources(
    layer: &Layer,
    stack: &Stack,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) {
    let known: BTreeSet<&str> = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.sources)
        .map(|source| source.name.as_str())
        .collect();
    let limits = layer.limits.iter().flat_map(|limit| limit.body.basis());
    let meters = layer.meters.iter().flat_map(|meter| &meter.body.basis);
    let meters = meters.map(|(basis, span)| (basis, *span));
    let cautions = layer
        .cautions
        .iter()
        .flat_map(|caution| &caution.body.basis)
        .map(|(basis, span)| (basis, *span));
    for (basis, span) in limits.chain(meters).chain(cautions) {
        let Basis::Source { source, .. } = basis else {
            continue;
        };
        let unread = stack
            .layers
            .iter()
            .any(|layer| layer.unread.sources.may_hold(source));
        if !known.contains(source.as_str()) && !unread {
            let near = vocabulary.suggestions.near(source, known.iter().copied());
            let help = near.map_or_else(
                || "define it under `sources`".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            problems.add(
                Fault::UnknownName,
                span,
                format!("there is no source `{source}`"),
                help,
            );
        }
    }
}
