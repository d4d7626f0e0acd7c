//! The tree of a document: what JSON can say, with places.

use std::borrow::Cow;

use super::source::{Source, Span};
use super::units::{Quotes, shown_at};

/// A map, a list, a scalar or nothing, and where it is. Texts are borrowed from the source where
/// they are there as they are.
#[derive(Debug, Clone)]
pub struct Node<'s> {
    /// What is here.
    pub content: Content<'s>,
    /// Where it is. A map or list is marked by its first character only.
    pub span: Span,
}

/// What a node holds.
#[derive(Debug, Clone)]
pub enum Content<'s> {
    /// No value: `null`, `~` or nothing after the key.
    Nothing,
    /// A number, word or text, kept as it was written.
    Scalar(Scalar<'s>),
    /// A list.
    List(Vec<Node<'s>>),
    /// A map, in the order written.
    Map(Vec<Entry<'s>>),
}

/// A scalar. Its kind is decided by whoever reads it, so that `no`, `1.50` and `2S1P` stay what was
/// written.
#[derive(Debug, Clone)]
pub struct Scalar<'s> {
    /// The text, without quotes and with escapes resolved.
    pub text: Cow<'s, str>,
    /// Its quotes.
    pub quotes: Quotes,
    /// Whether a comma split it: `{ a: 3,7 V }` has a value `3` and a key `7 V` for YAML, and one
    /// value, which is wrong, for whoever wrote it.
    pub split: bool,
}

/// A key of a map with its value.
#[derive(Debug, Clone)]
pub struct Entry<'s> {
    /// The key.
    pub key: Cow<'s, str>,
    /// Where the key is.
    pub key_span: Span,
    /// The value.
    pub node: Node<'s>,
}

impl Entry<'_> {
    /// The same with texts of its own, which need no source.
    #[must_use]
    pub fn detached(&self) -> Entry<'static> {
        Entry {
            key: detached(&self.key),
            key_span: self.key_span,
            node: self.node.detached(),
        }
    }
}

fn detached(text: &str) -> Cow<'static, str> {
    Cow::Owned(text.to_owned())
}

impl Node<'static> {
    /// A text that is in no source.
    #[must_use]
    pub fn of_text(text: &str) -> Self {
        Self::nowhere(Content::Scalar(Scalar {
            text: detached(text),
            quotes: Quotes::None,
            split: false,
        }))
    }

    /// A text at a place, whatever stands there.
    #[must_use]
    pub fn text_at(text: &str, span: Span) -> Self {
        Self {
            span,
            ..Self::of_text(text)
        }
    }

    /// A list that is in no source.
    #[must_use]
    pub fn of_items(items: impl IntoIterator<Item = Self>) -> Self {
        Self::nowhere(Content::List(items.into_iter().collect()))
    }

    /// A map that is in no source.
    #[must_use]
    pub fn of_entries(entries: impl IntoIterator<Item = (&'static str, Self)>) -> Self {
        let entry = |(key, node)| Entry {
            key: Cow::Borrowed(key),
            key_span: Span::default(),
            node,
        };
        Self::nowhere(Content::Map(entries.into_iter().map(entry).collect()))
    }

    fn nowhere(content: Content<'static>) -> Self {
        Self {
            content,
            span: Span::default(),
        }
    }
}

impl<'s> Node<'s> {
    /// A scalar that no comma split.
    pub(super) const fn scalar_at(text: Cow<'s, str>, quotes: Quotes, span: Span) -> Self {
        let split = false;
        Self {
            content: Content::Scalar(Scalar {
                text,
                quotes,
                split,
            }),
            span,
        }
    }

    /// The same with texts of its own, which need no source.
    #[must_use]
    pub fn detached(&self) -> Node<'static> {
        let content = match &self.content {
            Content::Nothing => Content::Nothing,
            Content::Scalar(scalar) => Content::Scalar(Scalar {
                text: detached(&scalar.text),
                quotes: scalar.quotes,
                split: scalar.split,
            }),
            Content::List(items) => Content::List(items.iter().map(Node::detached).collect()),
            Content::Map(entries) => Content::Map(entries.iter().map(Entry::detached).collect()),
        };
        Node {
            content,
            span: self.span,
        }
    }

    /// The same, so many bytes further on: in a text that begins there.
    #[must_use]
    pub fn further(mut self, bytes: usize) -> Self {
        self.span = self.span.further(bytes);
        match &mut self.content {
            Content::Nothing | Content::Scalar(_) => {}
            Content::List(items) => {
                *items = std::mem::take(items)
                    .into_iter()
                    .map(|item| item.further(bytes))
                    .collect();
            }
            Content::Map(entries) => {
                let entry = |entry: Entry<'s>| Entry {
                    key_span: entry.key_span.further(bytes),
                    node: entry.node.further(bytes),
                    key: entry.key,
                };
                *entries = std::mem::take(entries).into_iter().map(entry).collect();
            }
        }
        self
    }

    /// The value of a key, if this is a map that has it.
    #[must_use]
    pub fn at(&self, key: &str) -> Option<&Self> {
        self.entries()
            .iter()
            .find(|entry| entry.key == key)
            .map(|entry| &entry.node)
    }

    /// The entries of a map, none of anything else.
    #[must_use]
    pub fn entries(&self) -> &[Entry<'s>] {
        match &self.content {
            Content::Map(entries) => entries,
            _ => &[],
        }
    }

    /// The text of a scalar.
    #[must_use]
    pub fn scalar(&self) -> Option<&str> {
        match &self.content {
            Content::Scalar(scalar) => Some(&scalar.text),
            _ => None,
        }
    }

    /// Whether this is a single value that a comma split.
    #[must_use]
    pub const fn is_split(&self) -> bool {
        matches!(&self.content, Content::Scalar(scalar) if scalar.split)
    }

    /// Whether this is a map or a list.
    #[must_use]
    pub const fn holds_others(&self) -> bool {
        matches!(self.content, Content::List(_) | Content::Map(_))
    }

    /// What this is, in the words of an error message.
    #[must_use]
    pub fn what(&self) -> &'static str {
        match self.content {
            Content::Nothing => "nothing",
            Content::Scalar(_) => "a single value",
            Content::List(_) => "a list",
            Content::Map(_) => "a map",
        }
    }

    /// Where bytes `from..to` of a scalar's text are in the source. There an escape is as long as
    /// it is written.
    #[must_use]
    pub fn span_within(&self, source: &Source, from: usize, to: usize) -> Span {
        let Content::Scalar(Scalar { text, quotes, .. }) = &self.content else {
            return self.span;
        };
        let (raw, quote) = match quotes {
            Quotes::None => (source.slice(self.span), 0),
            Quotes::Single | Quotes::Double => (source.slice(self.span).get(1..).unwrap_or(""), 1),
        };
        let base = self.span.start + quote;
        let first = shown_at(text, from, raw, *quotes);
        let last = text.get(from..to).and_then(|part| {
            let (at, _) = part.char_indices().next_back()?;
            Some(shown_at(text, from + at, raw, *quotes))
        });
        let end = last.map_or(first.start, |last| last.end);
        Span {
            start: base + first.start,
            end: base + end.max(first.start),
        }
    }
}
