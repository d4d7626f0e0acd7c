//! The characters that no text of a ruleset may have: they do not print, and act on the text around
//! them when a report repeats it.

use crate::document::{Content, Fault, Node, Problems, Span};

/// Reports every text, and every key, with such a character.
pub(super) fn check(node: &Node<'_>, problems: &mut Problems<'_>) {
    match &node.content {
        Content::Nothing => {}
        Content::Scalar(scalar) => text(&scalar.text, node.span, problems),
        Content::List(items) => items.iter().for_each(|item| check(item, problems)),
        Content::Map(entries) => {
            for entry in entries {
                text(&entry.key, entry.key_span, problems);
                check(&entry.node, problems);
            }
        }
    }
}

fn text(text: &str, span: Span, problems: &mut Problems<'_>) {
    if let Some(bad) = text.chars().find(|letter| acts(*letter)) {
        let message = format!("this text has the character U+{:04X}", u32::from(bad));
        let help = "take it out: it does not print, and acts on the text around it";
        problems.add(Fault::BadCharacter, span, message, help);
    }
}

/// Control characters other than tab and line ends, separators of lines and paragraphs, those that
/// turn the direction of a stretch of text, and byte-order marks.
fn acts(letter: char) -> bool {
    let control = letter.is_control() && !matches!(letter, '\t' | '\n' | '\r');
    control
        || matches!(letter, '\u{2028}' | '\u{2029}' | '\u{feff}')
        || matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}
