//! What is reported without a verdict: rules that leave out all that is shipped, names that are easily
//! confused, and optional parts that a proposal does not have.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::document::quoted;
use crate::facts::names::likeness;
use crate::facts::{Catalogue, Sheet, SubjectDef, SubjectId};
use crate::ruleset::Rules;

/// Something that a person should look at and that decides nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct Remark {
    /// What is told.
    pub remark: RemarkKind,
    /// What it is about, by the name of its subject; of a note `proposal`, of the rules `rules`.
    pub subject: String,
    /// The names that it is about.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub names: Vec<Arc<str>>,
    /// The same for people, in one or two sentences.
    pub says: String,
}

/// What a remark tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum RemarkKind {
    /// The names differ only in capitals, in 0 and O, or in 1, l and I.
    LooksAlike,
    /// The proposal says it of itself, to be told with its report.
    Noted,
    /// The proposal has none of an optional subject, so nothing of it was checked.
    NoneBrought,
    /// None of the shipped rulesets, which it names, takes part in the rules: nothing that they ask
    /// for was checked.
    WithoutShipped,
}

/// What the rules leave out, the notes of a proposal, and the remarks on its sheet, by subject.
pub(super) fn remarks(rules: &Rules, sheet: &Sheet, notes: &[Arc<str>]) -> Vec<Remark> {
    let catalogue = rules.catalogue();
    let mut told: Vec<Remark> = without_shipped(rules).into_iter().collect();
    told.extend(noted(notes));
    for def in catalogue.subjects() {
        let Some(subject) = catalogue
            .subject_named(&def.name)
            .filter(|subject| catalogue.is_many(*subject))
        else {
            continue;
        };
        if let Some(says) = def.if_none.as_deref().filter(|_| sheet.count(subject) == 0) {
            told.push(none_brought(def, says));
        }
        told.extend(
            alike(catalogue, sheet, subject)
                .into_iter()
                .map(|names| looks_alike(def, names)),
        );
    }
    told
}

/// That none of the shipped rulesets takes part.
fn without_shipped(rules: &Rules) -> Option<Remark> {
    let names = rules.shipped_left_out();
    (!names.is_empty()).then(|| Remark {
        remark: RemarkKind::WithoutShipped,
        subject: OF_THE_RULES.to_owned(),
        says: without_shipped_in_words(&names),
        names: names.into_iter().map(Arc::from).collect(),
    })
}

/// What is said of shipped rulesets of which none takes part.
#[must_use]
pub fn without_shipped_in_words(names: &[&str]) -> String {
    format!(
        "None of the shipped rulesets takes part ({}): nothing that they ask for was checked.",
        quoted(names)
    )
}

/// What a remark on the rules is about.
const OF_THE_RULES: &str = "rules";

/// The notes of a proposal. They are of no subject.
fn noted(notes: &[Arc<str>]) -> impl Iterator<Item = Remark> + '_ {
    notes.iter().map(|note| Remark {
        remark: RemarkKind::Noted,
        subject: OF_ALL.to_owned(),
        names: Vec::new(),
        says: note.to_string(),
    })
}

/// What a note is about.
const OF_ALL: &str = "proposal";

fn none_brought(def: &SubjectDef, says: &str) -> Remark {
    Remark {
        remark: RemarkKind::NoneBrought,
        subject: def.name.to_string(),
        names: Vec::new(),
        says: says.to_owned(),
    }
}

fn looks_alike(def: &SubjectDef, names: Vec<Arc<str>>) -> Remark {
    let says = alike_in_words(def.plural.as_ref().unwrap_or(&def.name), &names);
    Remark {
        remark: RemarkKind::LooksAlike,
        subject: def.name.to_string(),
        names,
        says,
    }
}

/// What is said of names of these that look alike.
pub(crate) fn alike_in_words(plural: &str, names: &[Arc<str>]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    format!(
        "Easily taken for one another: the {plural} {}. They differ only in capitals, in 0 and O, or in 1, l and I.",
        quoted.join(", ")
    )
}

/// The ids of a subject that look alike, each set and all sets in order.
fn alike(catalogue: &Catalogue, sheet: &Sheet, subject: SubjectId) -> Vec<Vec<Arc<str>>> {
    let count = sheet.count(subject);
    let Some(slot) = catalogue.id_of(subject).map(|id| catalogue.slot(id)) else {
        return Vec::new();
    };
    if count < 2 {
        return Vec::new();
    }
    let mut by_likeness: BTreeMap<String, Vec<Arc<str>>> = BTreeMap::new();
    for id in (0..count).filter_map(|at| sheet.text(subject, at, slot)) {
        let found = by_likeness.entry(likeness(id)).or_default();
        found.push(Arc::clone(id));
    }
    by_likeness
        .into_values()
        .filter(|ids| ids.len() > 1)
        .map(|mut ids| {
            ids.sort();
            ids
        })
        .collect()
}
