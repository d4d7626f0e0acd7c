//! The merged ruleset as data.

use std::collections::BTreeMap;

use serde_json::Value;

use super::layer::{AboutText, CaseText, CautionText, FigureText, FormulaText, Layer, Named};
use super::limit::WrittenLimit;
use super::loosening::{Loosened, Loosening};
use super::meter::WrittenMeter;
use super::model::{LayerName, LoadedRuleset, WrittenSource};
use super::read::with_examples;
use super::reserved::Reserved;
use super::stack::Stack;
use super::stages::Stage;
use super::standing::Standing;
use super::view::{SeenCaution, SeenLimit, SeenMeter, View};
use super::written::{
    WrittenCase, WrittenCaution, WrittenFact, WrittenFigure, WrittenMerged, WrittenNotice,
    WrittenRuleset,
};
use super::written_stages::WrittenStages;
use crate::document::{Content, Node};
use crate::facts::{FactDefinition, FactKind, Notice};
use crate::quantity::Nature;

/// Characters of a name, at most.
const MOST_NAME: usize = 64;

/// The merged ruleset.
pub(super) fn merged(stack: &Stack, view: &View, stages: &[Stage]) -> WrittenRuleset {
    let asked: Vec<_> = stack
        .asked
        .iter()
        .filter_map(|at| stack.layers.get(*at))
        .collect();
    let mut names: Vec<&str> = asked.iter().map(|layer| layer.name.as_str()).collect();
    names.sort_unstable();
    let single = if asked.len() == 1 {
        asked.first()
    } else {
        None
    };
    let layers = &stack.layers;
    let ruleset = merged_name(&names, stack.reserved);
    let version = single.map_or("0", |layer| &layer.version).to_owned();
    // Without the merged file itself, so that reading it again finds the same.
    let mut from = layer_names(stack);
    from.retain(|name| name.ruleset != ruleset || name.version != version);
    WrittenRuleset {
        format: 1,
        ruleset,
        version,
        title: single.map_or_else(
            || format!("Merged: {}", names.join(", ")),
            |layer| layer.title.clone(),
        ),
        acceptance: Some(view.acceptance),
        extends: Vec::new(),
        stages: WrittenStages(stages.to_vec()),
        sources: sources(stack),
        facts: by_name(layers, |layer| &layer.facts, written_fact),
        notice: by_name(layers, |layer| &layer.notice, written_notice),
        meters: written_meters(view),
        limits: written_limits(stack, view),
        figures: by_name(layers, |layer| &layer.figures, written_figure),
        cautions: written_cautions(stack, view),
        adjust: None,
        merged: Some(WrittenMerged {
            from,
            loosened: loosenings(stack, view)
                .into_iter()
                .map(Into::into)
                .collect(),
        }),
    }
}

/// The sources of all rulesets, by name.
pub(super) fn sources(stack: &Stack) -> BTreeMap<String, WrittenSource> {
    by_name(&stack.layers, |layer| &layer.sources, Clone::clone)
}

/// What all rulesets define of one sort, by name, as it is written.
fn by_name<T, W>(
    layers: &[Layer],
    defined: impl Fn(&Layer) -> &Vec<Named<T>>,
    written: impl Fn(&T) -> W,
) -> BTreeMap<String, W> {
    let all = layers.iter().flat_map(defined);
    all.map(|one| (one.name.clone(), written(&one.body)))
        .collect()
}

/// What a merged file calls itself. It is no shipped ruleset, even if it was made of nothing else.
fn merged_name(names: &[&str], reserved: Reserved) -> String {
    const MERGED: &str = "-merged";
    let name = |most: usize| names.join("-and-").chars().take(most).collect::<String>();
    let whole = name(MOST_NAME);
    if reserved.holds(&whole) {
        name(MOST_NAME - MERGED.len()) + MERGED
    } else {
        whole
    }
}

/// Every ruleset that took part, in the order of their names.
pub(super) fn loaded(stack: &Stack) -> Vec<LoadedRuleset> {
    let mut loaded: Vec<LoadedRuleset> = stack.layers.iter().map(loaded_ruleset).collect();
    loaded.sort();
    loaded
}

fn loaded_ruleset(layer: &Layer) -> LoadedRuleset {
    let shipped = layer.standing == Standing::Shipped;
    let mut claims = layer.merged_from.clone();
    claims.sort();
    claims.dedup();
    LoadedRuleset {
        ruleset: layer.name.clone(),
        version: layer.version.clone(),
        digest: layer.digest.clone(),
        file: (!shipped).then(|| layer.source.name().to_owned()),
        claims,
        is_edited_copy: layer.standing == Standing::EditedCopy,
    }
}

/// Every ruleset that took part, also those a merged file says it was made of.
fn layer_names(stack: &Stack) -> Vec<LayerName> {
    let own = stack.layers.iter().map(|layer| LayerName {
        ruleset: layer.name.clone(),
        version: layer.version.clone(),
    });
    let mut names: Vec<LayerName> = own
        .chain(
            stack
                .layers
                .iter()
                .flat_map(|layer| layer.merged_from.clone()),
        )
        .collect();
    names.sort();
    names.dedup();
    names
}

/// Every loosening that has an effect.
pub(super) fn loosenings(stack: &Stack, view: &View) -> Vec<Loosening> {
    let limits = view.limits.values().flat_map(|limit| &limit.loosened);
    let meters = view.meters.values().flatten();
    let limits = limits.chain(meters.flat_map(|meter| &meter.loosened));
    let cautions = view.cautions.values();
    let cautions = cautions.flat_map(|caution| caution.dropped.iter().chain(&caution.moved));
    let merged = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.merged_loosened)
        .filter(|loosening| matches!(loosening.what, Loosened::Caution(_)));
    let mut all: Vec<Loosening> = limits
        .chain(cautions)
        .chain(&view.acceptance_loosened)
        .chain(merged)
        .cloned()
        .collect();
    all.sort();
    all.dedup();
    all
}

fn written_notice(point: &Notice) -> WrittenNotice {
    WrittenNotice {
        short: point.short.clone(),
        says: point.says.clone(),
        source: point.source.clone(),
    }
}

fn written_fact(fact: &FactDefinition) -> WrittenFact {
    let options = match &fact.kind {
        FactKind::Choice(options) => options.clone(),
        _ => Vec::new(),
    };
    let nature = (fact.nature != Nature::Stated).then(|| fact.nature.word().to_owned());
    WrittenFact {
        kind: fact.kind.name().to_owned(),
        meaning: fact.meaning.clone(),
        nature,
        options,
        domain: fact.domain.as_ref().map(|(written, _)| written.clone()),
    }
}

fn written_meters(view: &View) -> BTreeMap<String, WrittenMeter> {
    let all = view.meters.iter();
    all.map(|(kind, seen)| (kind.clone(), written_meter(seen)))
        .collect()
}

/// The meters of a kind that are assumed, as one.
pub(super) fn written_meter(seen: &[SeenMeter]) -> WrittenMeter {
    let mut basis = Vec::new();
    for one in seen.iter().flat_map(|meter| &meter.basis) {
        if !basis.contains(one) {
            basis.push(one.clone());
        }
    }
    let is = seen.iter().map(|meter| meter.written.clone()).collect();
    WrittenMeter { is, basis }
}

fn written_limits(stack: &Stack, view: &View) -> BTreeMap<String, WrittenLimit> {
    let written = |(name, seen): (&String, &SeenLimit)| {
        let limit = &stack.layers.get(seen.layer)?.limits.get(seen.index)?.body;
        Some((name.clone(), limit.with_value(&seen.written)))
    };
    view.limits.iter().filter_map(written).collect()
}

fn written_figure(figure: &FigureText) -> WrittenFigure {
    let is = figure
        .is
        .as_ref()
        .map(|is| is.text.to_string())
        .unwrap_or_default();
    WrittenFigure {
        about: written_about(figure.about.as_ref()),
        is,
        meaning: figure.meaning.clone(),
    }
}

fn wording(node: &Node<'_>) -> String {
    node.scalar().unwrap_or_default().to_owned()
}

fn written_about(about: Option<&AboutText>) -> String {
    about.map(AboutText::written).unwrap_or_default()
}

fn written_cautions(stack: &Stack, view: &View) -> Vec<WrittenCaution> {
    let kept = view
        .cautions
        .iter()
        .filter(|(_, seen)| seen.dropped.is_empty());
    let layers = stack.layers.iter();
    let whole: Vec<_> = layers
        .map(|layer| with_examples(layer, stack.reserved))
        .collect();
    let text = |(id, seen): (&String, &SeenCaution)| {
        let caution = &whole.get(seen.layer)?.cautions.get(seen.index)?.body;
        Some(WrittenCaution {
            stage: seen.stage.clone(),
            ..written_caution(id, caution)
        })
    };
    kept.filter_map(text).collect()
}

/// A caution as data.
fn written_caution(id: &str, caution: &CautionText) -> WrittenCaution {
    let formula =
        |text: &Option<FormulaText>| text.as_ref().map(|formula| formula.text.to_string());
    WrittenCaution {
        id: id.to_owned(),
        title: caution.title.clone(),
        about: written_about(caution.about.as_ref()),
        stage: caution.stage.as_ref().map(|stage| stage.id.clone()),
        refused: caution.refused,
        applies_when: formula(&caution.applies_when),
        refuse_unless: formula(&caution.refuse_unless),
        warn_unless: formula(&caution.warn_unless),
        if_unmeasured: caution.if_unmeasured,
        fixed: caution.fixed,
        reason: wording(&caution.reason),
        remedy: caution.remedy.as_ref().map(wording),
        basis: caution
            .basis
            .iter()
            .map(|(basis, _)| basis.clone())
            .collect(),
        formerly: caution.formerly.clone(),
        cases: caution.cases.iter().map(written_case).collect(),
    }
}

fn written_case(case: &CaseText) -> WrittenCase {
    WrittenCase {
        given: json_of(&case.given),
        expect: case.expect,
        doubt: case.doubt,
        unmeasured: case
            .unmeasured
            .iter()
            .map(|(name, _)| name.clone())
            .collect(),
        note: case.note.clone(),
    }
}

/// A node as JSON. Scalars stay text: their kind is for whoever reads them to say.
fn json_of(node: &Node<'_>) -> Value {
    match &node.content {
        Content::Nothing => Value::Null,
        Content::Scalar(scalar) => Value::String(scalar.text.to_string()),
        Content::List(items) => Value::Array(items.iter().map(json_of).collect()),
        Content::Map(entries) => Value::Object(
            entries
                .iter()
                .map(|entry| (entry.key.to_string(), json_of(&entry.node)))
                .collect(),
        ),
    }
}
