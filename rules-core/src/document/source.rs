//! Source texts and places in them.

use std::borrow::Cow;
use std::fmt;
use std::sync::{Arc, OnceLock};

use serde::{Deserialize, Serialize};

use crate::bounds::MOST_BYTES;
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored, stored};

/// A stretch of a source text, in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// The same, so many bytes further on.
    #[must_use]
    pub const fn further(self, bytes: usize) -> Self {
        Self {
            start: self.start.saturating_add(bytes),
            end: self.end.saturating_add(bytes),
        }
    }
}

/// Where something is: a file and a line and column in it, both counted from 1, columns in
/// characters. A line ends with LF, CR LF or CR, as YAML has it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Place {
    /// The file's name as it was given.
    pub file: Arc<str>,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.file, self.line, self.column)
    }
}

/// The file is one of those that are named once for all.
impl Stored for Place {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        to.file(&self.file);
        self.line.write(to);
        self.column.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Some(Self {
            file: from.file()?,
            line: usize::read(from)?,
            column: usize::read(from)?,
        })
    }
}

stored!(struct Span { start, end });

/// A named text with its lines, and the other texts from which parts of a document were taken. Each
/// of these begins at a byte of its own, so that a place in any of them is one number.
#[derive(Clone)]
pub struct Source {
    name: Arc<str>,
    text: Cow<'static, str>,
    lines: OnceLock<Lines>,
    others: Vec<Arc<Source>>,
}

/// Shows the name only: the text is long, and which lines are known depends on earlier calls.
impl fmt::Debug for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Source")
            .field("name", &self.name)
            .finish_non_exhaustive()
    }
}

/// Where lines start. They are counted when a place is first needed: most documents never need one.
#[derive(Debug, Clone)]
struct Lines {
    starts: Vec<usize>,
    /// Characters before each block of [`BLOCK`] bytes, so that a column in a line of megabytes is
    /// found without counting from its start. Counted when such a line is met.
    marks: OnceLock<Vec<usize>>,
}

/// Bytes between two counts of characters: a report asks for the place of each fact, and a document in
/// JSON may be a single line.
const BLOCK: usize = 64;

/// Bytes from the begin of one text to that of the next: more than any may have.
const STRIDE: usize = 2 * MOST_BYTES;

/// A longer line is shown in messages only so many bytes before and after the place.
const REACH: usize = 400;

impl Source {
    /// A source text under the name that errors and reports show.
    #[must_use]
    pub fn new(name: &str, text: String) -> Self {
        Self::of(name, text.into())
    }

    /// A text that comes with the program, of which it may be known already where its lines start.
    pub(super) fn of_program(name: &str, text: &'static str, lines: Option<Vec<usize>>) -> Self {
        let lines = lines.map(Lines::starting_at);
        Self {
            lines: lines.map(OnceLock::from).unwrap_or_default(),
            ..Self::of(name, text.into())
        }
    }

    fn of(name: &str, text: Cow<'static, str>) -> Self {
        Self {
            name: name.into(),
            text,
            lines: OnceLock::new(),
            others: Vec::new(),
        }
    }

    /// The same text, with others from which parts of the document were taken. The first of them
    /// begins at the byte that [`Source::start_of`] gives for 0, and so on.
    #[must_use]
    pub fn with_others(self, others: Vec<Arc<Self>>) -> Self {
        Self { others, ..self }
    }

    /// The byte at which one of the other texts begins.
    #[must_use]
    pub const fn start_of(other: usize) -> usize {
        STRIDE.saturating_mul(other.saturating_add(1))
    }

    /// The text that a byte is in, and where it is in that.
    fn part(&self, byte: usize) -> (&Self, usize) {
        let (at, within) = (byte / STRIDE, byte % STRIDE);
        let other = at.checked_sub(1).and_then(|at| self.others.get(at));
        other.map_or((self, byte), |other| (&**other, within))
    }

    /// This text, and the others from which parts of a document were taken.
    pub fn texts(&self) -> impl Iterator<Item = &Self> {
        std::iter::once(self).chain(self.others.iter().map(|other| &**other))
    }

    fn lines(&self) -> &Lines {
        self.lines.get_or_init(|| Lines::of(&self.text))
    }

    /// Where each line starts.
    #[cfg(feature = "snapshot")]
    pub(super) fn line_starts(&self) -> &[usize] {
        &self.lines().starts
    }

    fn marks(&self) -> &[usize] {
        self.lines().marks.get_or_init(|| marks_of(&self.text))
    }

    /// The name that errors and reports show.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text of a stretch; empty where the stretch does not fit the text.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        let (part, start) = self.part(span.start);
        let end = start + span.end.saturating_sub(span.start);
        part.text.get(start..end).unwrap_or("")
    }

    /// The place of a byte.
    #[must_use]
    pub fn place(&self, byte: usize) -> Place {
        let (part, byte) = self.part(byte);
        let line = part.own_line_of(byte);
        Place {
            file: Arc::clone(&part.name),
            line,
            column: part.characters(part.line_start(line), byte) + 1,
        }
    }

    /// How many characters there are from one byte to another.
    fn characters(&self, from: usize, to: usize) -> usize {
        let to = to.min(self.text.len());
        match self.text.as_bytes().get(from..to) {
            Some(bytes) if bytes.len() <= BLOCK => {
                bytes.iter().filter(|byte| starts_character(**byte)).count()
            }
            Some(_) => self.characters_before(to) - self.characters_before(from),
            None => 0,
        }
    }

    fn characters_before(&self, byte: usize) -> usize {
        let block = byte / BLOCK;
        let before = self
            .marks()
            .get(block)
            .copied()
            .unwrap_or_else(|| self.text.chars().count());
        let rest = self
            .text
            .as_bytes()
            .get(block * BLOCK..byte)
            .unwrap_or_default();
        before + rest.iter().filter(|byte| starts_character(**byte)).count()
    }

    /// The text of a line, counted from 1, without its line end.
    #[must_use]
    pub fn line(&self, line: usize) -> &str {
        let end = self
            .lines()
            .starts
            .get(line)
            .copied()
            .unwrap_or(self.text.len());
        let text = self.text.get(self.line_start(line)..end).unwrap_or("");
        let text = text.strip_suffix('\n').unwrap_or(text);
        text.strip_suffix('\r').unwrap_or(text)
    }

    /// The text of a byte's line, and the column at which it starts: 1, unless the line is so long
    /// that only what is near the byte is given.
    #[must_use]
    pub fn line_round(&self, byte: usize) -> (&str, usize) {
        let (part, byte) = self.part(byte);
        let line = part.own_line_of(byte);
        let (text, start) = (part.line(line), part.line_start(line));
        if text.len() <= 2 * REACH {
            return (text, 1);
        }
        let inside = byte.saturating_sub(start).min(text.len());
        let boundary = |at: usize| {
            (0..=at.min(text.len()))
                .rev()
                .find(|at| text.is_char_boundary(*at))
                .unwrap_or(0)
        };
        let (from, to) = (
            boundary(inside.saturating_sub(REACH)),
            boundary(inside + REACH),
        );
        (
            text.get(from..to).unwrap_or(""),
            part.place(start + from).column,
        )
    }

    /// The byte at a line and a column in characters, both from 1.
    #[must_use]
    pub fn byte_at(&self, line: usize, column: usize) -> usize {
        let start = self.line_start(line);
        let end = start + self.line(line).len();
        let wanted = self
            .characters_before(start)
            .saturating_add(column.saturating_sub(1));
        let marks = self.marks();
        let block = marks
            .partition_point(|before| *before <= wanted)
            .saturating_sub(1);
        let (from, before) = (block * BLOCK, marks.get(block).copied().unwrap_or(0));
        let bytes = self
            .text
            .as_bytes()
            .get(from..)
            .unwrap_or_default()
            .iter()
            .enumerate();
        let inside = bytes
            .filter(|(_, byte)| starts_character(**byte))
            .nth(wanted - before)
            .map_or(end, |(at, _)| from + at);
        inside.clamp(start, end)
    }

    /// The line of a byte, from 1.
    #[must_use]
    pub fn line_of(&self, byte: usize) -> usize {
        let (part, byte) = self.part(byte);
        part.own_line_of(byte)
    }

    fn own_line_of(&self, byte: usize) -> usize {
        self.lines()
            .starts
            .partition_point(|start| *start <= byte)
            .max(1)
    }

    fn line_start(&self, line: usize) -> usize {
        self.lines()
            .starts
            .get(line.saturating_sub(1))
            .copied()
            .unwrap_or(self.text.len())
    }
}

impl Lines {
    fn of(text: &str) -> Self {
        let bytes = text.as_bytes();
        let ends_line = |at: usize, byte: u8| {
            byte == b'\n' || byte == b'\r' && bytes.get(at + 1) != Some(&b'\n')
        };
        let breaks = text
            .bytes()
            .enumerate()
            .filter(|(at, byte)| ends_line(*at, *byte))
            .map(|(at, _)| at + 1);
        Self::starting_at(std::iter::once(0).chain(breaks).collect())
    }

    const fn starting_at(starts: Vec<usize>) -> Self {
        Self {
            starts,
            marks: OnceLock::new(),
        }
    }
}

/// Characters before each block of a text.
fn marks_of(text: &str) -> Vec<usize> {
    let counts = text
        .as_bytes()
        .chunks(BLOCK)
        .map(|block| match block.is_ascii() {
            true => block.len(),
            false => block.iter().filter(|byte| starts_character(**byte)).count(),
        });
    let sum = |before: &mut usize, count: usize| Some(std::mem::replace(before, *before + count));
    counts.scan(0, sum).collect()
}

/// Whether a byte of UTF-8 text is the first of a character.
const fn starts_character(byte: u8) -> bool {
    byte & 0b1100_0000 != 0b1000_0000
}

#[cfg(test)]
mod tests;
