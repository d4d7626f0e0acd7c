//! Summaries: one word that says several facts of a subject at once.

use super::fact::FactId;
use super::sheet::Given;
use super::subject::SubjectId;
use crate::document::{Node, Problems, option};
use crate::snapshot::stored;

/// A key of a subject's section whose word says several facts: one look at a cable answers for its
/// sheath and both its plugs.
#[derive(Debug, Clone, PartialEq)]
pub struct SummaryDef {
    /// The subject.
    pub subject: SubjectId,
    /// The key in the subject's section: `look`.
    pub key: String,
    /// What is looked at.
    pub meaning: String,
    /// The words that can be written.
    pub words: Vec<SummaryWord>,
}

/// A word of a summary.
#[derive(Debug, Clone, PartialEq)]
pub struct SummaryWord {
    /// The word.
    pub word: String,
    /// The facts that it says, each with its value.
    pub says: Vec<(FactId, Given)>,
}

impl SummaryDef {
    /// The word that is written at a node, if it is one of this summary.
    #[must_use]
    pub fn read(&self, node: &Node<'_>, problems: &mut Problems<'_>) -> Option<&SummaryWord> {
        let words: Vec<(&str, &SummaryWord)> = self
            .words
            .iter()
            .map(|word| (word.word.as_str(), word))
            .collect();
        option(node, &words, problems)
    }
}

stored!(struct SummaryDef { subject, key, meaning, words });
stored!(struct SummaryWord { word, says });
