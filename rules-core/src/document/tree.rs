//! Builds the tree of a document from what a reader of YAML or JSON meets, in the order of the text.
//!
//! The tree is built on a list, not on the stack.

use std::borrow::Cow;

use super::entries::{joined, repeated, unsplit};
use super::fault::Fault;
use super::node::{Content, Entry, Node, Scalar};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::{Problems, SetAside};
use super::source::{Source, Span};
use super::units::Quotes;
use crate::bounds::{MOST_LEVELS, MOST_NODES};

/// Takes the place of a merge key, whose value is left out. No key is empty.
const MERGED: Cow<'static, str> = Cow::Borrowed("");

/// The key of a document that tells an editor its schema, and that nothing else heeds.
const SCHEMA: &str = "$schema";

pub(super) const PLAIN_DATA: &str =
    "anchors, aliases, tags and merge keys are not part of this format; write the value out";

/// Room for what most documents have open at once.
const USUALLY_OPEN: usize = 8;
const USUAL_KEYS: usize = 64;

/// A map or list that has not ended, and how many of all items or entries come before its own.
enum Unfinished<'s> {
    List {
        span: Span,
        before: usize,
    },
    Map {
        span: Span,
        before: usize,
        key: Option<(Cow<'s, str>, Span)>,
    },
}

/// Builds a tree from what a reader meets, in the order of the text.
pub(super) struct Builder<'s> {
    source: &'s Source,
    open: Vec<Unfinished<'s>>,
    /// The items of all open lists, one list after the other, so that none grows by itself.
    items: Vec<Node<'s>>,
    /// The entries of all open maps.
    entries: Vec<Entry<'s>>,
    done: Option<Node<'s>>,
    nodes: usize,
    problems: Problems<'s>,
}

impl<'s> Builder<'s> {
    pub(super) fn new(source: &'s Source) -> Self {
        Self {
            source,
            open: Vec::with_capacity(USUALLY_OPEN),
            items: Vec::new(),
            entries: Vec::with_capacity(USUAL_KEYS),
            done: None,
            nodes: 0,
            problems: Problems::new(source),
        }
    }

    /// The tree, and the problems found.
    pub(super) fn finish(mut self) -> (Node<'s>, SetAside) {
        let mut tree = self.done.take().unwrap_or(Node {
            content: Content::Nothing,
            span: Span::default(),
        });
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

    /// A map begins.
    pub(super) fn enter_map(&mut self, span: Span) -> Result<(), Problem> {
        self.count_one(span)?;
        self.enter(
            span,
            Unfinished::Map {
                span: first_of(span),
                before: self.entries.len(),
                key: None,
            },
        )
    }

    /// A list begins.
    pub(super) fn enter_list(&mut self, span: Span) -> Result<(), Problem> {
        self.count_one(span)?;
        self.enter(
            span,
            Unfinished::List {
                span: first_of(span),
                before: self.items.len(),
            },
        )
    }

    /// A text that is no word: in quotes, or a block of lines.
    pub(super) fn text(
        &mut self,
        text: Cow<'s, str>,
        quotes: Quotes,
        span: Span,
    ) -> Result<(), Problem> {
        self.count_one(span)?;
        if self.expects_key() {
            return self.key(text, span);
        }
        self.put_scalar(text, quotes, span);
        Ok(())
    }

    /// A number or a word without quotes.
    pub(super) fn plain(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        self.count_one(span)?;
        if self.expects_key() {
            return self.plain_key(text, span);
        }
        if matches!(&*text, "" | "~" | "null" | "Null" | "NULL") {
            self.put(Node {
                content: Content::Nothing,
                span,
            });
        } else {
            self.put_scalar(text, Quotes::None, span);
        }
        Ok(())
    }

    /// Notes a problem after which reading goes on.
    pub(super) fn note(&mut self, fault: Fault, span: Span, message: &str, help: &str) {
        self.problems.add(fault, span, message, help);
    }

    fn problem(&self, fault: Fault, span: Span, message: &str, help: &str) -> Problem {
        Problem::at(self.source, fault, span, message, help)
    }

    fn count_one(&mut self, span: Span) -> Result<(), Problem> {
        self.nodes += 1;
        if self.nodes > MOST_NODES {
            let message = format!("more than {MOST_NODES} values in one document");
            return Err(self.problem(
                Fault::TooLarge,
                span,
                &message,
                "split it into several files",
            ));
        }
        Ok(())
    }

    fn enter(&mut self, span: Span, open: Unfinished<'s>) -> Result<(), Problem> {
        if self.open.len() == MOST_LEVELS {
            return Err(self.problem(
                Fault::TooDeep,
                span,
                &format!("deeper than {MOST_LEVELS} levels"),
                "the formats need no more than six",
            ));
        }
        if self.expects_key() {
            return Err(self.no_word(span));
        }
        self.open.push(open);
        Ok(())
    }

    /// A map or list ends.
    pub(super) fn leave(&mut self) -> Result<(), Problem> {
        let node = match self.open.pop() {
            Some(Unfinished::List { span, before }) => Node {
                content: Content::List(self.items.split_off(before)),
                span,
            },
            Some(Unfinished::Map { span, before, .. }) => {
                let mut entries = unsplit(self.source, self.entries.split_off(before));
                if self.repeated_keys(&entries) {
                    entries = joined(entries);
                }
                Node {
                    content: Content::Map(entries),
                    span,
                }
            }
            None => return Ok(()),
        };
        self.put(node);
        Ok(())
    }

    fn expects_key(&self) -> bool {
        matches!(self.open.last(), Some(Unfinished::Map { key: None, .. }))
    }

    fn put_scalar(&mut self, text: Cow<'s, str>, quotes: Quotes, span: Span) {
        let content = Content::Scalar(Scalar {
            text,
            quotes,
            split: false,
        });
        self.put(Node { content, span });
    }

    fn plain_key(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        if text != "<<" {
            return self.key(text, span);
        }
        self.note(Fault::Anchor, span, "this is a merge key", PLAIN_DATA);
        self.set_key(MERGED, span);
        Ok(())
    }

    fn key(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        if text.is_empty() {
            return Err(self.no_word(span));
        }
        self.set_key(text, span);
        Ok(())
    }

    fn set_key(&mut self, text: Cow<'s, str>, span: Span) {
        if let Some(Unfinished::Map { key, .. }) = self.open.last_mut() {
            *key = Some((text, span));
        }
    }

    fn no_word(&self, span: Span) -> Problem {
        self.problem(
            Fault::WrongShape,
            span,
            "a key must be a word or text",
            "write `key: value`",
        )
    }

    fn put(&mut self, node: Node<'s>) {
        match self.open.last_mut() {
            Some(Unfinished::List { .. }) => self.items.push(node),
            Some(Unfinished::Map { key, .. }) => {
                if let Some((key, key_span)) = key.take().filter(|(key, _)| *key != MERGED) {
                    self.entries.push(Entry {
                        key,
                        key_span,
                        node,
                    });
                }
            }
            None => self.done = Some(node),
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
}

/// A map or list is marked by its first character.
const fn first_of(span: Span) -> Span {
    Span {
        start: span.start,
        end: span.start,
    }
}
