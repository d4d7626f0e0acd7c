//! What a tester always does the same: the current, the end and so on of its capacity test, the
//! method of its resistance.

use rules_core::document::{Content, Entry, Node, Problems};

use rules_core::facts::{InnerKeys, Key};

use super::named::Named;
use super::nodes::over;
use crate::facts::{CELL, catalogue};

/// The key by which a reading names its tester.
const TESTER: &str = "tester";

/// Testers by name: under each the keys of a cell that it reads, with what goes with them.
#[derive(Debug, Clone)]
pub(super) struct Testers(pub(super) Named);

impl Testers {
    /// The entries of a cell, with what their testers say in place of the names of these.
    pub(super) fn expanded(
        &self,
        entries: &[Entry<'static>],
        problems: &mut Problems<'_>,
    ) -> Vec<Entry<'static>> {
        let expanded = |entry: &Entry<'static>| Entry {
            node: self.of_key(&entry.key, &entry.node, problems),
            ..entry.clone()
        };
        entries.iter().map(expanded).collect()
    }

    fn of_key(
        &self,
        key: &str,
        node: &Node<'static>,
        problems: &mut Problems<'_>,
    ) -> Node<'static> {
        let content = match &node.content {
            Content::Map(entries) if known(key).is_some() => {
                Content::Map(self.reading(key, entries, problems))
            }
            Content::List(tests) => {
                let test = |test: &Node<'static>| self.of_key(key, test, problems);
                Content::List(tests.iter().map(test).collect())
            }
            other => other.clone(),
        };
        Node {
            content,
            span: node.span,
        }
    }

    /// The entries of a reading under a key; what is written beside the tester counts before it.
    fn reading(
        &self,
        key: &str,
        entries: &[Entry<'static>],
        problems: &mut Problems<'_>,
    ) -> Vec<Entry<'static>> {
        let Some(tester) = entries.iter().find(|entry| entry.key == TESTER) else {
            return entries.to_vec();
        };
        let written: Vec<Entry<'static>> = entries
            .iter()
            .filter(|entry| entry.key != TESTER)
            .cloned()
            .collect();
        let name = rules_core::document::text(&tester.node, problems);
        let found = name.and_then(|name| self.0.get(name, tester.node.span, problems));
        let Some(section) = found else {
            return written;
        };
        match section.at(key) {
            Some(said) => {
                let said = said.entries().iter();
                let said = said.filter(|entry| has(key, &entry.key));
                over(written, said.cloned())
            }
            None => {
                let message = format!("that tester says nothing of `{key}`");
                let help = format!("add `{key}` to it, or leave the tester out here");
                let fault = rules_core::document::Fault::UnknownName;
                problems.add(fault, tester.node.span, message, help);
                written
            }
        }
    }
}

/// The keys of a map that a cell has.
fn known(key: &str) -> Option<&'static InnerKeys> {
    match catalogue().key(CELL, key) {
        Some(Key::Map(keys)) => Some(keys),
        _ => None,
    }
}

/// Whether such a map has a key. What else a tester says is reported there, and is not repeated in
/// each cell.
fn has(key: &str, inner: &str) -> bool {
    known(key).is_some_and(|keys| keys.get(inner).is_some())
}
