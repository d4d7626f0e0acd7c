//! Words that say several facts at once.
//!
//! They are read after the keys of their section: a fact that is written by itself too has to be the
//! same, wherever it stands.

use super::sections::SectionReader;
use rules_core::document::{Entry, Fault, Problems};
use rules_core::facts::{FactId, Given, Instance, SummaryId};

impl SectionReader<'_, '_> {
    /// Enters what the word at a key says.
    pub(super) fn summary(
        &self,
        entry: &Entry<'_>,
        id: SummaryId,
        instance: &mut Instance,
        problems: &mut Problems<'_>,
    ) {
        let summary = self.catalogue.summary(id);
        let word = summary.and_then(|summary| summary.read(&entry.node, problems));
        for (fact, value) in word.iter().flat_map(|word| &word.says) {
            let said = Given {
                at: Some(entry.node.span.start),
                ..value.clone()
            };
            match instance.given(self.catalogue.slot(*fact)) {
                None => instance.set(self.catalogue.slot(*fact), said),
                Some(own) if own.value == said.value => {}
                Some(own) => self.disagree(entry, (*fact, &said), own, problems),
            }
        }
    }

    fn disagree(
        &self,
        entry: &Entry<'_>,
        (fact, said): (FactId, &Given),
        own: &Given,
        problems: &mut Problems<'_>,
    ) {
        let def = self.catalogue.fact(fact);
        let key = def.and_then(|def| def.key.as_deref()).unwrap_or_default();
        let word = entry.node.scalar().unwrap_or_default();
        let line = own.at.map_or(0, |at| problems.source().line_of(at));
        let message = format!(
            "`{}: {word}` says `{key}: {}`, and line {line} says `{key}: {}`",
            entry.key, said.written, own.written
        );
        let help = format!(
            "correct `{key}`, or write each key by itself in place of `{}`",
            entry.key
        );
        problems.add(Fault::Contradiction, entry.node.span, message, help);
    }
}
