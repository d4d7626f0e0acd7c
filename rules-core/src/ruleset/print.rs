//! A ruleset as data: what a file holds, what `cellrules merged` prints, and what the schema
//! describes.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::layer::{AboutText, CaseText, CautionText, FigureText, FormulaText, Layer, LimitText};
use super::merge::Stack;
use super::model::{
    Acceptance, Basis, Expectation, IfUnmeasured, LayerName, LoadedRuleset, Loosening, Stricter,
    WrittenSource,
};
use super::reserved::{Reserved, Standing};
use super::view::{SeenLimit, View};
use crate::document::{Content, Node};
use crate::facts::{FactDefinition, FactKind, Notice};
use crate::quantity::{Nature, Quantity};

/// Characters of a name, at most.
const MOST_NAME: usize = 64;

/// A ruleset file.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenRuleset {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::format_one")
    )]
    pub format: u32,
    /// The ruleset's name: letters, digits and hyphens.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::identifier", example = "club-practice")
    )]
    pub ruleset: String,
    /// Its version.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::version"))]
    pub version: String,
    /// What it is about, in one line.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))]
    pub title: String,
    /// What decides where a value is in doubt; guarded if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acceptance: Option<Acceptance>,
    /// Rulesets this one rests on: shipped names, or paths relative to this file.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::rulesets")
    )]
    pub extends: Vec<String>,
    /// Published sources by name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_texts))]
    pub sources: BTreeMap<String, WrittenSource>,
    /// Facts that proposals may give under `extra`, by dotted name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_dotted_words))]
    pub facts: BTreeMap<String, WrittenFact>,
    /// What every report says besides, by name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_words))]
    pub notice: BTreeMap<String, WrittenNotice>,
    /// Named thresholds.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_words))]
    pub limits: BTreeMap<String, WrittenLimit>,
    /// Named formulas.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default, transform = crate::schema::named_by_words))]
    pub figures: BTreeMap<String, WrittenFigure>,
    /// The cautions.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub cautions: Vec<WrittenCaution>,
    /// What this ruleset changes in those it extends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub adjust: Option<WrittenAdjust>,
    /// In a merged file: what it was made of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub merged: Option<WrittenMerged>,
}

/// What a merged file was made of.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenMerged {
    /// The rulesets, by name.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub from: Vec<LayerName>,
    /// What they loosened.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub loosened: Vec<Loosening>,
}

/// A point of the notice that a ruleset adds.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenNotice {
    /// What is said.
    pub says: String,
    /// Who says it, and where.
    pub source: String,
}

/// A fact that a ruleset declares.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::as_the_kind_says))]
pub struct WrittenFact {
    /// A kind of quantity, `choice`, `yes-no` or `text`.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::fact_kind"))]
    pub kind: String,
    /// What it means.
    pub meaning: String,
    /// Measured (as good as its digits or its meter) or stated (exact); stated if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::nature")
    )]
    pub nature: Option<String>,
    /// The options of a choice.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::options")
    )]
    pub options: Vec<String>,
    /// The values a number can have at all, as a range.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::quantity", example = "0..50 K")
    )]
    pub domain: Option<String>,
}

/// A limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenLimit {
    /// Its value, with unit; exact unless a tolerance is given.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::quantity"))]
    pub value: String,
    /// The kind of quantity; that of the unit if left out, and a ratio where there is no unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::quantity_kind")
    )]
    pub kind: Option<&'static str>,
    /// The direction in which fewer proposals pass.
    pub stricter: Stricter,
    /// What it means.
    pub meaning: String,
    /// Whether other rulesets are kept from loosening it.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::yes_no")
    )]
    pub fixed: bool,
    /// What it rests on.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub basis: Vec<Basis>,
}

/// A figure.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenFigure {
    /// The subject: `each` and its name where there are many, or the name of a single one.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::about"))]
    pub about: String,
    /// The formula.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::formula", example = "subject.fact / 2")
    )]
    pub is: String,
    /// What it means.
    pub meaning: String,
}

/// A caution.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::needs_a_rung))]
pub struct WrittenCaution {
    /// Its name, which names the fault: letters, digits and hyphens.
    #[cfg_attr(
        feature = "schema",
        schemars(
            schema_with = "crate::schema::identifier",
            example = "deeply-discharged"
        )
    )]
    pub id: String,
    /// What it is about, in a few words on one line.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::one_line"))]
    pub title: String,
    /// The subject: `each` and its name where there are many, or the name of a single one.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::about"))]
    pub about: String,
    /// When it applies; always if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(
            default,
            schema_with = "crate::schema::formula",
            example = "subject.fact != word"
        )
    )]
    pub applies_when: Option<String>,
    /// What must hold, or the use is refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(
            default,
            schema_with = "crate::schema::formula",
            example = "subject.fact >= limit.name"
        )
    )]
    pub refuse_unless: Option<String>,
    /// What must hold, or the report warns.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(
            default,
            schema_with = "crate::schema::formula",
            example = "subject.fact >= limit.name + 1 V"
        )
    )]
    pub warn_unless: Option<String>,
    /// What a missing measurement gives; what the rung says if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub if_unmeasured: Option<IfUnmeasured>,
    /// Whether other rulesets are kept from dropping it.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::yes_no")
    )]
    pub fixed: bool,
    /// Why it is not met, with the numbers: `{subject.fact}` prints a fact, figure or limit.
    #[cfg_attr(
        feature = "schema",
        schemars(example = "it has {subject.fact}; under {limit.name} it is refused")
    )]
    pub reason: String,
    /// What to do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remedy: Option<String>,
    /// What it rests on.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub basis: Vec<Basis>,
    /// Examples that show each outcome.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub cases: Vec<WrittenCase>,
}

/// An example of a caution.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::in_doubt_or_unmeasured))]
pub struct WrittenCase {
    /// Facts by dotted name, and lists, by the plural of a subject, of facts without the prefix.
    /// All else is missing.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::given"))]
    pub given: Value,
    /// The outcome, the worst over the subjects.
    pub expect: Expectation,
    /// Whether the finding is in doubt.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::yes_no")
    )]
    pub doubt: bool,
    /// The missing facts that leave the finding undecided, all of them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::fact_names")
    )]
    pub unmeasured: Vec<String>,
    /// What the case is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// What a ruleset changes in those it extends.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjust {
    /// Limits by name.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub limits: BTreeMap<String, WrittenAdjustLimit>,
    /// Cautions by id.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub cautions: BTreeMap<String, WrittenAdjustCaution>,
    /// Acceptance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acceptance: Option<WrittenAdjustAcceptance>,
}

/// A limit adjusted.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjustLimit {
    /// The new value.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::quantity"))]
    pub to: String,
    /// The reason; needed for a loosening.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}

/// A caution dropped.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjustCaution {
    /// `yes`.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::only_yes"))]
    pub drop: bool,
    /// The reason; always needed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}

/// Acceptance adjusted.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct WrittenAdjustAcceptance {
    /// What decides from now on.
    pub to: Acceptance,
    /// The reason; needed to go to simple.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands fields over by reference"
)]
const fn is_no(yes: &bool) -> bool {
    !*yes
}

/// The merged ruleset.
pub(super) fn merged(stack: &Stack, view: &View) -> WrittenRuleset {
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
        sources: layers
            .iter()
            .flat_map(|layer| &layer.sources)
            .map(|source| (source.name.clone(), source.body.clone()))
            .collect(),
        facts: layers
            .iter()
            .flat_map(|layer| &layer.facts)
            .map(|fact| (fact.name.clone(), written_fact(&fact.body)))
            .collect(),
        notice: layers
            .iter()
            .flat_map(|layer| &layer.notice)
            .map(|point| (point.name.clone(), written_notice(&point.body)))
            .collect(),
        limits: view
            .limits
            .iter()
            .filter_map(|(name, seen)| Some((name.clone(), written_limit(stack, seen)?)))
            .collect(),
        figures: layers
            .iter()
            .flat_map(|layer| &layer.figures)
            .map(|figure| (figure.name.clone(), written_figure(&figure.body)))
            .collect(),
        cautions: written_cautions(stack, view),
        adjust: None,
        merged: Some(WrittenMerged {
            from,
            loosened: loosenings(stack, view),
        }),
    }
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
    let cautions = view.cautions.values().flat_map(|caution| &caution.dropped);
    let merged = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.merged_loosened)
        .filter(|loosening| loosening.what.starts_with("caution "));
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

fn written_limit(stack: &Stack, seen: &SeenLimit) -> Option<WrittenLimit> {
    let limit: &LimitText = &stack.layers.get(seen.layer)?.limits.get(seen.index)?.body;
    let basis = limit.basis.iter().map(|(basis, _)| basis.clone()).collect();
    let shown = Quantity::parse(&seen.written).ok()?.kind_shown();
    Some(WrittenLimit {
        value: seen.written.clone(),
        kind: (shown != Some(limit.kind)).then(|| limit.kind.name()),
        stricter: limit.stricter,
        meaning: limit.meaning.clone(),
        fixed: limit.fixed,
        basis,
    })
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

fn written_about(about: Option<&AboutText>) -> String {
    about.map(AboutText::written).unwrap_or_default()
}

fn written_cautions(stack: &Stack, view: &View) -> Vec<WrittenCaution> {
    let kept = view
        .cautions
        .iter()
        .filter(|(_, seen)| seen.dropped.is_empty());
    let text = |(id, seen): (&String, &super::view::SeenCaution)| {
        let caution = &stack.layers.get(seen.layer)?.cautions.get(seen.index)?.body;
        Some(written_caution(id, caution))
    };
    kept.filter_map(text).collect()
}

/// A caution as data.
pub(super) fn written_caution(id: &str, caution: &CautionText) -> WrittenCaution {
    let formula =
        |text: &Option<FormulaText>| text.as_ref().map(|formula| formula.text.to_string());
    WrittenCaution {
        id: id.to_owned(),
        title: caution.title.clone(),
        about: written_about(caution.about.as_ref()),
        applies_when: formula(&caution.applies_when),
        refuse_unless: formula(&caution.refuse_unless),
        warn_unless: formula(&caution.warn_unless),
        if_unmeasured: caution.if_unmeasured,
        fixed: caution.fixed,
        reason: caution.reason.0.clone(),
        remedy: caution.remedy.as_ref().map(|(text, _)| text.clone()),
        basis: caution
            .basis
            .iter()
            .map(|(basis, _)| basis.clone())
            .collect(),
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
