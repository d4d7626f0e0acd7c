//! Stages: those that a ruleset declares, and the one that a caution names.

use super::values::{one_line, refused};
use crate::document::{Content, Entry, Fields, Node, Problems, text, word};
use crate::ruleset::layer::{DeclaredStage, StageText};

/// A stage that a ruleset declares: its title, or a map with the title and what becomes of the one that
/// is refused.
pub(super) fn declared(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<DeclaredStage> {
    word(&entry.key, entry.key_span, problems);
    if !matches!(entry.node.content, Content::Map(_)) {
        let title = one_line(&entry.node, problems)?;
        let refused = None;
        return Some(DeclaredStage { title, refused });
    }
    let mut fields = Fields::of(&entry.node, "a stage", problems)?;
    let title = fields.must("title", problems);
    let title = title.and_then(|node| one_line(node, problems));
    let refused = refused(&mut fields, problems);
    fields.finish(problems);
    Some(DeclaredStage {
        title: title?,
        refused,
    })
}

/// The stage that something is of, or is moved to.
pub(super) fn named(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<StageText> {
    let id = text(node, problems)?.to_owned();
    let span = node.span;
    Some(StageText { id, span })
}
