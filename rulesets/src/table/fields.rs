//! A text of CSV as rows of fields, each with its place.
//!
//! The fields are found by `csv-core`, one by one, because the reader that stands on it tells where a
//! row begins and not where a field does. It also takes what RFC 4180 does not allow, such as a quote
//! that is never closed, for something; here that is an error.

use std::borrow::Cow;

use csv_core::{ReadFieldResult, ReaderBuilder};
use rules_core::characters::trimmed;
use rules_core::document::{Fault, Node, Problems, Span};

/// A value of a table, with its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field<'t> {
    /// What it says, without quotes and without the space around it.
    pub text: Cow<'t, str>,
    /// Where it is in the source of the problems.
    pub span: Span,
}

impl Field<'_> {
    /// Whether nothing is in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// Its text as a node of a document.
    #[must_use]
    pub fn node(&self) -> Node<'static> {
        Node::text_at(&self.text, self.span)
    }
}

/// What separates the columns of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Separator {
    /// `,`
    Comma,
    /// `;`, as spreadsheets write where the comma is the decimal mark.
    Semicolon,
    /// A tab, as from the clipboard.
    Tab,
}

impl Separator {
    /// What separates the headings, which are the first row with something in it.
    pub(super) fn of(text: &str) -> Self {
        let mut quoted = false;
        let mut found = Self::Comma;
        for letter in text.trim_start_matches(['\r', '\n']).chars() {
            match letter {
                '"' => quoted = !quoted,
                _ if quoted => {}
                '\r' | '\n' => break,
                ';' => return Self::Semicolon,
                '\t' => found = Self::Tab,
                _ => {}
            }
        }
        found
    }

    pub(super) const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
        }
    }
}

/// Reads rows from a text.
pub(super) struct Reader<'t> {
    inner: csv_core::Reader,
    text: &'t str,
    /// How much of the text has been read.
    read: usize,
    /// Where the text begins in the source.
    base: usize,
    /// What csv-core has written of a field.
    output: Vec<u8>,
    done: bool,
}

impl<'t> Reader<'t> {
    pub(super) fn new(text: &'t str, base: usize, separator: Separator) -> Self {
        Self {
            inner: ReaderBuilder::new().delimiter(separator.byte()).build(),
            text,
            read: 0,
            base,
            output: vec![0; 256],
            done: false,
        }
    }

    /// The fields of the next row that is no empty line; none at the end.
    pub(super) fn row(&mut self, problems: &mut Problems<'_>) -> Option<Vec<Field<'t>>> {
        let rest = self.text.get(self.read..)?;
        self.read += rest.len() - rest.trim_start_matches(['\r', '\n']).len();
        let mut fields = Vec::new();
        while !self.done {
            let start = self.read;
            let Some((length, is_last)) = self.next_field() else {
                self.done = true;
                break;
            };
            fields.push(self.field(start, length, is_last, problems));
            if is_last {
                break;
            }
        }
        (!fields.is_empty()).then_some(fields)
    }

    /// How many bytes of the output are the next field, and whether it is the last of its row.
    fn next_field(&mut self) -> Option<(usize, bool)> {
        let mut written = 0;
        loop {
            let input = self.text.as_bytes().get(self.read..).unwrap_or_default();
            let output = self.output.get_mut(written..).unwrap_or_default();
            let (result, taken, put) = self.inner.read_field(input, output);
            self.read += taken;
            written += put;
            match result {
                // Called again with nothing left it ends the field.
                ReadFieldResult::InputEmpty => {}
                ReadFieldResult::OutputFull => self.output.resize(self.output.len() * 2, 0),
                ReadFieldResult::Field { record_end } => return Some((written, record_end)),
                ReadFieldResult::End => return None,
            }
        }
    }

    fn field(
        &self,
        start: usize,
        length: usize,
        is_last: bool,
        problems: &mut Problems<'_>,
    ) -> Field<'t> {
        let raw = self.text.get(start..self.read).unwrap_or_default();
        let raw = if is_last {
            raw.trim_end_matches(['\r', '\n'])
        } else {
            raw.get(..raw.len().saturating_sub(1)).unwrap_or_default()
        };
        let shown = trimmed(raw);
        let before = raw.find(shown).unwrap_or(0);
        let start = self.base + start + before;
        let span = Span {
            start,
            end: start + shown.len(),
        };
        if let Some(message) = misquoted(raw) {
            let help = "put the whole field in quotes, and write a quote in it twice";
            problems.add(Fault::Syntax, span, message, help);
        }
        let text = match raw.starts_with('"') {
            true => {
                let unquoted = self.output.get(..length).unwrap_or_default();
                let unquoted = String::from_utf8_lossy(unquoted);
                Cow::Owned(trimmed(&unquoted).to_owned())
            }
            false => Cow::Borrowed(shown),
        };
        Field { text, span }
    }
}

/// What is wrong with the quotes of a field, if anything is.
fn misquoted(raw: &str) -> Option<&'static str> {
    let Some(rest) = raw.strip_prefix('"') else {
        return raw
            .contains('"')
            .then_some("a quote inside a field without quotes");
    };
    match rest.replace("\"\"", "").split_once('"') {
        None => Some("this quote is never closed"),
        Some((_, after)) => {
            (!after.is_empty()).then_some("something stands behind the closing quote")
        }
    }
}
