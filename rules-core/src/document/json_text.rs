//! Values to JSON.
//!
//! In JSON a text may have U+007F to U+009F, marks that turn the writing direction and the like as
//! they are, and a terminal acts on them. They are written as escapes, which any reader of JSON
//! takes for the same characters. Those below U+0020 are escaped by every writer of JSON.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::ser::{Formatter, PrettyFormatter};

use super::harmless::acts_on_a_terminal;

/// A value as JSON on lines of its own, indented by two spaces, with a line end at the end.
///
/// # Errors
///
/// A value that JSON cannot say, such as a map whose keys are no texts.
pub fn json_text(value: &impl Serialize) -> serde_json::Result<String> {
    let mut bytes = Vec::new();
    let mut writer = serde_json::Serializer::with_formatter(
        &mut bytes,
        Indented(PrettyFormatter::with_indent(b"  ")),
    );
    value.serialize(&mut writer)?;
    bytes.push(b'\n');
    String::from_utf8(bytes).map_err(serde::ser::Error::custom)
}

/// Writes a value as JSON on one line, without a line end.
///
/// # Errors
///
/// A value that JSON cannot say; a writer that fails.
pub fn write_json_line(into: impl Write, value: &impl Serialize) -> serde_json::Result<()> {
    value.serialize(&mut serde_json::Serializer::with_formatter(into, OneLine))
}

/// Writes a stretch of a text in which nothing else needs an escape.
fn write_harmless<W: ?Sized + Write>(into: &mut W, mut text: &str) -> io::Result<()> {
    // Nearly all texts are ASCII, in which only the last character acts.
    if text.bytes().all(|byte| byte < 0x7f) {
        return into.write_all(text.as_bytes());
    }
    while let Some(at) = text.find(acts_on_a_terminal) {
        let (before, rest) = text.split_at_checked(at).unwrap_or((text, ""));
        into.write_all(before.as_bytes())?;
        let mut letters = rest.chars();
        for unit in letters.next().iter().flat_map(|acting| units(*acting)) {
            write!(into, "\\u{unit:04x}")?;
        }
        text = letters.as_str();
    }
    into.write_all(text.as_bytes())
}

/// A character in UTF-16, as escapes count them.
fn units(letter: char) -> impl Iterator<Item = u16> {
    let mut units = [0; 2];
    let many = letter.encode_utf16(&mut units).len();
    units.into_iter().take(many)
}

struct OneLine;

impl Formatter for OneLine {
    fn write_string_fragment<W: ?Sized + Write>(
        &mut self,
        into: &mut W,
        text: &str,
    ) -> io::Result<()> {
        write_harmless(into, text)
    }
}

struct Indented(PrettyFormatter<'static>);

impl Formatter for Indented {
    fn write_string_fragment<W: ?Sized + Write>(
        &mut self,
        into: &mut W,
        text: &str,
    ) -> io::Result<()> {
        write_harmless(into, text)
    }

    fn begin_array<W: ?Sized + Write>(&mut self, into: &mut W) -> io::Result<()> {
        self.0.begin_array(into)
    }

    fn end_array<W: ?Sized + Write>(&mut self, into: &mut W) -> io::Result<()> {
        self.0.end_array(into)
    }

    fn begin_array_value<W: ?Sized + Write>(
        &mut self,
        into: &mut W,
        first: bool,
    ) -> io::Result<()> {
        self.0.begin_array_value(into, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, into: &mut W) -> io::Result<()> {
        self.0.end_array_value(into)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, into: &mut W) -> io::Result<()> {
        self.0.begin_object(into)
    }

    fn end_object<W: ?Sized + Write>(&mut self, into: &mut W) -> io::Result<()> {
        self.0.end_object(into)
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, into: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_object_key(into, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, into: &mut W) -> io::Result<()> {
        self.0.begin_object_value(into)
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, into: &mut W) -> io::Result<()> {
        self.0.end_object_value(into)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn line(value: &Value) -> String {
        let mut bytes = Vec::new();
        write_json_line(&mut bytes, value).unwrap();
        String::from_utf8(bytes).unwrap()
    }

    /// The escapes are those of RFC 8259, section 7.
    #[test]
    fn what_acts_is_escaped_in_texts_and_keys() {
        let value = json!({ "K\u{9b}4": ["\u{7f}a\u{202e}b", "\u{feff}", "é Ω 電 🔋 \u{1b}"] });
        assert_eq!(
            line(&value),
            r#"{"K\u009b4":["\u007fa\u202eb","\ufeff","é Ω 電 🔋 \u001b"]}"#
        );
    }

    /// A reader gets back every character of a text, and the terminal never sees one that acts.
    #[test]
    fn every_character_comes_back() {
        let all: String = ('\0'..=char::MAX)
            .filter(|letter| *letter < '\u{20000}')
            .collect();
        let value = json!({ "all": all, "none": {}, "list": [] });
        for text in [line(&value), json_text(&value).unwrap()] {
            assert!(!text.contains(|letter| letter != '\n' && acts_on_a_terminal(letter)));
            assert!(serde_json::from_str::<Value>(&text).unwrap() == value);
        }
    }

    /// Otherwise it is what the general writer writes.
    #[test]
    fn the_layout_is_the_usual_one() {
        let value = json!({ "a": [1, 2.5, { "b": null }], "c": {}, "d": [], "e": "x\"\\\n" });
        assert_eq!(line(&value), serde_json::to_string(&value).unwrap());
        assert_eq!(
            json_text(&value).unwrap(),
            serde_json::to_string_pretty(&value).unwrap() + "\n"
        );
    }
}
