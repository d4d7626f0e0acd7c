//! Quantities and texts are read by the characters that LANGUAGE.md, section 1, names, and by no
//! others; loader and schema say the same of each.

use rules_core::quantity::{Kind, Nature, Quantity};
use serde_json::json;

use super::agreement::{every_key, load_ruleset};
use super::setting::{library_validator, quantity_validator};

/// The spaces of the table.
const SPACES: &str = " \t\n\r\u{a0}\u{2009}\u{202f}";
const DIGITS: &str = "0123456789";

/// A text with a hole, of a kind, and the characters that make it a quantity.
type Hole = (Kind, &'static str, &'static [&'static str]);

const HOLES: [Hole; 16] = [
    (Kind::Voltage, "3.71@V", &[SPACES, DIGITS, "mkuµ\u{3bc}"]),
    (Kind::Voltage, "3.71 @", &["V"]),
    (Kind::Voltage, "@3.71 V", &[SPACES, DIGITS, "+-\u{2212}"]),
    (Kind::Voltage, "3.71 V@", &[SPACES]),
    (Kind::Voltage, "3.71 V@± 0.02 V", &[SPACES]),
    (Kind::Voltage, "3.71 V @ 0.02 V", &["±"]),
    (Kind::Voltage, "3.71 V ±@0.02 V", &[SPACES, DIGITS, "+"]),
    (Kind::Voltage, "3.71 V ± (0.5 @ + 2 digits)", &["%"]),
    (Kind::Voltage, "3.71 V ± (0.5 % @ 2 digits)", &["+"]),
    (
        Kind::Voltage,
        "3.71 V ± (0.5 % + 2@digits)",
        &[SPACES, DIGITS],
    ),
    (Kind::Voltage, "3.6.@3.8 V", &["."]),
    (Kind::Voltage, "1@3 V", &[DIGITS, ".eE"]),
    (Kind::Voltage, "1e@3 V", &[DIGITS, "+-\u{2212}"]),
    (Kind::Temperature, "20 @", &["K\u{212a}\u{2103}"]),
    (Kind::Temperature, "20 @C", &["°\u{ba}"]),
    (Kind::Resistance, "50 m@", &["Ω\u{2126}"]),
];

/// Every character below the ideographs and past them in the plane of living scripts: nothing that
/// could be taken for one of the language is elsewhere.
fn characters() -> impl Iterator<Item = char> {
    ('\0'..'\u{3400}').chain('\u{f900}'..='\u{ffff}')
}

#[test]
fn quantities_are_read_by_the_characters_of_the_language() {
    for (kind, text, named) in HOLES {
        let pattern = quantity_validator(kind);
        for letter in characters() {
            let filled = text.replace('@', letter.encode_utf8(&mut [0; 4]));
            let expected = named.iter().any(|some| some.contains(letter));
            let read = Quantity::read(&filled, kind, Nature::Stated, None).is_ok();
            assert_eq!(read, expected, "{filled:?} is read");
            let fits = pattern.is_valid(&json!(filled));
            assert_eq!(fits, expected, "{filled:?} fits the schema");
        }
    }
}

/// Of the invisible characters: white space, controls, those of no width, fillers, and what is
/// beside each of them.
const NEAR_NOTHING: [char; 44] = [
    '\0', '\t', '\n', '\u{1f}', ' ', '!', '~', '\u{7f}', '\u{85}', '\u{9f}', '\u{a0}', '¡', '¬',
    '\u{ad}', '®', '\u{34f}', '\u{61c}', '\u{115f}', '\u{1680}', '\u{17b5}', '\u{180e}',
    '\u{2000}', '\u{200b}', '\u{200d}', '\u{200f}', '\u{2010}', '\u{2027}', '\u{2028}', '\u{202e}',
    '\u{202f}', '\u{2030}', '\u{205f}', '\u{2060}', '\u{206f}', '\u{27ff}', '\u{2800}', '\u{2801}',
    '\u{3000}', '\u{3164}', '\u{fe0f}', '\u{feff}', '\u{ffa0}', '\u{fff8}', '\u{fffd}',
];

/// Those of them that show. The two before U+2010 and U+2030 are points in the middle of a line.
const SHOWN: &str = "!~¡¬®\u{2010}\u{2027}\u{2030}\u{27ff}\u{2801}\u{fffd}";

#[test]
fn a_title_of_which_nothing_shows_is_blank() {
    let schema = library_validator("ruleset");
    for letter in NEAR_NOTHING {
        let mut document = every_key();
        document["title"] = json!(format!("{letter}{letter}"));
        let expected = SHOWN.contains(letter);
        assert_eq!(
            load_ruleset(&document).is_ok(),
            expected,
            "{letter:?} is read"
        );
        assert_eq!(
            schema.is_valid(&document),
            expected,
            "{letter:?} fits the schema"
        );
    }
}

/// Engines that go by UTF-16 have no ranges past U+FFFF, so that only the loader sees these.
#[test]
fn past_the_first_plane_only_the_loader_sees_that_nothing_shows() {
    let schema = library_validator("ruleset");
    for letter in ['\u{e0041}', '\u{1d173}', '\u{1bca0}'] {
        let mut document = every_key();
        document["title"] = json!(letter.to_string());
        assert!(load_ruleset(&document).is_err(), "{letter:?}");
        assert!(schema.is_valid(&document), "{letter:?}");
    }
}
