//! Reading a summary of a catalogue.

use super::catalogue::Catalogue;
use super::fact::{FactDef, FactId, FactKind};
use super::read::read_value;
use super::read_subject::subject_and_name;
use super::section::Key;
use super::sheet::Given;
use super::subject::SubjectId;
use super::summary::{SummaryDef, SummaryWord};
use crate::document::{Content, Entry, Fault, Fields, Problems, word};

/// Reads a summary of a catalogue that has these facts: `cable.look: { meaning: ..., words: { sound:
/// { sheath: whole, plug: whole } } }`.
pub(super) fn summary(
    entry: &Entry<'_>,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<SummaryDef> {
    let (subject, key) = subject_and_name(entry, catalogue, problems)?;
    word(key, entry.key_span, problems);
    if catalogue.key(subject, key).is_some() {
        let message = format!("`{key}` is a key of another fact or summary");
        let help = "give each its own place";
        problems.add(Fault::DefinedTwice, entry.key_span, message, help);
    }
    let mut fields = Fields::of(&entry.node, "a summary", problems)?;
    let meaning = fields.must_text("meaning", problems).map(str::to_owned);
    let words = fields.may_entries("words", problems).iter();
    let words = words.filter_map(|entry| summary_word(entry, subject, catalogue, problems));
    let words = words.collect();
    fields.finish(problems);
    Some(SummaryDef {
        subject,
        key: key.to_owned(),
        meaning: meaning?,
        words,
    })
}

fn summary_word(
    entry: &Entry<'_>,
    subject: SubjectId,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<SummaryWord> {
    let Content::Map(says) = &entry.node.content else {
        let help = "write a map from keys of the section to the values that it says";
        let message = format!("`{}` says no facts", entry.key);
        problems.add(Fault::WrongShape, entry.node.span, message, help);
        return None;
    };
    let said = says
        .iter()
        .filter_map(|fact| said(fact, subject, catalogue, problems));
    Some(SummaryWord {
        word: entry.key.to_string(),
        says: said.collect(),
    })
}

fn said(
    entry: &Entry<'_>,
    subject: SubjectId,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<(FactId, Given)> {
    let found = match catalogue.key(subject, &entry.key) {
        Some(Key::Fact(id)) => catalogue.fact(*id).map(|def| (*id, def)),
        _ => None,
    };
    let Some((id, def)) = found.filter(|(_, def)| is_in_words(def)) else {
        let message = format!("`{}` is no choice, and no yes or no, of it", entry.key);
        let help = "a summary says choices, and what is yes or no";
        problems.add(Fault::UnknownName, entry.key_span, message, help);
        return None;
    };
    let given = read_value(&entry.node, catalogue.fact_name(id), def, None, problems)?;
    Some((id, Given { at: None, ..given }))
}

/// Whether the values of a fact are words. Numbers are read, each by itself.
const fn is_in_words(def: &FactDef) -> bool {
    matches!(def.kind, FactKind::Choice(_) | FactKind::YesNo)
}
