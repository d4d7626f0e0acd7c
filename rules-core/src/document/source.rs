//! Source texts and places in them.

use std::fmt;
use std::sync::Arc;

use serde::Serialize;

/// A stretch of a source text, in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// Where something stands: a file and a line and column in it, both counted from 1, columns in characters.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
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

/// A named text with its lines.
#[derive(Debug, Clone)]
pub struct Source {
    name: Arc<str>,
    text: String,
    line_starts: Vec<usize>,
}

impl Source {
    /// A source text under the name that errors and reports show.
    #[must_use]
    pub fn new(name: &str, text: String) -> Self {
        let breaks = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(breaks).collect();
        Self { name: name.into(), text, line_starts }
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
        self.text.get(span.start..span.end).unwrap_or("")
    }

    /// The place of a byte.
    #[must_use]
    pub fn place(&self, byte: usize) -> Place {
        let line = self.line_starts.partition_point(|start| *start <= byte).max(1);
        let start = self.line_start(line);
        let before = self.text.get(start..byte.min(self.text.len())).unwrap_or("");
        Place { file: Arc::clone(&self.name), line, column: before.chars().count() + 1 }
    }

    /// The text of a line, counted from 1, without its line end.
    #[must_use]
    pub fn line(&self, line: usize) -> &str {
        let from = self.text.get(self.line_start(line)..).unwrap_or("");
        from.lines().next().unwrap_or("")
    }

    /// The byte at a line and a column in characters, both from 1.
    #[must_use]
    pub fn byte_at(&self, line: usize, column: usize) -> usize {
        let start = self.line_start(line);
        let text = self.line(line);
        let inside = text.char_indices().nth(column.saturating_sub(1)).map_or(text.len(), |(at, _)| at);
        start + inside
    }

    fn line_start(&self, line: usize) -> usize {
        self.line_starts.get(line.saturating_sub(1)).copied().unwrap_or(self.text.len())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_from_one_in_characters() {
        let source = Source::new("a.yaml", "mΩ: 1\nb: 2\n".into());
        assert_eq!(source.place(0).to_string(), "a.yaml:1:1");
        assert_eq!(source.place(3).to_string(), "a.yaml:1:3"); // `Ω` takes two bytes
        assert_eq!(source.place(7).to_string(), "a.yaml:2:1");
        assert_eq!(source.byte_at(1, 3), 3);
        assert_eq!(source.line(2), "b: 2");
        assert_eq!(source.line(9), "");
    }
}
