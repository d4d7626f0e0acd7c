//! Texts by which things are told apart: the one form in which they are read and compared, what an
//! id may be made of, and which ids are easily taken for one another.

use std::borrow::Cow;
use std::ops::Range;

use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;
use unicode_normalization::is_nfc;
use unicode_script::{Script, ScriptExtension, UnicodeScript as _};

use crate::bounds::MOST_TEXT;

/// The signs that may be in an id beside letters, digits and spaces.
pub const SIGNS: &str = "-_./#+";

/// Scripts that are written together, and so count as one: Japanese, Korean, and Chinese with its
/// phonetic signs (Unicode Technical Standard 39, section 5.1).
const WRITTEN_TOGETHER: [&[Script]; 3] = [
    &[Script::Han, Script::Hiragana, Script::Katakana],
    &[Script::Han, Script::Hangul],
    &[Script::Han, Script::Bopomofo],
];

/// Characters that are made to show nothing: Unicode's property `Default_Ignorable_Code_Point`.
const SHOW_NOTHING: [(char, char); 17] = [
    ('\u{ad}', '\u{ad}'),
    ('\u{34f}', '\u{34f}'),
    ('\u{61c}', '\u{61c}'),
    ('\u{115f}', '\u{1160}'),
    ('\u{17b4}', '\u{17b5}'),
    ('\u{180b}', '\u{180f}'),
    ('\u{200b}', '\u{200f}'),
    ('\u{202a}', '\u{202e}'),
    ('\u{2060}', '\u{206f}'),
    ('\u{3164}', '\u{3164}'),
    ('\u{fe00}', '\u{fe0f}'),
    ('\u{feff}', '\u{feff}'),
    ('\u{ffa0}', '\u{ffa0}'),
    ('\u{fff0}', '\u{fff8}'),
    ('\u{1bca0}', '\u{1bca3}'),
    ('\u{1d173}', '\u{1d17a}'),
    ('\u{e0000}', '\u{e0fff}'),
];

/// Why a text cannot be used. Places are bytes of the text as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TextFault {
    /// There is nothing in it.
    Empty,
    /// It is longer than the bound.
    TooLong,
    /// A character that nobody sees, or that breaks the line.
    Unseen(char, Range<usize>),
    /// A character of which ids are not made.
    NotOfIds(char, Range<usize>),
    /// A mark that is on no letter.
    LoneMark(char, Range<usize>),
    /// A letter of another script than those before it.
    OtherScript(char, Range<usize>),
    /// Letters and marks apart that Unicode also has as one; how it reads in form NFC.
    NotComposed(String),
}

/// A text of a fact as it is kept and compared: in form NFC, without spaces around it, and with one
/// space where there are several.
///
/// # Errors
///
/// What nobody sees, nothing at all, or too much.
pub fn text(written: &str) -> Result<Cow<'_, str>, TextFault> {
    let joined = joined(written)?;
    if joined.is_ascii() {
        return Ok(joined);
    }
    match first(written, is_unseen) {
        Some((letter, at)) => Err(TextFault::Unseen(letter, at)),
        None if is_nfc(&joined) => Ok(joined),
        None => Ok(Cow::Owned(joined.nfc().collect())),
    }
}

/// An id as it is kept and compared: without spaces around it, and with one space where there are
/// several.
///
/// # Errors
///
/// Anything but letters of one script in form NFC, the digits 0 to 9, spaces and [`SIGNS`].
pub fn id(written: &str) -> Result<Cow<'_, str>, TextFault> {
    let joined = joined(written)?;
    let is_sign = |byte: u8| SIGNS.as_bytes().contains(&byte);
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || byte == b' ' || is_sign(byte);
    if joined.bytes().all(plain) {
        return Ok(joined);
    }
    let mut after_letter = false;
    let is_wrong = |letter: char| {
        let fits = is_of_ids(letter, after_letter);
        after_letter = fits && (letter.is_ascii_alphabetic() || !letter.is_ascii());
        !fits
    };
    if let Some((letter, at)) = first(written, is_wrong) {
        return Err(match letter {
            _ if is_unseen(letter) => TextFault::Unseen(letter, at),
            _ if is_combining_mark(letter) => TextFault::LoneMark(letter, at),
            _ => TextFault::NotOfIds(letter, at),
        });
    }
    if !is_nfc(&joined) {
        return Err(TextFault::NotComposed(joined.nfc().collect()));
    }
    match of_another_script(written) {
        Some((letter, at)) => Err(TextFault::OtherScript(letter, at)),
        None => Ok(joined),
    }
}

/// What an id has in common with all that it is easily taken for: those that differ from it only in
/// capitals, in 0 and O, in 1, l and I, or in forms of one letter (Unicode's form NFKC).
#[must_use]
pub fn likeness(id: &str) -> String {
    let alike = |letter: char| match letter {
        '0' => 'o',
        '1' | 'i' => 'l',
        other => other,
    };
    if id.is_ascii() {
        return id.chars().map(|l| alike(l.to_ascii_lowercase())).collect();
    }
    id.nfkc().flat_map(char::to_lowercase).map(alike).collect()
}

/// Without spaces around it, and with one space where there are several.
fn joined(written: &str) -> Result<Cow<'_, str>, TextFault> {
    if written.len() <= MOST_TEXT && is_joined(written) {
        return Ok(Cow::Borrowed(written));
    }
    let trimmed = written.trim_matches(' ');
    if let Some((letter, at)) = first(written, char::is_control) {
        return Err(TextFault::Unseen(letter, at));
    }
    if trimmed.is_empty() {
        return Err(TextFault::Empty);
    }
    if written.len() > MOST_TEXT && written.chars().count() > MOST_TEXT {
        return Err(TextFault::TooLong);
    }
    if !trimmed.contains("  ") {
        return Ok(Cow::Borrowed(trimmed));
    }
    let words: Vec<&str> = trimmed.split(' ').filter(|word| !word.is_empty()).collect();
    Ok(Cow::Owned(words.join(" ")))
}

/// Whether it is visible ASCII with single spaces inside, as nearly all texts are.
fn is_joined(written: &str) -> bool {
    let mut before = b' ';
    let follows = |byte: u8| {
        let is_double = byte == b' ' && before == b' ';
        before = byte;
        !is_double && matches!(byte, b' '..=b'~')
    };
    written.bytes().all(follows) && before != b' '
}

/// The first character that is so, and its bytes.
fn first(text: &str, mut is_so: impl FnMut(char) -> bool) -> Option<(char, Range<usize>)> {
    text.char_indices()
        .find(|(_, letter)| is_so(*letter))
        .map(|(at, letter)| (letter, at..at + letter.len_utf8()))
}

fn is_sign(letter: char) -> bool {
    SIGNS.contains(letter)
}

/// Controls, spaces that are not the ordinary one, and what is made to show nothing.
fn is_unseen(letter: char) -> bool {
    let shows_nothing = || {
        SHOW_NOTHING
            .iter()
            .any(|(from, to)| (*from..=*to).contains(&letter))
    };
    letter.is_control() || (letter.is_whitespace() && letter != ' ') || shows_nothing()
}

/// Whether ids may have it. A mark belongs to a letter.
fn is_of_ids(letter: char, after_letter: bool) -> bool {
    match letter {
        ' ' => true,
        _ if letter.is_ascii() => letter.is_ascii_alphanumeric() || is_sign(letter),
        _ if is_unseen(letter) => false,
        _ if is_combining_mark(letter) => after_letter,
        _ => is_letter(letter),
    }
}

/// Unicode's category L, of what is no mark: its property Alphabetic has numbers and encircled and
/// squared letters as well, which are symbols.
fn is_letter(letter: char) -> bool {
    let is_symbol = matches!(letter, '\u{24b6}'..='\u{24e9}' | '\u{1f130}'..='\u{1f189}');
    letter.is_alphabetic() && !letter.is_numeric() && !is_symbol
}

/// The first letter with which a text is no longer of one script. What all scripts share is of any.
fn of_another_script(text: &str) -> Option<(char, Range<usize>)> {
    if is_of_one_script(text) {
        return None;
    }
    let mut before = String::new();
    first(text, |letter| {
        before.push(letter);
        !is_of_one_script(&before)
    })
}

fn is_of_one_script(text: &str) -> bool {
    let within = |letter: char, scripts: &[Script]| {
        let of = letter.script_extension();
        of.is_common()
            || of.is_inherited()
            || scripts.iter().any(|script| of.contains_script(*script))
    };
    !ScriptExtension::for_str(text).is_empty()
        || WRITTEN_TOGETHER
            .iter()
            .any(|scripts| text.chars().all(|letter| within(letter, scripts)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(written: &str) -> String {
        id(written)
            .unwrap_or_else(|fault| panic!("{written:?}: {fault:?}"))
            .into_owned()
    }

    #[test]
    fn spaces_around_and_between_are_one_form() {
        for written in ["K 4", "K 4 ", "  K   4"] {
            assert_eq!(
                (kept(written).as_str(), &*text(written).unwrap()),
                ("K 4", "K 4")
            );
        }
    }

    #[test]
    fn ids_are_letters_digits_spaces_and_signs() {
        for written in [
            "K4",
            "4",
            "P-drill_3.b/#7+",
            "Zelle Ä",
            "Мк-4",
            "แบต 1",
            "懐中ライト 2",
            "전지",
            "बत्ती",
        ] {
            assert_eq!(kept(written), written);
        }
        for (written, letter, at) in [
            ("K4!", '!', 2..3),
            ("(not listed 1)", '(', 0..1),
            ("K\u{200b}4", '\u{200b}', 1..4),
            ("K4\t", '\t', 2..3),
            ("K\u{a0}4", '\u{a0}', 1..3),
            ("K４", '４', 1..4),
            ("K²", '²', 1..3),
            ("KⅣ", 'Ⅳ', 1..4),
            ("Ⓚ4", 'Ⓚ', 0..3),
            ("\u{301}K", '\u{301}', 0..2),
            ("4\u{301}", '\u{301}', 1..3),
            ("K\u{fe0f}", '\u{fe0f}', 1..4),
            ("\u{3164}", '\u{3164}', 0..3),
        ] {
            let (TextFault::NotOfIds(found, place)
            | TextFault::LoneMark(found, place)
            | TextFault::Unseen(found, place)) = id(written).unwrap_err()
            else {
                panic!("{written:?}")
            };
            assert_eq!((found, place), (letter, at), "{written:?}");
        }
    }

    #[test]
    fn an_id_is_of_one_script_and_composed() {
        // U+0430 is Cyrillic and looks like the Latin a; U+039A is Greek and looks like K.
        for (written, letter) in [("Pa\u{430}", '\u{430}'), ("K\u{39a}", '\u{39a}')] {
            assert!(
                matches!(id(written), Err(TextFault::OtherScript(found, _)) if found == letter),
                "{written:?}"
            );
        }
        assert_eq!(
            id("Ze\u{301}").unwrap_err(),
            TextFault::NotComposed("Z\u{e9}".to_owned())
        );
        assert_eq!(text("Ze\u{301}").unwrap(), "Z\u{e9}");
    }

    #[test]
    fn texts_are_bounded_as_they_are_written() {
        let most = "é".repeat(MOST_TEXT);
        assert_eq!(kept(&most), most);
        for long in [
            format!("{most}1"),
            format!("{}  ", "k".repeat(MOST_TEXT - 1)),
        ] {
            assert_eq!(id(&long).unwrap_err(), TextFault::TooLong);
            assert_eq!(text(&long).unwrap_err(), TextFault::TooLong);
        }
        for nothing in ["", " "] {
            assert_eq!(id(nothing).unwrap_err(), TextFault::Empty);
            assert_eq!(text(nothing).unwrap_err(), TextFault::Empty);
        }
    }

    #[test]
    fn what_is_easily_taken_for_another_has_one_likeness() {
        for [one, other] in [
            ["K1", "Kl"],
            ["KI", "kl"],
            ["P-O1", "p-0I"],
            ["Äb", "äB"],
            ["ﬁ", "FI"],
        ] {
            assert_eq!(likeness(one), likeness(other));
        }
        for [one, other] in [["K1", "K2"], ["K1", "K 1"], ["K4", "KA"]] {
            assert_ne!(likeness(one), likeness(other));
        }
    }
}
