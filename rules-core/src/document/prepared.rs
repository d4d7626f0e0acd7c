//! Documents that were read when the program was built: a text with its tree and its digest as
//! bytes. To read those is much faster than to read the text.
//!
//! The bytes are those of a text without faults: nothing is looked for that could be wrong with it.
//! They begin with the digest. Then come how many lines there are and where each starts, and the root.
//! Numbers have four bytes, the lowest first; a node begins with a byte that says what it is:
//!
//! | byte | node | what follows |
//! | --- | --- | --- |
//! | 0 | nothing | start, end |
//! | 1 | a scalar as it stands in the text | start, end |
//! | 2, 3 | one in single, double quotes, the same between them | start, end |
//! | 4, 5, 6 | one of another text: without quotes, in single, in double | start, end, length, the text |
//! | 7 | a list | start, how many items, bytes of all items, the items |
//! | 8 | a map | start, how many entries, bytes of all entries, of each its key (a scalar) and its value |

use std::borrow::Cow;

use super::node::{Content, Entry, Node, Scalar};
use super::problem_list::ProblemList;
use super::read::read;
use super::source::{Source, Span};
use super::syntax::Syntax;
use super::units::Quotes;
use crate::bounds::MOST_LEVELS;

/// A text that comes with the program, and what was read of it when that was built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Prepared {
    /// The text.
    pub text: &'static str,
    /// Its digest, its lines and its tree, as this module describes them.
    pub read: &'static [u8],
}

/// Characters of a digest: `sha256:` and 64 digits.
const DIGEST: usize = 71;

impl Prepared {
    /// Whether these are the bytes of the text.
    #[must_use]
    pub fn is_of(&self, bytes: &[u8]) -> bool {
        std::ptr::eq(self.text.as_bytes(), bytes) || self.text.as_bytes() == bytes
    }

    /// The digest of the document.
    #[must_use]
    pub fn digest(&self) -> Option<&'static str> {
        std::str::from_utf8(self.read.get(..DIGEST)?).ok()
    }

    /// The text under the name that messages and reports show.
    #[must_use]
    pub fn source(&self, name: &str) -> Source {
        Source::of_program(name, self.text, self.lines())
    }

    /// The same, of which it is found out where lines start only if somebody asks for a place.
    pub(crate) fn source_without_lines(&self, name: &str) -> Source {
        Source::of_program(name, self.text, None)
    }

    /// The document, from its text if nothing else can be used.
    ///
    /// # Errors
    ///
    /// Every problem of the text, if that is read.
    pub fn document<'s>(&self, source: &'s Source) -> Result<Node<'s>, ProblemList> {
        self.tree(source, None)
            .map_or_else(|| read(source, Syntax::Yaml), Ok)
    }

    /// The tree of the document, without the values of a key in any of its maps, if one is to be
    /// left out. Nothing, if the bytes are not of this form: then the text has to be read.
    #[must_use]
    pub fn tree<'s>(&self, source: &'s Source, left_out: Option<&str>) -> Option<Node<'s>> {
        let (_, rest) = self.lines_and_rest()?;
        let mut reader = Reader {
            rest,
            source,
            left_out,
        };
        reader.node(MOST_LEVELS)
    }

    /// Where the lines of the text start.
    fn lines(&self) -> Option<Vec<usize>> {
        let (lines, _) = self.lines_and_rest()?;
        let start = |number: &[u8; 4]| usize::try_from(u32::from_le_bytes(*number));
        lines.iter().map(|number| start(number).ok()).collect()
    }

    fn lines_and_rest(&self) -> Option<(&'static [[u8; 4]], &'static [u8])> {
        let (many, rest) = self.read.get(DIGEST..)?.split_first_chunk::<4>()?;
        let many = usize::try_from(u32::from_le_bytes(*many)).ok()?;
        let (lines, rest) = rest.split_at_checked(many.checked_mul(4)?)?;
        Some((lines.as_chunks::<4>().0, rest))
    }
}

/// Reads nodes from the bytes that are left.
struct Reader<'r, 's> {
    rest: &'r [u8],
    source: &'s Source,
    left_out: Option<&'r str>,
}

impl<'r, 's> Reader<'r, 's> {
    fn node(&mut self, levels: usize) -> Option<Node<'s>> {
        match self.byte()? {
            0 => Some(Node {
                content: Content::Nothing,
                span: self.span()?,
            }),
            7 => self.list(levels.checked_sub(1)?),
            8 => self.map(levels.checked_sub(1)?),
            kind => {
                let (text, quotes, span) = self.scalar(kind)?;
                let split = false;
                Some(Node {
                    content: Content::Scalar(Scalar {
                        text,
                        quotes,
                        split,
                    }),
                    span,
                })
            }
        }
    }

    fn list(&mut self, levels: usize) -> Option<Node<'s>> {
        let (start, many, _) = (self.number()?, self.number()?, self.number()?);
        let mut items = Vec::with_capacity(self.room(many));
        for _ in 0..many {
            items.push(self.node(levels)?);
        }
        Some(Node {
            content: Content::List(items),
            span: Span { start, end: start },
        })
    }

    fn map(&mut self, levels: usize) -> Option<Node<'s>> {
        let (start, many, _) = (self.number()?, self.number()?, self.number()?);
        let mut entries = Vec::with_capacity(self.room(many));
        for _ in 0..many {
            let kind = self.byte()?;
            let (key, _, key_span) = self.scalar(kind)?;
            if self
                .left_out
                .is_some_and(|key_left_out| *key == *key_left_out)
            {
                self.skip()?;
                continue;
            }
            let node = self.node(levels)?;
            entries.push(Entry {
                key,
                key_span,
                node,
            });
        }
        Some(Node {
            content: Content::Map(entries),
            span: Span { start, end: start },
        })
    }

    /// Room for so many nodes: each takes more than one byte, so that no number can ask for more than
    /// there are.
    fn room(&self, many: usize) -> usize {
        many.min(self.rest.len())
    }

    fn scalar(&mut self, kind: u8) -> Option<(Cow<'s, str>, Quotes, Span)> {
        let span = self.span()?;
        let between = |quotes: usize| {
            let all = span.start.checked_add(quotes)?..span.end.checked_sub(quotes)?;
            self.source.text().get(all).map(Cow::Borrowed)
        };
        let (text, quotes) = match kind {
            1 => (between(0)?, Quotes::None),
            2 => (between(1)?, Quotes::Single),
            3 => (between(1)?, Quotes::Double),
            4 => (self.own_text()?, Quotes::None),
            5 => (self.own_text()?, Quotes::Single),
            6 => (self.own_text()?, Quotes::Double),
            _ => return None,
        };
        Some((text, quotes, span))
    }

    fn own_text(&mut self) -> Option<Cow<'s, str>> {
        let length = self.number()?;
        let text = std::str::from_utf8(self.bytes(length)?).ok()?;
        Some(Cow::Owned(text.to_owned()))
    }

    /// Goes past a node.
    fn skip(&mut self) -> Option<()> {
        let kind = self.byte()?;
        self.span()?;
        match kind {
            0..=3 => Some(()),
            // Of a list or map the second number was how many it has.
            4..=8 => {
                let length = self.number()?;
                self.bytes(length).map(|_| ())
            }
            _ => None,
        }
    }

    fn span(&mut self) -> Option<Span> {
        let (start, end) = (self.number()?, self.number()?);
        Some(Span { start, end })
    }

    fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.rest.split_first()?;
        self.rest = rest;
        Some(*first)
    }

    fn number(&mut self) -> Option<usize> {
        let (first, rest) = self.rest.split_first_chunk::<4>()?;
        self.rest = rest;
        usize::try_from(u32::from_le_bytes(*first)).ok()
    }

    fn bytes(&mut self, length: usize) -> Option<&'r [u8]> {
        let (first, rest) = self.rest.split_at_checked(length)?;
        self.rest = rest;
        Some(first)
    }
}
