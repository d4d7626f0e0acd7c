//! Builds the tree of a document from what a reader meets, event by event, in the order of the text.
//!
//! The tree is built on a list, not on the stack.

use std::borrow::Cow;

use super::entries::unsplit;
use super::fault::Fault;
use super::growing::{Begun, Growing};
use super::node::{Content, Node};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::SetAside;
use super::source::{Source, Span};
use super::units::Quotes;

/// Takes the place of a merge key, whose value is left out. No key is empty.
const MERGED: Cow<'static, str> = Cow::Borrowed("");

pub(super) const PLAIN_DATA: &str =
    "anchors, aliases, tags and merge keys are not part of this format; write the value out";

/// A map or list that has not ended.
enum Unfinished<'s> {
    List(Begun),
    Map {
        begun: Begun,
        key: Option<(Cow<'s, str>, Span)>,
    },
}

/// Builds a tree from what a reader meets, in the order of the text.
pub(super) struct Builder<'s> {
    source: &'s Source,
    open: Vec<Unfinished<'s>>,
    growing: Growing<'s>,
    done: Option<Node<'s>>,
}

impl<'s> Builder<'s> {
    pub(super) fn new(source: &'s Source) -> Self {
        Self {
            source,
            open: Vec::new(),
            growing: Growing::new(source),
            done: None,
        }
    }

    /// The tree, and the problems found.
    pub(super) fn finish(self) -> (Node<'s>, SetAside) {
        let tree = self.done.unwrap_or(Node {
            content: Content::Nothing,
            span: Span::default(),
        });
        self.growing.finish(tree)
    }

    /// The problems found, with one after which reading cannot go on.
    pub(super) fn give_up(self, problem: Problem) -> ProblemList {
        self.growing.give_up(problem)
    }

    /// A map begins.
    pub(super) fn enter_map(&mut self, span: Span) -> Result<(), Problem> {
        let begun = self.growing.begin_map(span)?;
        self.enter(span, Unfinished::Map { begun, key: None })
    }

    /// A list begins.
    pub(super) fn enter_list(&mut self, span: Span) -> Result<(), Problem> {
        let begun = self.growing.begin_list(span)?;
        self.enter(span, Unfinished::List(begun))
    }

    /// A text that is no word: in quotes, or a block of lines.
    pub(super) fn text(
        &mut self,
        text: Cow<'s, str>,
        quotes: Quotes,
        span: Span,
    ) -> Result<(), Problem> {
        if self.expects_key() {
            return self.key(text, span);
        }
        self.growing.count_one(span)?;
        self.put(Node::scalar_at(text, quotes, span));
        Ok(())
    }

    /// A number or a word without quotes.
    pub(super) fn plain(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        if self.expects_key() {
            return self.plain_key(text, span);
        }
        self.growing.count_one(span)?;
        self.put(
            match matches!(&*text, "" | "~" | "null" | "Null" | "NULL") {
                true => Node {
                    content: Content::Nothing,
                    span,
                },
                false => Node::scalar_at(text, Quotes::None, span),
            },
        );
        Ok(())
    }

    /// Notes a problem after which reading goes on.
    pub(super) fn note(&mut self, fault: Fault, span: Span, message: &str, help: &str) {
        self.growing.note(fault, span, message, help);
    }

    fn enter(&mut self, span: Span, open: Unfinished<'s>) -> Result<(), Problem> {
        if self.expects_key() {
            return Err(self.growing.no_word(span));
        }
        self.open.push(open);
        Ok(())
    }

    /// A map or list ends.
    pub(super) fn leave(&mut self) -> Result<(), Problem> {
        let source = self.source;
        let node = match self.open.pop() {
            Some(Unfinished::List(begun)) => self.growing.end_list(begun),
            Some(Unfinished::Map { begun, .. }) => self
                .growing
                .end_map(begun, |entries| unsplit(source, entries)),
            None => return Ok(()),
        };
        self.put(node);
        Ok(())
    }

    fn expects_key(&self) -> bool {
        matches!(self.open.last(), Some(Unfinished::Map { key: None, .. }))
    }

    fn plain_key(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        if text != "<<" {
            return self.key(text, span);
        }
        self.growing.count_one(span)?;
        self.note(Fault::Anchor, span, "this is a merge key", PLAIN_DATA);
        self.set_key(MERGED, span);
        Ok(())
    }

    fn key(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        self.growing.count_key(&text, span)?;
        self.set_key(text, span);
        Ok(())
    }

    fn set_key(&mut self, text: Cow<'s, str>, span: Span) {
        if let Some(Unfinished::Map { key, .. }) = self.open.last_mut() {
            *key = Some((text, span));
        }
    }

    fn put(&mut self, node: Node<'s>) {
        match self.open.last_mut() {
            Some(Unfinished::List(_)) => self.growing.add_item(node),
            Some(Unfinished::Map { key, .. }) => {
                if let Some((key, key_span)) = key.take().filter(|(key, _)| *key != MERGED) {
                    self.growing.add_entry(key, key_span, node);
                }
            }
            None => self.done = Some(node),
        }
    }
}
