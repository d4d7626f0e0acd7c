//! Where values end. A report knows where each begins; the text of the proposal, read once more, tells
//! where it ends.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::document::{Content, Node, Place, Source, Syntax, read};

/// The ends of all values of the texts that a proposal was read from, by where they begin.
#[derive(Debug, Default)]
pub(super) struct Ends(BTreeMap<(Arc<str>, usize, usize), Place>);

impl Ends {
    /// Those of a text and of the others that parts of the proposal were taken from. A table is no
    /// document: its values have no ends.
    pub(super) fn of(source: Option<&Source>) -> Self {
        let mut ends = Self::default();
        for text in source.into_iter().flat_map(Source::texts) {
            if let Ok(tree) = read(text, Syntax::of_name(text.name())) {
                ends.add(&tree, text);
            }
        }
        ends
    }

    fn add(&mut self, node: &Node<'_>, text: &Source) {
        match &node.content {
            Content::Scalar(_) => {
                let start = text.place(node.span.start);
                let end = text.place(node.span.end);
                self.0.insert((start.file, start.line, start.column), end);
            }
            Content::List(items) => items.iter().for_each(|item| self.add(item, text)),
            Content::Map(entries) => entries.iter().for_each(|entry| self.add(&entry.node, text)),
            Content::Nothing => {}
        }
    }

    /// Where the value ends that begins at a place: behind its last character.
    pub(super) fn end(&self, place: &Place) -> Option<&Place> {
        let start = (Arc::clone(&place.file), place.line, place.column);
        self.0.get(&start)
    }
}
