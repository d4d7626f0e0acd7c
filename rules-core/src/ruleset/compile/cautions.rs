//! Cautions with their formulas and texts compiled.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::subject::subject_of;
use crate::document::{Fault, Node, Problems};
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
use crate::snapshot::Late;

/// The cautions that apply, in order of their names; those of the first layers may be done.
pub(super) fn cautions(
    stack: &Stack,
    (done, compiled): (usize, Vec<Caution>),
    (view, stages): (&View, &[Stage]),
    vocabulary: &Vocabulary<'_>,
    problems: &mut [Problems<'_>],
) -> Vec<Caution> {
    let in_force = |caution, named, at| in_force(caution, named, at, view, stages);
    let mut found = Vec::new();
    let first = stack.layers.iter().enumerate().take(done);
    let first = first.flat_map(|(at, layer)| layer.cautions.iter().map(move |one| (one, at)));
    let named: BTreeMap<&str, _> = first.map(|one| (one.0.name.as_str(), one)).collect();
    for caution in compiled {
        let here = named.get(&*caution.id).copied();
        found.extend(here.and_then(|(named, at)| in_force(caution, named, at)));
    }
    let layers = stack.layers.iter().enumerate().zip(problems);
    for ((at, layer), problems) in layers.skip(done) {
        for named in &layer.cautions {
            // A dropped caution is compiled too, so that dropping does not hide its faults.
            let caution = caution(named, layer, vocabulary, problems);
            found.extend(caution.and_then(|caution| in_force(caution, named, at)));
        }
        check_sources(layer, stack, vocabulary, problems);
    }
    found.sort_by(|a, b| a.id.cmp(&b.id));
    found
}

/// A caution of the layer at a position with its stage, if it is not dropped.
fn in_force(
    caution: Caution,
    named: &Named<CautionText>,
    at: usize,
    view: &View,
    stages: &[Stage],
) -> Option<Caution> {
    let seen = view.cautions.get(&named.name)?;
    if seen.layer != at || !seen.dropped.is_empty() {
        return None;
    }
    let stage = stage(seen, stages);
    let of_stage = || stages.get(stage?.0)?.refused;
    Some(Caution {
        stage,
        refused: named.body.refused.or_else(of_stage),
        ..caution
    })
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
    let mut wording = |node: &Node<'_>| template(node, about, vocabulary, problems).into();
    let basis = text.basis.iter().map(|(basis, _)| basis.clone());
    let (reason, remedy) = (wording(&text.reason), text.remedy.as_ref().map(wording));
    Some(Caution {
        id: named.name.as_str().into(),
        title: Arc::<str>::from(text.title.as_str()).into(),
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
        basis: Late::from(basis.collect::<Arc<[Basis]>>()),
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
        &formula.node(),
        problems,
    )?;
    Some(CautionCondition {
        condition,
        text: Arc::clone(&formula.text).into(),
        place: layer.source.place(formula.span.start),
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
        if !known.contains(&**source) && !unread {
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
