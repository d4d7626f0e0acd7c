//! Sources, and what limits and cautions rest on.

use std::borrow::Cow;

use crate::document::{Entry, Fault, Fields, Node, Problems, Span, list, option};
use crate::ruleset::model::{Basis, HowRead, WrittenSource};

/// A text for as long as the rules are there.
fn kept(text: &str) -> Cow<'static, str> {
    Cow::Owned(text.to_owned())
}

pub(super) fn source(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<WrittenSource> {
    let mut fields = Fields::of(&entry.node, "a source", problems)?;
    let title = fields.must_text("title", problems).map(kept);
    let publisher = fields.may_text("publisher", problems).map(kept);
    let year = fields.may_text("year", problems).map(kept);
    let link = fields.may_text("link", problems).map(kept);
    let ways = [
        ("in source", HowRead::InSource),
        ("second-hand", HowRead::SecondHand),
        ("from memory", HowRead::FromMemory),
    ];
    let read = fields
        .must("read", problems)
        .and_then(|node| option(node, &ways, problems));
    fields.finish(problems);
    Some(WrittenSource {
        title: title?,
        publisher,
        year,
        link,
        read: read?,
    })
}

pub(super) fn basis(node: Option<&Node<'_>>, problems: &mut Problems<'_>) -> Vec<(Basis, Span)> {
    let Some(node) = node else { return Vec::new() };
    list(node, problems)
        .iter()
        .filter_map(|item| one(item, problems))
        .collect()
}

/// A basis, with the place of its source's name.
fn one(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<(Basis, Span)> {
    let mut fields = Fields::of(node, "a basis", problems)?;
    let told = problems.len();
    let mut take = |key| fields.may_text(key, problems).map(kept);
    let (source, at, note) = (take("source"), take("at"), take("note"));
    let (common_practice, from_memory, worked_out) = (
        take("common_practice"),
        take("from_memory"),
        take("worked_out"),
    );
    let span = fields.may("source").map_or(node.span, |source| source.span);
    fields.finish(problems);
    let lone = at.is_none() && note.is_none();
    let basis = match (source, common_practice, from_memory, worked_out) {
        (Some(source), None, None, None) => Some(Basis::Source { source, at, note }),
        (None, Some(common_practice), None, None) if lone => {
            Some(Basis::CommonPractice { common_practice })
        }
        (None, None, Some(from_memory), None) if lone => Some(Basis::FromMemory { from_memory }),
        (None, None, None, Some(worked_out)) if lone => Some(Basis::WorkedOut { worked_out }),
        // What cannot be read, or has another key, may be the one that is meant.
        _ if problems.len() > told => None,
        _ => {
            let help = "write one of `source` (with `at` and `note`), `common_practice`, `from_memory`, `worked_out`";
            problems.add(Fault::WrongShape, node.span, "this is not one basis", help);
            None
        }
    };
    basis.map(|basis| (basis, span))
}
