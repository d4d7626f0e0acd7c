//! What is the same for every report by the same rules: the words.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::document::Place;
use crate::facts::Notice;
use crate::ruleset::{
    Acceptance, Basis, Caution, LimitReport, LoadedRuleset, Rules, Stage, WrittenSource,
};

/// The words of rules, got once: with them a lean record is the whole report again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Prose {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::format_one")
    )]
    pub format: u32,
    /// The rulesets.
    pub rules: Vec<LoadedRuleset>,
    /// The digest that records carry, under guarded and under simple acceptance.
    pub digests: ProseDigests,
    /// The cautions, by id.
    pub cautions: BTreeMap<Arc<str>, ProseCaution>,
    /// The titles of the stages, by name.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub stages: BTreeMap<Arc<str>, Arc<str>>,
    /// The limits, by name.
    pub limits: BTreeMap<String, LimitReport>,
    /// The published sources, by the names that a basis uses.
    pub sources: BTreeMap<String, WrittenSource>,
    /// What facts mean, by their dotted names.
    pub facts: BTreeMap<String, String>,
    /// The subjects of which there can be many.
    pub subjects: BTreeMap<String, ProseSubject>,
    /// What regulators and makers say of any such use. No verdict overrules it.
    pub notice: Vec<Notice>,
}

/// The digests of rules.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ProseDigests {
    /// Under guarded acceptance.
    pub guarded: String,
    /// Under simple acceptance.
    pub simple: String,
}

/// The words of a caution.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ProseCaution {
    /// What it is about.
    pub title: Arc<str>,
    /// The stage that it is of; left out, if it is of every stage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<Arc<str>>,
    /// Whether it is of the base that no local practice may drop.
    pub fixed: bool,
    /// Why, in pieces: for each `null` comes the next of the `values` of a finding.
    pub reason: Arc<[Option<Arc<str>>]>,
    /// What to do, in pieces as the reason; its values come after those of the reason.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remedy: Option<Arc<[Option<Arc<str>>]>>,
    /// What it rests on.
    pub basis: Arc<[Basis]>,
    /// Where its rungs stand in the ruleset.
    pub rungs: BTreeMap<String, Place>,
}

/// The words for a subject of which there can be many.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ProseSubject {
    /// The name of all of them.
    pub plural: String,
    /// What a report says where a proposal brings none, of a subject that it need not bring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub if_none: Option<String>,
}

impl Prose {
    /// The words of rules.
    #[must_use]
    pub fn of(rules: &Rules) -> Self {
        let catalogue = rules.catalogue();
        let digest = |acceptance| rules.digest_under(acceptance).to_owned();
        let cautions = rules.cautions().iter();
        let limits = rules.limits().iter();
        let facts = catalogue.facts();
        Self {
            format: 1,
            rules: rules.layers().to_vec(),
            digests: ProseDigests {
                guarded: digest(Acceptance::Guarded),
                simple: digest(Acceptance::Simple),
            },
            cautions: cautions
                .map(|one| (Arc::clone(&one.id), caution(one, rules)))
                .collect(),
            stages: rules.stages().iter().map(titled).collect(),
            limits: limits
                .map(|limit| (limit.name.to_string(), limit.written.reported()))
                .collect(),
            sources: rules.sources().clone(),
            facts: facts
                .map(|(id, def)| (catalogue.fact_name(id).to_owned(), def.meaning.to_string()))
                .collect(),
            subjects: subjects(rules),
            notice: rules.notice().to_vec(),
        }
    }

    /// The digest of reports under an acceptance.
    pub(super) fn digest(&self, acceptance: Acceptance) -> &str {
        match acceptance {
            Acceptance::Guarded => &self.digests.guarded,
            Acceptance::Simple => &self.digests.simple,
        }
    }
}

fn titled(stage: &Stage) -> (Arc<str>, Arc<str>) {
    (Arc::clone(&stage.id), Arc::clone(&stage.title))
}

fn caution(caution: &Caution, rules: &Rules) -> ProseCaution {
    let rungs = [
        ("refuse_unless", &caution.refuse_unless),
        ("warn_unless", &caution.warn_unless),
    ];
    let placed = rungs
        .into_iter()
        .filter_map(|(key, rung)| Some((key.to_owned(), rung.as_ref()?.place.clone())));
    ProseCaution {
        title: Arc::clone(&caution.title),
        stage: rules.stage_of(caution).map(|stage| Arc::clone(&stage.id)),
        fixed: caution.fixed,
        reason: Arc::clone(&caution.reason.words),
        remedy: caution
            .remedy
            .as_ref()
            .map(|remedy| Arc::clone(&remedy.words)),
        basis: Arc::clone(&caution.basis),
        rungs: placed.collect(),
    }
}

fn subjects(rules: &Rules) -> BTreeMap<String, ProseSubject> {
    let subjects = rules.catalogue().subjects().iter();
    let many = subjects.filter_map(|def| {
        let words = ProseSubject {
            plural: def.plural.as_deref()?.to_owned(),
            if_none: def.if_none.as_deref().map(str::to_owned),
        };
        Some((def.name.to_string(), words))
    });
    many.collect()
}
