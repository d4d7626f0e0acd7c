//! The events of the YAML parser to a tree.
//!
//! The parser's own events are taken, below its reader of typed values: only they tell `1e400` from
//! infinity and `no` from false, keep a repeated key, and know where everything stands. The tree is
//! built on a list, not on the stack.

use std::borrow::Cow;

use serde_yaml::granit_parser::{Event, Options, Parser, ScalarStyle, ScanError, Span as Stretch};

use super::entries::{joined, repeated, unsplit};
use super::fault::Fault;
use super::node::{Content, Entry, Node, Scalar};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::{Problems, SetAside};
use super::source::{Source, Span};
use super::units::Quotes;
use crate::bounds::{MOST_LEVELS, MOST_NODES};

/// Stands for a merge key, of which the value is left out. No key is empty.
const MERGED: Cow<'static, str> = Cow::Borrowed("");

const PLAIN_DATA: &str =
    "anchors, aliases, tags and merge keys are not part of this format; write the value out";

/// Reads the only document of a source, with what was found on the way: reading goes on after an
/// anchor, a tag or a repeated key.
///
/// # Errors
///
/// Every problem found, as many as are kept of a document, where one is no YAML or exceeds the
/// bounds.
pub(super) fn tree(source: &Source) -> Result<(Node<'_>, SetAside), ProblemList> {
    let mut options = Options::default();
    options.set_emit_comments(false);
    options.emit_unresolved_aliases = true;
    // One more than is allowed, so that the builder sees what exceeds the bound and says so in its
    // own words.
    options.flow_nesting_limit = MOST_LEVELS + 1;
    options.block_nesting_limit = MOST_LEVELS + 1;
    let mut parser = Parser::new_from_str_with_options(source.text(), options);
    let mut builder = Builder::new(source);
    while let Some(next) = parser.next_event() {
        let added = match next {
            Ok((event, stretch)) => builder.add(event, &stretch),
            Err(error) => Err(syntax_problem(source, &error)),
        };
        if let Err(problem) = added {
            return Err(builder.give_up(problem));
        }
    }
    Ok(builder.finish())
}

/// A map or list that has not ended, and how many of all items or entries stand before its own.
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
    documents: usize,
    problems: Problems<'s>,
}

impl<'s> Builder<'s> {
    pub(super) fn new(source: &'s Source) -> Self {
        Self {
            source,
            open: Vec::new(),
            items: Vec::new(),
            entries: Vec::new(),
            done: None,
            nodes: 0,
            documents: 0,
            problems: Problems::new(source),
        }
    }

    /// The tree, and the problems found.
    pub(super) fn finish(self) -> (Node<'s>, SetAside) {
        let nothing = Node {
            content: Content::Nothing,
            span: Span::default(),
        };
        (self.done.unwrap_or(nothing), self.problems.set_aside())
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

    /// A text in quotes.
    pub(super) fn quoted(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        self.count_one(span)?;
        self.scalar(text, ScalarStyle::DoubleQuoted, span)
    }

    /// A number or a word without quotes.
    pub(super) fn plain(&mut self, text: Cow<'s, str>, span: Span) -> Result<(), Problem> {
        self.count_one(span)?;
        self.scalar(text, ScalarStyle::Plain, span)
    }

    fn add(&mut self, event: Event<'s>, stretch: &Stretch) -> Result<(), Problem> {
        let span = span_of(self.source, stretch);
        match event {
            Event::DocumentStart(..) => self.document(span),
            Event::Alias(_) | Event::UnresolvedAlias(_) => {
                Err(self.problem(Fault::Anchor, span, "an alias stands here", PLAIN_DATA))
            }
            Event::Scalar(text, style, anchor, tag) => {
                self.count(span, anchor, tag.is_some(), stretch)?;
                self.scalar(text, style, span)
            }
            Event::SequenceStart(_, anchor, tag) => {
                self.count(span, anchor, tag.is_some(), stretch)?;
                self.enter(
                    span,
                    Unfinished::List {
                        span: first_of(span),
                        before: self.items.len(),
                    },
                )
            }
            Event::MappingStart(_, anchor, tag) => {
                self.count(span, anchor, tag.is_some(), stretch)?;
                self.enter(
                    span,
                    Unfinished::Map {
                        span: first_of(span),
                        before: self.entries.len(),
                        key: None,
                    },
                )
            }
            Event::SequenceEnd | Event::MappingEnd => self.leave(),
            _ => Ok(()),
        }
    }

    fn problem(&self, fault: Fault, span: Span, message: &str, help: &str) -> Problem {
        Problem::at(self.source, fault, span, message, help)
    }

    fn document(&mut self, span: Span) -> Result<(), Problem> {
        self.documents += 1;
        if self.documents > 1 {
            return Err(self.problem(
                Fault::SeveralDocuments,
                span,
                "a second document starts here",
                "keep one document in a file",
            ));
        }
        Ok(())
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

    /// Counts a node, and notes an anchor or a tag on it.
    fn count(
        &mut self,
        span: Span,
        anchor: usize,
        tagged: bool,
        stretch: &Stretch,
    ) -> Result<(), Problem> {
        self.count_one(span)?;
        if anchor != 0 {
            self.problems
                .add(Fault::Anchor, span, "an anchor stands here", PLAIN_DATA);
        }
        if tagged {
            let tag = stretch
                .tag_span()
                .map_or(span, |tag| span_of(self.source, &tag));
            self.problems
                .add(Fault::Anchor, tag, "a tag stands here", PLAIN_DATA);
        }
        Ok(())
    }

    fn enter(&mut self, span: Span, open: Unfinished<'s>) -> Result<(), Problem> {
        if self.open.len() == MOST_LEVELS {
            return Err(self.problem(
                Fault::TooDeep,
                span,
                &format!("deeper than {MOST_LEVELS} levels"),
                "the formats need six",
            ));
        }
        if self.expects_key() {
            return Err(self.problem(
                Fault::WrongShape,
                span,
                "a key must be a word or text",
                "write `key: value`",
            ));
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

    fn scalar(
        &mut self,
        text: Cow<'s, str>,
        style: ScalarStyle,
        span: Span,
    ) -> Result<(), Problem> {
        let span = if matches!(style, ScalarStyle::Literal | ScalarStyle::Folded) {
            self.below_header(span)
        } else {
            span
        };
        if self.expects_key() {
            return self.key(text, style, span);
        }
        let nothing =
            style == ScalarStyle::Plain && matches!(&*text, "" | "~" | "null" | "Null" | "NULL");
        let content = if nothing {
            Content::Nothing
        } else {
            let quotes = match style {
                ScalarStyle::SingleQuoted => Quotes::Single,
                ScalarStyle::DoubleQuoted => Quotes::Double,
                _ => Quotes::None,
            };
            Content::Scalar(Scalar {
                text,
                quotes,
                split: false,
            })
        };
        self.put(Node { content, span });
        Ok(())
    }

    fn key(&mut self, text: Cow<'s, str>, style: ScalarStyle, span: Span) -> Result<(), Problem> {
        if text.is_empty() {
            return Err(self.problem(
                Fault::WrongShape,
                span,
                "a key must be a word or text",
                "write `key: value`",
            ));
        }
        let merge = text == "<<" && style == ScalarStyle::Plain;
        if merge {
            self.problems
                .add(Fault::Anchor, span, "a merge key stands here", PLAIN_DATA);
        }
        if let Some(Unfinished::Map { key, .. }) = self.open.last_mut() {
            *key = Some(if merge { (MERGED, span) } else { (text, span) });
        }
        Ok(())
    }

    /// The text of a block scalar begins on the line after its `|` or `>`.
    fn below_header(&self, span: Span) -> Span {
        let raw = self.source.slice(span);
        let header = if raw.starts_with(['|', '>']) {
            after_line_end(raw)
        } else {
            0
        };
        let indent = raw
            .get(header..)
            .map_or(0, |text| text.len() - text.trim_start().len());
        Span {
            start: span.start + header + indent,
            end: span.end,
        }
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

    /// Tells the keys that stand twice, if there are any.
    fn repeated_keys(&mut self, entries: &[Entry<'_>]) -> bool {
        let repeated = repeated(entries);
        for (entry, before) in &repeated {
            let line = self.source.line_of(before.start);
            let message = format!(
                "the key `{}` stands here again; it is already on line {line}",
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

/// Where the second line of a text starts.
fn after_line_end(text: &str) -> usize {
    let end = text.find(['\n', '\r']).unwrap_or(text.len());
    let rest = text.get(end..).unwrap_or_default();
    let width = if rest.starts_with("\r\n") { 2 } else { 1 };
    end + width.min(rest.len())
}

/// A map or list is marked by its first character.
const fn first_of(span: Span) -> Span {
    Span {
        start: span.start,
        end: span.start,
    }
}

fn span_of(source: &Source, stretch: &Stretch) -> Span {
    match stretch.byte_range() {
        Some(range) => Span {
            start: range.start,
            end: range.end,
        },
        None => {
            let start = source.byte_at(stretch.start.line(), stretch.start.col() + 1);
            Span { start, end: start }
        }
    }
}

fn syntax_problem(source: &Source, error: &ScanError) -> Problem {
    let marker = error.marker();
    let at = marker
        .byte_offset()
        .unwrap_or_else(|| source.byte_at(marker.line(), marker.col() + 1));
    let said = error.info();
    let span = Span { start: at, end: at };
    if said.contains("recursion limit") || said.contains("nesting") {
        return Problem::at(
            source,
            Fault::TooDeep,
            span,
            format!("deeper than {MOST_LEVELS} levels"),
            "the formats need six",
        );
    }
    let help = "indent alike, with spaces and not tabs; close every quote; quote text that holds `: ` or ` #` or starts with a bracket or brace";
    Problem::at(
        source,
        Fault::Syntax,
        span,
        format!("not YAML: {said}"),
        help,
    )
}
