//! Reads the texts that come with this crate once, when it is built: their trees and digests as
//! bytes, in the form that `document/prepared.rs` of the engine describes. The tests of this crate
//! compare them with what the engine reads.
//!
//! It stands on the YAML parser and not on the engine, which would have to be built twice.

use std::borrow::Cow;
use std::error::Error;
use std::fmt::Write as _;
use std::ops::Range;
use std::path::PathBuf;
use std::{env, fs};

use serde_yaml::granit_parser::{Event, Parser, ScalarStyle, Span};
use sha2::{Digest, Sha256};

const TEXTS: [&str; 6] = [
    "facts",
    "rescued-cells",
    "rescued-cells-measured",
    "data/formerly",
    "data/sizes",
    "data/words",
];

type Failed = Box<dyn Error>;

#[allow(clippy::print_stdout, reason = "so a build script tells what it read")]
fn main() -> Result<(), Failed> {
    let folder = PathBuf::from(env::var("OUT_DIR")?);
    fs::create_dir_all(folder.join("data"))?;
    for name in TEXTS {
        let file = format!("{name}.yaml");
        println!("cargo::rerun-if-changed={file}");
        let text = fs::read_to_string(&file)?;
        let read = prepared(&text).map_err(|error| format!("{file}: {error}"))?;
        fs::write(folder.join(format!("{name}.prepared")), read)?;
    }
    Ok(())
}

/// The digest, the lines and the tree of a text.
fn prepared(text: &str) -> Result<Vec<u8>, Failed> {
    let mut events = Parser::new_from_str(text);
    let mut reader = Reader {
        text,
        next: || {
            events
                .next_event()
                .ok_or("the text ends too early")?
                .map_err(Failed::from)
        },
    };
    let root = loop {
        if let Some(node) = reader.node()? {
            break node;
        }
    };
    let mut canonical = String::new();
    root.write_canonical(&mut canonical)?;
    let mut digest = "sha256:".to_owned();
    for byte in Sha256::digest(canonical) {
        write!(digest, "{byte:02x}")?;
    }
    let mut bytes = digest.into_bytes();
    let lines = lines(text);
    bytes.extend(number(lines.len())?);
    for start in lines {
        bytes.extend(number(start)?);
    }
    root.write(text, &mut bytes)?;
    Ok(bytes)
}

/// Where lines start: after LF, CR LF or CR.
fn lines(text: &str) -> Vec<usize> {
    let bytes = text.as_bytes();
    let ends_line = |at: usize| match bytes.get(at) {
        Some(b'\r') => bytes.get(at + 1) != Some(&b'\n'),
        other => other == Some(&b'\n'),
    };
    let after = (0..bytes.len())
        .filter(|at| ends_line(*at))
        .map(|at| at + 1);
    std::iter::once(0).chain(after).collect()
}

/// A node and where it is.
struct Node<'t> {
    start: usize,
    end: usize,
    content: Content<'t>,
}

enum Content<'t> {
    Nothing,
    Scalar(Cow<'t, str>, Quotes),
    List(Vec<Node<'t>>),
    /// Keys, which are scalars, and values.
    Map(Vec<(Node<'t>, Node<'t>)>),
}

#[derive(Clone, Copy)]
enum Quotes {
    None,
    Single,
    Double,
}

/// Builds nodes from what the parser meets.
struct Reader<'t, F> {
    text: &'t str,
    next: F,
}

impl<'t, F: FnMut() -> Result<(Event<'t>, Span), Failed>> Reader<'t, F> {
    /// The next node; none where a list, a map or something else ends or begins.
    fn node(&mut self) -> Result<Option<Node<'t>>, Failed> {
        let (event, stretch) = (self.next)()?;
        let Range { start, end } = stretch.byte_range().ok_or("a place is not known")?;
        let at = |content| {
            Ok(Some(Node {
                start,
                end,
                content,
            }))
        };
        match event {
            Event::Scalar(text, style, 0, None) => self.scalar(text, style, (start, end)).map(Some),
            Event::SequenceStart(_, 0, None) => {
                let mut items = Vec::new();
                while let Some(item) = self.node()? {
                    items.push(item);
                }
                at(Content::List(items))
            }
            Event::MappingStart(_, 0, None) => {
                let mut entries = Vec::new();
                while let Some(key) = self.node()? {
                    entries.push((key.into_key(), self.node()?.ok_or("a key has no value")?));
                }
                at(Content::Map(entries))
            }
            Event::Scalar(..)
            | Event::SequenceStart(..)
            | Event::MappingStart(..)
            | Event::Alias(_) => Err("an anchor, an alias or a tag".into()),
            _ => Ok(None),
        }
    }

    fn scalar(
        &self,
        text: Cow<'t, str>,
        style: ScalarStyle,
        (start, end): (usize, usize),
    ) -> Result<Node<'t>, Failed> {
        let nothing = matches!(&*text, "" | "~" | "null" | "Null" | "NULL");
        let (start, content) = match style {
            ScalarStyle::Plain if nothing => (start, Content::Nothing),
            ScalarStyle::Plain => (start, Content::Scalar(text, Quotes::None)),
            ScalarStyle::SingleQuoted => (start, Content::Scalar(text, Quotes::Single)),
            ScalarStyle::DoubleQuoted => (start, Content::Scalar(text, Quotes::Double)),
            ScalarStyle::Literal | ScalarStyle::Folded => {
                let raw = self.text.get(start..end).ok_or("a block of no text")?;
                let start = start + first_of_block(raw);
                (start, Content::Scalar(text, Quotes::None))
            }
        };
        Ok(Node {
            start,
            end,
            content,
        })
    }
}

/// Where the text of a block begins: on the line after its `|` or `>`.
fn first_of_block(raw: &str) -> usize {
    let header = match raw.find('\n') {
        Some(end) if raw.starts_with(['|', '>']) => end + 1,
        _ => 0,
    };
    let below = raw.get(header..).unwrap_or_default();
    header + below.len() - below.trim_start().len()
}

impl Node<'_> {
    /// The same as a key, for which `null` is a word like others.
    fn into_key(self) -> Self {
        match self.content {
            Content::Nothing => Self {
                content: Content::Scalar("null".into(), Quotes::None),
                ..self
            },
            _ => self,
        }
    }

    /// Writes it as the engine reads it.
    fn write(&self, text: &str, to: &mut Vec<u8>) -> Result<(), Failed> {
        match &self.content {
            Content::Nothing => self.write_place(0, to),
            Content::Scalar(said, quotes) => self.write_scalar(said, *quotes, text, to),
            Content::List(items) => self.write_all(7, items, to, |item, to| item.write(text, to)),
            Content::Map(entries) => self.write_all(8, entries, to, |(key, value), to| {
                key.write(text, to)?;
                value.write(text, to)
            }),
        }
    }

    fn write_place(&self, kind: u8, to: &mut Vec<u8>) -> Result<(), Failed> {
        to.push(kind);
        to.extend(number(self.start)?);
        to.extend(number(self.end)?);
        Ok(())
    }

    fn write_scalar(
        &self,
        said: &str,
        quotes: Quotes,
        text: &str,
        to: &mut Vec<u8>,
    ) -> Result<(), Failed> {
        let (kind, width) = match quotes {
            Quotes::None => (1, 0),
            Quotes::Single => (2, 1),
            Quotes::Double => (3, 1),
        };
        if text.get(self.start + width..self.end - width) == Some(said) {
            return self.write_place(kind, to);
        }
        self.write_place(kind + 3, to)?;
        to.extend(number(said.len())?);
        to.extend(said.as_bytes());
        Ok(())
    }

    fn write_all<T>(
        &self,
        kind: u8,
        all: &[T],
        to: &mut Vec<u8>,
        write: impl Fn(&T, &mut Vec<u8>) -> Result<(), Failed>,
    ) -> Result<(), Failed> {
        let mut bytes = Vec::new();
        for one in all {
            write(one, &mut bytes)?;
        }
        to.push(kind);
        to.extend(number(self.start)?);
        to.extend(number(all.len())?);
        to.extend(number(bytes.len())?);
        to.append(&mut bytes);
        Ok(())
    }

    /// Writes its canonical form, of which the digest is taken: RFC 8785, each scalar as a text.
    fn write_canonical(&self, to: &mut String) -> Result<(), Failed> {
        match &self.content {
            Content::Nothing => to.push_str("null"),
            Content::Scalar(text, _) => to.push_str(&serde_json::to_string(text)?),
            Content::List(items) => {
                for (at, item) in items.iter().enumerate() {
                    to.push(if at == 0 { '[' } else { ',' });
                    item.write_canonical(to)?;
                }
                to.push_str(if items.is_empty() { "[]" } else { "]" });
            }
            Content::Map(entries) => {
                let mut sorted: Vec<_> = entries.iter().collect();
                sorted.sort_by_cached_key(|(key, _)| key.utf16());
                for (at, (key, value)) in sorted.into_iter().enumerate() {
                    to.push(if at == 0 { '{' } else { ',' });
                    key.write_canonical(to)?;
                    to.push(':');
                    value.write_canonical(to)?;
                }
                to.push_str(if entries.is_empty() { "{}" } else { "}" });
            }
        }
        Ok(())
    }

    fn utf16(&self) -> Vec<u16> {
        match &self.content {
            Content::Scalar(text, _) => text.encode_utf16().collect(),
            _ => Vec::new(),
        }
    }
}

fn number(number: usize) -> Result<[u8; 4], Failed> {
    Ok(u32::try_from(number)?.to_le_bytes())
}
