//! What a tester always does the same: the current, the end and so on of its capacity test, the
//! method of its resistance.

use rules_core::document::{Content, Entry, Node, Problems};

use super::named::Named;
use super::nodes::over;

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
            Content::Map(entries) => Content::Map(self.reading(key, entries, problems)),
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
            Some(said) => over(written, said.entries().iter().cloned()),
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
