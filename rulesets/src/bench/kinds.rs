//! What cells of one mark have alike: what their sheet says, where they come from.

use rules_core::document::{Content, Entry, Node, Problems, text};

use super::named::Named;
use super::nodes::{map, over};

/// The key by which a cell names its kind.
const KIND: &str = "kind";

/// Kinds of cells by name: under each the keys of a cell.
#[derive(Debug, Clone)]
pub(super) struct Kinds(pub(super) Named);

impl Kinds {
    /// The entries of a cell, with what its kind says in place of the name of this. What is written
    /// beside it counts first, key by key, in maps too.
    pub(super) fn expanded(
        &self,
        entries: &[Entry<'static>],
        problems: &mut Problems<'_>,
    ) -> Vec<Entry<'static>> {
        let Some(kind) = entries.iter().find(|entry| entry.key == KIND) else {
            return entries.to_vec();
        };
        let written = entries.iter().filter(|entry| entry.key != KIND).cloned();
        let name = text(&kind.node, problems);
        let found = name.and_then(|name| self.0.get(name, kind.node.span, problems));
        let said = found.map_or(&[][..], Node::entries);
        let written = written.map(|entry| joined(entry, said)).collect();
        over(written, said.iter().cloned())
    }
}

/// An entry, with what else is said in the map of its key.
fn joined(written: Entry<'static>, said: &[Entry<'static>]) -> Entry<'static> {
    let same = said.iter().find(|other| other.key == written.key);
    let (Content::Map(own), Some(other)) = (&written.node.content, same) else {
        return written;
    };
    let all = over(own.clone(), other.node.entries().iter().cloned());
    Entry {
        node: map(all, written.node.span),
        ..written
    }
}
