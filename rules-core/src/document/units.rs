//! Where a character of a scalar's text is in the source: after quotes, in folded lines, as an
//! escape of several characters.
//!
//! White space moves about when lines are folded, but nothing else changes its order. So the other
//! characters are counted, in the text and in what was written.

use std::iter;
use std::ops::Range;

/// The quotes round a scalar, by which its escapes are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quotes {
    /// None: what is there is the text.
    None,
    /// In `'it''s'` a quote is written twice.
    Single,
    /// In `"5 \u00b5A"` a backslash begins an escape.
    Double,
}

/// The bytes of `raw`, which has no quotes round it any more, that show the character at byte `at`
/// of `text`; the end of `raw` if `at` is that of the text. White space stands for what follows it.
pub(super) fn shown_at(text: &str, at: usize, raw: &str, quotes: Quotes) -> Range<usize> {
    let before = text.get(..at).unwrap_or(text);
    let counted = before.chars().filter(|letter| !is_space(*letter)).count();
    let end = raw.trim_end_matches(is_space).len();
    units(raw, quotes)
        .filter_map(|(bytes, counts)| counts.then_some(bytes))
        .nth(counted)
        .unwrap_or(end..end)
}

/// What YAML and JSON may move about. Other spaces stay where they are.
const fn is_space(letter: char) -> bool {
    matches!(letter, ' ' | '\t' | '\n' | '\r')
}

/// What stands for one character each, or for none, and whether it counts: whether it is one that
/// is no white space.
fn units(raw: &str, quotes: Quotes) -> impl Iterator<Item = (Range<usize>, bool)> + '_ {
    let mut start = 0;
    iter::from_fn(move || {
        let rest = raw.get(start..)?;
        let letter = rest.chars().next()?;
        let (length, counts) = match (quotes, letter) {
            (Quotes::Double, '\\') => escape(rest),
            (Quotes::Single, '\'') => (2, true),
            _ => (letter.len_utf8(), !is_space(letter)),
        };
        let bytes = start..(start + length).min(raw.len());
        start += length;
        Some((bytes, counts))
    })
}

/// How long the escape is that a text begins with, and whether it counts.
fn escape(rest: &str) -> (usize, bool) {
    let letter = rest.chars().nth(1).unwrap_or('\\');
    match letter {
        'x' => coded(rest, 2),
        'u' => coded(rest, 4),
        'U' => coded(rest, 8),
        't' | 'n' | 'r' => (2, false),
        _ => (1 + letter.len_utf8(), !is_space(letter)),
    }
}

/// An escape with the code of a character, or with half of one that takes two.
fn coded(rest: &str, digits: usize) -> (usize, bool) {
    let code = rest.get(2..2 + digits);
    let code = code.and_then(|code| u32::from_str_radix(code, 16).ok());
    let length = 2 + digits;
    match code {
        Some(0xd800..=0xdbff) => (2 * length, true),
        Some(code) => (
            length,
            char::from_u32(code).is_none_or(|letter| !is_space(letter)),
        ),
        None => (length, true),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, at: &str, raw: &'static str, quotes: Quotes) -> &'static str {
        raw.get(shown_at(text, text.find(at).unwrap(), raw, quotes))
            .unwrap()
    }

    #[test]
    fn each_character_is_shown_by_what_stands_for_it() {
        let raw = r#"a\u00b5\" \x42\U0001f50b\ud83d\udd0b\_\/c"#;
        let text = "aµ\" B🔋🔋\u{a0}/c";
        let all = [("a", "a"), ("µ", r"\u00b5"), ("\"", "\\\""), ("B", r"\x42")];
        for (letter, written) in
            all.into_iter()
                .chain([("\u{a0}", r"\_"), ("/", r"\/"), ("c", "c")])
        {
            assert_eq!(shown(text, letter, raw, Quotes::Double), written);
        }
        assert_eq!(shown("it's b", "b", "it''s b", Quotes::Single), "b");
        assert_eq!(shown(r"\u00b5 b", "b", r"\u00b5 b", Quotes::None), "b");
    }

    #[test]
    fn white_space_stands_for_what_follows_it() {
        let raw = "a\\t\\\n  b\\x20 \\ c  ";
        let text = "a\tb   c";
        for (letter, written) in [("a", "a"), ("\t", "b"), ("b", "b"), (" ", "c"), ("c", "c")] {
            assert_eq!(shown(text, letter, raw, Quotes::Double), written);
        }
        let end = raw.trim_end().len();
        assert_eq!(shown_at(text, text.len(), raw, Quotes::Double), end..end);
    }
}
