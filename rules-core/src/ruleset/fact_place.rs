//! Where a fact is written in a proposal, and what can be written there.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::{Arc, OnceLock};

use serde::{Deserialize, Serialize};

use crate::facts::{Catalogue, FactDef, FactId, FactKind, SummaryDef};

/// Where a fact is written in a proposal, by the keys that lead to it, and what can be written there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct FactPlace {
    /// The key at the top of the proposal: `cables`.
    pub section: String,
    /// Whether a list stands there, of which the subject's own entry is meant.
    #[serde(rename = "list")]
    pub is_list: bool,
    /// The keys below, with dots between: `rated.current`. None where the section itself is the value.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    /// The kind of value.
    pub kind: Cow<'static, str>,
    /// A unit that a number can have there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<Cow<'static, str>>,
    /// What a choice can be.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub options: Vec<String>,
    /// What can be written there, where the kind does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub example: Option<String>,
    /// The key whose word answers it together with other facts, if there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_one_word: Option<InOneWord>,
}

/// A key whose word answers several facts at once.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct InOneWord {
    /// The key, in the section of the fact: `look`.
    pub key: String,
    /// What is looked at or answered.
    pub meaning: String,
    /// The words that can be written there.
    pub words: Vec<String>,
    /// The dotted names of all facts that it answers, this one among them.
    pub facts: Vec<String>,
}

impl InOneWord {
    fn of<'c>(def: &FactDef, catalogue: &'c Catalogue) -> Option<Self> {
        let facts = |summary: &'c SummaryDef| summary.words.iter().flat_map(|word| &word.says);
        let is_own = |fact: FactId| catalogue.fact(fact).is_some_and(|one| one.name == def.name);
        let of_subject = catalogue
            .summaries()
            .iter()
            .filter(|one| one.subject == def.subject);
        let mut saying = of_subject.filter(|summary| facts(summary).any(|(fact, _)| is_own(*fact)));
        let summary = saying.next()?;
        let names: BTreeSet<&str> = facts(summary)
            .map(|(fact, _)| catalogue.fact_name(*fact))
            .collect();
        Some(Self {
            key: summary.key.clone(),
            meaning: summary.meaning.clone(),
            words: summary.words.iter().map(|one| one.word.clone()).collect(),
            facts: names.into_iter().map(str::to_owned).collect(),
        })
    }
}

impl FactPlace {
    /// The place of a fact; none of one that is written nowhere. Those that rulesets declare have a
    /// place of their own.
    pub(super) fn of(
        def: &FactDef,
        catalogue: &Catalogue,
        are_declared: impl Fn(&str) -> bool,
    ) -> Option<Self> {
        let (section, is_list, key) = keys(def, catalogue, are_declared)?;
        let (unit, options) = match &def.kind {
            FactKind::Number(kind) => (Some(kind.base_unit()), Vec::new()),
            FactKind::Choice(options) => (None, options.clone()),
            FactKind::YesNo => (None, vec!["yes".to_owned(), "no".to_owned()]),
            FactKind::Id | FactKind::Text => (None, Vec::new()),
        };
        Some(Self {
            section,
            is_list,
            key,
            kind: def.kind.name().into(),
            unit: unit.filter(|unit| !unit.is_empty()).map(Cow::Borrowed),
            options,
            example: def.example.as_deref().map(str::to_owned),
            in_one_word: InOneWord::of(def, catalogue),
        })
    }
}

/// The places of the facts of a catalogue, made when they are first asked for and once for all.
#[derive(Debug, Clone, Default)]
pub(super) struct LatePlaces(OnceLock<Box<[MadePlace]>>);

type MadePlace = OnceLock<Option<Arc<FactPlace>>>;

impl LatePlaces {
    /// The place of a fact; `make` gives it where nobody asked before.
    pub(super) fn get_or(
        &self,
        id: FactId,
        catalogue: &Catalogue,
        make: impl FnOnce() -> Option<FactPlace>,
    ) -> Option<&Arc<FactPlace>> {
        let all = || catalogue.facts().map(|_| MadePlace::new()).collect();
        let place = self.0.get_or_init(all).get(id.position())?;
        place.get_or_init(|| make().map(Arc::new)).as_ref()
    }
}

/// The section, whether it is a list, and the keys below.
fn keys(
    def: &FactDef,
    catalogue: &Catalogue,
    are_declared: impl Fn(&str) -> bool,
) -> Option<(String, bool, Option<String>)> {
    let subject = catalogue.subject(def.subject)?;
    let key = match (&def.from, &def.key) {
        (Some(from), _) if !subject.has_section => return Some(from_elsewhere(from)),
        (Some(key), _) | (None, Some(key)) => key.to_string(),
        (None, None) => extra(def, catalogue, are_declared)?,
    };
    let section = subject.plural.as_ref().unwrap_or(&subject.name);
    Some((section.to_string(), subject.plural.is_some(), Some(key)))
}

/// What is worked out from a key of another section: `arrangement`, `cables[].circuit`.
fn from_elsewhere(from: &str) -> (String, bool, Option<String>) {
    let (section, key) = match from.split_once('.') {
        Some((section, key)) => (section, Some(key.to_owned())),
        None => (from, None),
    };
    let list = section.strip_suffix("[]");
    (list.unwrap_or(section).to_owned(), list.is_some(), key)
}

/// The key of a fact that a ruleset declares.
fn extra(
    def: &FactDef,
    catalogue: &Catalogue,
    are_declared: impl Fn(&str) -> bool,
) -> Option<String> {
    let name = catalogue.full_name(def.subject, &def.name);
    are_declared(&name).then(|| format!("extra.{}", def.name))
}
