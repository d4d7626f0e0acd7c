//! A tree as it grows, within the bounds of a document, whatever reads the text.

use std::borrow::Cow;

use super::entries::{joined, repeated};
use super::fault::Fault;
use super::node::{Content, Entry, Node};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::{Problems, SetAside};
use super::source::{Source, Span};
use crate::bounds::{MOST_LEVELS, MOST_NODES};

/// The key of a document that tells an editor its schema, and that nothing else heeds.
const SCHEMA: &str = "$schema";

/// Room for what most documents have open at once.
const USUAL_KEYS: usize = 64;

/// Holds what the maps and lists that have not ended have so far, and counts all there is.
pub(super) struct Growing<'s> {
    source: &'s Source,
    levels: usize,
    nodes: usize,
    /// The items of all open lists, one list after the other, so that none grows by itself.
    items: Vec<Node<'s>>,
    /// The entries of all open maps.
    entries: Vec<Entry<'s>>,
    problems: Problems<'s>,
}

/// A map or list that has begun: where, and how many of all items or entries come before its own.
#[derive(Clone, Copy)]
pub(super) struct Begun {
    start: usize,
    before: usize,
}

impl Begun {
    /// A map or list is marked by its first character.
    const fn mark(self) -> Span {
        Span {
            start: self.start,
            end: self.start,
        }
    }
}

impl<'s> Growing<'s> {
    pub(super) fn new(source: &'s Source) -> Self {
        Self {
            source,
            levels: 0,
            nodes: 0,
            items: Vec::new(),
            entries: Vec::with_capacity(USUAL_KEYS),
            problems: Problems::new(source),
        }
    }

    /// The tree, and the problems found.
    pub(super) fn finish(mut self, mut tree: Node<'s>) -> (Node<'s>, SetAside) {
        self.leave_schema_out(&mut tree);
        (tree, self.problems.set_aside())
    }

    /// Where the schema of a document is is for the editor that it is written with.
    fn leave_schema_out(&mut self, tree: &mut Node<'_>) {
        let Content::Map(entries) = &mut tree.content else {
            return;
        };
        let Some(at) = entries.iter().position(|entry| entry.key == SCHEMA) else {
            return;
        };
        let node = entries.remove(at).node;
        if node.scalar().is_none() {
            let message = format!("this is {}", node.what());
            let help = "write where the schema is, as a text, or leave the key out";
            self.note(Fault::WrongShape, node.span, &message, help);
        }
    }

    /// The problems found, with one after which reading cannot go on.
    pub(super) fn give_up(mut self, problem: Problem) -> ProblemList {
        self.problems.take(problem);
        self.problems.finish()
    }

    /// Notes a problem after which reading goes on.
    pub(super) fn note(&mut self, fault: Fault, span: Span, message: &str, help: &str) {
        self.problems.add(fault, span, message, help);
    }

    /// Counts a value or a key.
    #[inline]
    pub(super) fn count_one(&mut self, span: Span) -> Result<(), Problem> {
        self.nodes += 1;
        if self.nodes > MOST_NODES {
            return Err(self.too_many(span));
        }
        Ok(())
    }

    /// Counts a key that is written as a text.
    #[inline]
    pub(super) fn count_key(&mut self, key: &str, span: Span) -> Result<(), Problem> {
        self.count_one(span)?;
        if key.is_empty() {
            return Err(self.no_word(span));
        }
        Ok(())
    }

    pub(super) fn begin_list(&mut self, span: Span) -> Result<Begun, Problem> {
        self.begin(span, self.items.len())
    }

    pub(super) fn begin_map(&mut self, span: Span) -> Result<Begun, Problem> {
        self.begin(span, self.entries.len())
    }

    fn begin(&mut self, span: Span, before: usize) -> Result<Begun, Problem> {
        self.count_one(span)?;
        if self.levels == MOST_LEVELS {
            return Err(self.too_deep(span));
        }
        self.levels += 1;
        let start = span.start;
        Ok(Begun { start, before })
    }

    /// Adds an item to the list that began last.
    pub(super) fn add_item(&mut self, item: Node<'s>) {
        self.items.push(item);
    }

    /// Adds an entry to the map that began last.
    #[inline]
    pub(super) fn add_entry(&mut self, key: Cow<'s, str>, key_span: Span, node: Node<'s>) {
        self.entries.push(Entry {
            key,
            key_span,
            node,
        });
    }

    /// The list that began last.
    pub(super) fn end_list(&mut self, begun: Begun) -> Node<'s> {
        self.levels -= 1;
        Node {
            content: Content::List(self.items.split_off(begun.before)),
            span: begun.mark(),
        }
    }

    /// The map that began last, of its entries as a reader leaves them.
    pub(super) fn end_map(
        &mut self,
        begun: Begun,
        left: impl FnOnce(Vec<Entry<'s>>) -> Vec<Entry<'s>>,
    ) -> Node<'s> {
        self.levels -= 1;
        let mut entries = left(self.entries.split_off(begun.before));
        if self.repeated_keys(&entries) {
            entries = joined(entries);
        }
        Node {
            content: Content::Map(entries),
            span: begun.mark(),
        }
    }

    /// Reports the keys that are written twice, if there are any.
    fn repeated_keys(&mut self, entries: &[Entry<'_>]) -> bool {
        let repeated = repeated(entries);
        for (entry, before) in &repeated {
            let line = self.source.line_of(before.start);
            let message = format!(
                "the key `{}` is here again; it is already on line {line}",
                entry.key
            );
            self.problems.add(
                Fault::RepeatedKey,
                entry.key_span,
                message,
                "keep one of the two",
            );
        }
        !repeated.is_empty()
    }

    #[cold]
    fn too_many(&self, span: Span) -> Problem {
        let message = format!("more than {MOST_NODES} values in one document");
        let help = "split it into several files";
        Problem::at(self.source, Fault::TooLarge, span, message, help)
    }

    #[cold]
    fn too_deep(&self, span: Span) -> Problem {
        let message = format!("deeper than {MOST_LEVELS} levels");
        let help = "the formats need no more than six";
        Problem::at(self.source, Fault::TooDeep, span, message, help)
    }

    #[cold]
    pub(super) fn no_word(&self, span: Span) -> Problem {
        let message = "a key must be a word or text";
        Problem::at(
            self.source,
            Fault::WrongShape,
            span,
            message,
            "write `key: value`",
        )
    }
}
