//! Which characters are spaces, and which show nothing. LANGUAGE.md, section 1, lists them for
//! other implementations.

/// Whether a character is a space of quantities and formulas: what keyboards, word processors and
/// spreadsheets put between a number and its unit, and a line end.
#[must_use]
pub const fn is_space(letter: char) -> bool {
    matches!(
        letter,
        ' ' | '\t' | '\n' | '\r' | '\u{a0}' | '\u{2009}' | '\u{202f}'
    )
}

/// The text without the spaces round it.
#[must_use]
pub fn trimmed(text: &str) -> &str {
    text.trim_matches(is_space)
}

/// Whether nothing of the text can be seen.
#[must_use]
pub fn is_blank(text: &str) -> bool {
    text.chars().all(shows_nothing)
}

/// Whether a character is white space, a control, one that Unicode calls default ignorable (as
/// those of no width), or the braille pattern without dots.
pub(crate) fn shows_nothing(letter: char) -> bool {
    letter.is_whitespace() || letter.is_control() || is_ignorable(letter) || letter == '\u{2800}'
}

/// Unicode's `Default_Ignorable_Code_Point`.
const fn is_ignorable(letter: char) -> bool {
    matches!(
        letter,
        '\u{ad}'
            | '\u{34f}'
            | '\u{61c}'
            | '\u{115f}'..='\u{1160}'
            | '\u{17b4}'..='\u{17b5}'
            | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200f}'
            | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}'
            | '\u{3164}'
            | '\u{fe00}'..='\u{fe0f}'
            | '\u{feff}'
            | '\u{ffa0}'
            | '\u{fff0}'..='\u{fff8}'
            | '\u{1bca0}'..='\u{1bca3}'
            | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e0fff}'
    )
}

/// What a character outside the language was probably meant to be, if it looks like one of the
/// language, or like nothing.
pub(crate) fn meant_by(letter: char) -> Option<String> {
    let meant = match letter {
        '\u{2010}'..='\u{2015}' | '\u{fe58}' | '\u{fe63}' => "-",
        '\u{2026}' => "..",
        '\u{2da}' | '\u{2218}' => "°",
        '\u{2213}' => "±",
        '\u{2044}' | '\u{2215}' => "/",
        '\u{66a}' => "%",
        // Greek and Cyrillic letters, the Cyrillic ones also where they are the unit's own.
        '\u{391}' | '\u{410}' => "A",
        '\u{412}' => "V",
        '\u{421}' => "C",
        '\u{39a}' | '\u{41a}' => "K",
        '\u{43a}' => "k",
        '\u{43c}' => "m",
        // Units in one character, as they are beside Chinese and Japanese letters.
        '\u{3382}' => "µA",
        '\u{3383}' => "mA",
        '\u{339c}' => "mm",
        '\u{339d}' => "cm",
        '\u{33b6}' => "µV",
        '\u{33b7}' => "mV",
        '\u{33b8}' => "kV",
        '\u{33bd}' => "mW",
        '\u{33be}' => "kW",
        _ if is_space(letter) => return None,
        _ if letter.is_whitespace() => " ",
        _ if shows_nothing(letter) => "",
        _ => return narrow(letter).map(String::from),
    };
    Some(meant.to_owned())
}

/// The ASCII character that a full-width one is the wide form of.
fn narrow(letter: char) -> Option<char> {
    const WIDER_BY: u32 = 0xfee0;
    let is_wide = ('\u{ff01}'..='\u{ff5e}').contains(&letter);
    is_wide
        .then(|| char::from_u32(u32::from(letter) - WIDER_BY))
        .flatten()
}

/// A character as messages name it, since it may not be seen or may look like another: `U+2013`.
pub(crate) fn code_point(letter: char) -> String {
    format!("U+{:04X}", u32::from(letter))
}

#[cfg(test)]
mod tests {
    use super::*;
    use regex::Regex;

    /// The tables of Unicode as a general-purpose library has them.
    #[test]
    fn what_shows_nothing_is_what_unicode_says() {
        let unicode =
            Regex::new(r"[\p{White_Space}\p{Cc}\p{Default_Ignorable_Code_Point}\u{2800}]").unwrap();
        for letter in '\0'..=char::MAX {
            let named = unicode.is_match(letter.encode_utf8(&mut [0; 4]));
            assert_eq!(shows_nothing(letter), named, "{}", code_point(letter));
        }
    }

    /// After The Unicode Standard, chapter 23.4 and block Halfwidth and Fullwidth Forms: U+FF01 to
    /// U+FF5E are the wide forms of U+0021 to U+007E.
    #[test]
    fn wide_forms_are_of_ascii() {
        assert_eq!(meant_by('！').as_deref(), Some("!"));
        assert_eq!(meant_by('３').as_deref(), Some("3"));
        assert_eq!(meant_by('％').as_deref(), Some("%"));
        assert_eq!(meant_by('～').as_deref(), Some("~"));
        assert_eq!(meant_by('｟'), None);
    }

    #[test]
    fn what_is_of_the_language_is_meant_as_it_stands() {
        for letter in [
            'V', '3', ' ', '\u{a0}', '−', '°', 'º', '℃', 'µ', 'Ω', '±', '\n',
        ] {
            assert_eq!(meant_by(letter), None, "{letter:?}");
        }
    }

    #[test]
    fn blank_is_what_shows_nowhere() {
        for text in [
            "",
            " ",
            "\u{200b}",
            "\u{2800}\u{3164} \n",
            "\u{e0041}",
            "\u{a0}\u{ad}",
        ] {
            assert!(is_blank(text), "{text:?}");
        }
        for text in [".", "\u{200b}x", "電", "🔋", "\u{fffd}"] {
            assert!(!is_blank(text), "{text:?}");
        }
    }
}
