//! Keeping what others wrote from acting on a terminal.

use std::borrow::Cow;
use std::fmt::Write;

/// Whether a character does more than show itself: moves the cursor, changes colours, turns the
/// writing direction.
#[must_use]
pub fn acts_on_a_terminal(letter: char) -> bool {
    let turns_direction = matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    letter.is_control() || turns_direction || matches!(letter, '\u{2028}' | '\u{2029}' | '\u{feff}')
}

/// The text with every character that could act on a terminal written out, as `\u{1b}`.
#[must_use]
pub fn harmless(text: &str) -> Cow<'_, str> {
    if !text.contains(acts_on_a_terminal) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    for letter in text.chars() {
        if acts_on_a_terminal(letter) {
            // Writing to a string cannot fail.
            let _ = write!(shown, "\\u{{{:x}}}", u32::from(letter));
        } else {
            shown.push(letter);
        }
    }
    Cow::Owned(shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_acts_is_written_out() {
        assert_eq!(harmless("K4\u{1b}[2J"), "K4\\u{1b}[2J");
        assert_eq!(
            harmless("a\u{202e}b\r\n\u{85}"),
            "a\\u{202e}b\\u{d}\\u{a}\\u{85}"
        );
        assert_eq!(harmless("61 mΩ ± 1 mΩ, 電池"), "61 mΩ ± 1 mΩ, 電池");
    }
}
