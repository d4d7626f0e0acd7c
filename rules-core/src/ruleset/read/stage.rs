//! Stages: those that a ruleset declares, and the one that a caution names.

use super::values::one_line;
use crate::document::{Entry, Node, Problems, text, word};
use crate::ruleset::layer::StageText;

/// A stage that a ruleset declares, by its title.
pub(super) fn declared(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<String> {
    word(&entry.key, entry.key_span, problems);
    one_line(&entry.node, problems)
}

/// The stage that something is of, or is moved to.
pub(super) fn named(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<StageText> {
    let id = text(node, problems)?.to_owned();
    let span = node.span;
    Some(StageText { id, span })
}
