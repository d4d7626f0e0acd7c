//! The outline of a document: its tree without its texts, written down so that a text that never changes need not be parsed each time it is loaded.
//!
//! The first line tells which text it is of. Then comes a line for each key and node, in their order: a letter for what it is, the bytes between it and the one
//! before, and its length in bytes, or in items. Texts are taken from the source; only those that mean something else than stands there (folded ones, or with
//! escapes) are written out after a line of their own, as JSON.

use std::borrow::Cow;
use std::fmt::Write;
use std::str::Lines;

use sha2::{Digest, Sha256};

use super::node::{Content, Entry, Node, Scalar};
use super::source::{Source, Span};
use crate::bounds::MOST_LEVELS;

/// What a line of an outline is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    Map,
    List,
    Nothing,
    /// A text that stands in the source as it is.
    Word,
    /// One that does between quotes.
    Quoted,
    /// One that is written out.
    Text,
}

impl Mark {
    const ALL: [(Self, &'static str); 6] =
        [(Self::Map, "m"), (Self::List, "l"), (Self::Nothing, "n"), (Self::Word, "w"), (Self::Quoted, "q"), (Self::Text, "t")];

    fn letter(self) -> &'static str {
        Self::ALL.iter().find(|(mark, _)| *mark == self).map_or("", |(_, letter)| letter)
    }

    fn of(letter: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, known)| *known == letter).map(|(mark, _)| *mark)
    }
}

/// Writes the outline of a source's tree.
#[must_use]
pub fn outline(source: &Source, tree: &Node<'_>) -> String {
    let mut writing = Writing { source, at: 0, text: first_line(source) };
    writing.text.push('\n');
    writing.node(tree);
    writing.text
}

/// The tree of a source by its outline; none if the outline is of another text.
pub(crate) fn outlined<'s>(source: &'s Source, outline: &str) -> Option<Node<'s>> {
    let mut lines = outline.lines();
    lines.next().filter(|first| *first == first_line(source))?;
    Reading { source, lines, at: 0 }.node(MOST_LEVELS)
}

/// Tells one text from every other.
fn first_line(source: &Source) -> String {
    Sha256::digest(source.text().as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The text of a stretch of the source, or that between its quotes.
fn text_at(source: &Source, span: Span, mark: Mark) -> Option<&str> {
    let stands = source.text().get(span.start..span.end)?;
    match mark {
        Mark::Word => Some(stands),
        Mark::Quoted => stands.get(1..)?.strip_suffix(['"', '\'']),
        _ => None,
    }
}

struct Writing<'s> {
    source: &'s Source,
    /// The end of what has been written.
    at: usize,
    text: String,
}

impl Writing<'_> {
    fn node(&mut self, node: &Node<'_>) {
        match &node.content {
            Content::Nothing => self.line(Mark::Nothing, node.span, node.span.end - node.span.start),
            Content::Scalar(scalar) => self.scalar(&scalar.text, node.span),
            Content::List(items) => {
                self.line(Mark::List, node.span, items.len());
                items.iter().for_each(|item| self.node(item));
            }
            Content::Map(entries) => {
                self.line(Mark::Map, node.span, entries.len());
                for entry in entries {
                    self.scalar(&entry.key, entry.key_span);
                    self.node(&entry.node);
                }
            }
        }
    }

    fn scalar(&mut self, text: &str, span: Span) {
        let as_it_stands = [Mark::Word, Mark::Quoted].into_iter().find(|mark| text_at(self.source, span, *mark) == Some(text));
        self.line(as_it_stands.unwrap_or(Mark::Text), span, span.end - span.start);
        if as_it_stands.is_none() {
            let _ = writeln!(self.text, "{}", serde_json::Value::from(text));
        }
    }

    fn line(&mut self, mark: Mark, span: Span, length: usize) {
        let _ = writeln!(self.text, "{}{} {length}", mark.letter(), span.start - self.at);
        self.at = span.end;
    }
}

struct Reading<'s, 'o> {
    source: &'s Source,
    lines: Lines<'o>,
    /// The end of what has been read.
    at: usize,
}

impl<'s> Reading<'s, '_> {
    /// A node of at most so many levels.
    fn node(&mut self, levels: usize) -> Option<Node<'s>> {
        let levels = levels.checked_sub(1)?;
        let (mark, start, length) = self.line()?;
        let first = Span { start, end: start };
        let (content, span) = match mark {
            Mark::Map => (Content::Map((0..length).map(|_| self.entry(levels)).collect::<Option<_>>()?), first),
            Mark::List => (Content::List((0..length).map(|_| self.node(levels)).collect::<Option<_>>()?), first),
            Mark::Nothing => (Content::Nothing, self.take(start, length)),
            _ => {
                let span = self.take(start, length);
                (Content::Scalar(Scalar { text: self.text(mark, span)? }), span)
            }
        };
        Some(Node { content, span })
    }

    fn entry(&mut self, levels: usize) -> Option<Entry<'s>> {
        let (mark, start, length) = self.line()?;
        let key_span = self.take(start, length);
        Some(Entry { key: self.text(mark, key_span)?, key_span, node: self.node(levels)? })
    }

    fn text(&mut self, mark: Mark, span: Span) -> Option<Cow<'s, str>> {
        match mark {
            Mark::Text => serde_json::from_str(self.lines.next()?).ok().map(Cow::Owned),
            _ => text_at(self.source, span, mark).map(Cow::Borrowed),
        }
    }

    fn take(&mut self, start: usize, length: usize) -> Span {
        self.at = start.saturating_add(length);
        Span { start, end: self.at }
    }

    /// What a line is about, where that starts, and its length.
    fn line(&mut self) -> Option<(Mark, usize, usize)> {
        let (letter, numbers) = self.lines.next()?.split_at_checked(1)?;
        let (gap, length) = numbers.split_once(' ')?;
        self.at = self.at.checked_add(gap.parse().ok()?)?;
        Some((Mark::of(letter)?, self.at, length.parse().ok()?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Syntax, read, source};

    const TEXT: &str = "a: 1\nb: [x, 'y', \"z\\u00e9\", , { c: ~, \"d\": 'it''s' }]\ne: >-\n  two\n  lines\nf:\ng: {}\nh: []\nΩ: é\n";

    fn both(text: &str) -> (Source, String) {
        let source = source("t.yaml", text.into()).expect("a text");
        let tree = read(&source, Syntax::Yaml).expect("a tree");
        let written = outline(&source, &tree);
        let back = outlined(&source, &written).expect("it is of this text");
        assert_eq!(format!("{back:?}"), format!("{tree:?}"));
        drop((tree, back));
        (source, written)
    }

    #[test]
    fn the_tree_comes_back_with_its_places() {
        let (_, written) = both(&TEXT.replace(", ,", ","));
        let texts: Vec<&str> = written.lines().filter(|line| line.starts_with('"')).collect();
        assert_eq!(texts, ["\"zé\"", "\"it's\"", "\"two lines\""], "only what does not stand there as it is");
        both("- 1\n");
        both("{}");
    }

    #[test]
    fn an_outline_of_another_text_is_none() {
        let (_, written) = both("a: 3.70 V\n");
        for text in ["a: 3.71 V\n", "a: 3.70 V", "# a: 3.70 V\n"] {
            assert!(outlined(&source("t.yaml", text.into()).expect("a text"), &written).is_none(), "{text}");
        }
    }

    #[test]
    fn what_is_no_outline_is_none() {
        let (source, written) = both("a: [1, 2]\nb: 'c'\n");
        let lines: Vec<&str> = written.lines().collect();
        for end in 0..lines.len() {
            assert!(outlined(&source, &lines[..end].join("\n")).is_none(), "{end} lines");
        }
        for (from, to) in
            [("m0", "x0"), ("m0 2", "m0 two"), ("m0 2", "m 2"), ("m0 2", ""), ("m0 2", "é0 2"), ("q2 3", "t2 3"), ("w2 1", "w99 1")]
        {
            assert!(written.contains(from), "{written}");
            assert!(outlined(&source, &written.replacen(from, to, 1)).is_none(), "{from} {to}");
        }
    }

    #[test]
    fn levels_are_bounded() {
        let nest = |levels: usize| format!("{}{}", "[".repeat(levels), "]".repeat(levels));
        both(&nest(MOST_LEVELS));
        let source = source("t.yaml", nest(MOST_LEVELS).into()).expect("a text");
        let deeper: String = (0..=MOST_LEVELS).map(|_| "l0 1\n").collect();
        assert!(outlined(&source, &format!("{}\n{deeper}l0 0\n", first_line(&source))).is_none());
    }
}
