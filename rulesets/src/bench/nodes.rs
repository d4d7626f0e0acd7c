//! Making nodes of a tree.

use std::borrow::Cow;
use std::collections::BTreeSet;

use rules_core::document::{Content, Entry, Node, Span};

/// A map that begins at a place.
pub(super) const fn map(entries: Vec<Entry<'static>>, span: Span) -> Node<'static> {
    Node {
        content: Content::Map(entries),
        span,
    }
}

/// A list that begins at a place.
pub(super) const fn list(items: Vec<Node<'static>>, span: Span) -> Node<'static> {
    Node {
        content: Content::List(items),
        span,
    }
}

/// A key with its value.
pub(super) fn entry(key: &str, key_span: Span, node: Node<'static>) -> Entry<'static> {
    Entry {
        key: Cow::Owned(key.to_owned()),
        key_span,
        node,
    }
}

/// These entries, and of the others those whose keys are not among them.
pub(super) fn over(
    written: Vec<Entry<'static>>,
    others: impl IntoIterator<Item = Entry<'static>>,
) -> Vec<Entry<'static>> {
    let mut all = written;
    let mut keys: BTreeSet<String> = all.iter().map(|entry| entry.key.to_string()).collect();
    for other in others {
        if keys.insert(other.key.to_string()) {
            all.push(other);
        }
    }
    all
}
