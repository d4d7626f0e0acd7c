//! What ids are made of, against the Unicode tables of a general-purpose library of regular
//! expressions: categories L and M, white space, and `Default_Ignorable_Code_Point`.

use regex::Regex;
use rules_core::facts::names::{SIGNS, TextFault, id, text};

/// Every character there is.
fn all() -> impl Iterator<Item = char> {
    '\0'..=char::MAX
}

fn set(class: &str) -> Regex {
    Regex::new(&format!("^{class}$")).expect("a class of characters")
}

/// What the library says of each, as far as its tables and ours are of one age: what is not assigned
/// in one of them is left out.
fn differing(is_in: impl Fn(&str) -> bool, is_so: impl Fn(char) -> bool) -> Vec<char> {
    let assigned = set(r"\P{Cn}");
    let differs = |letter: &char| {
        let alone = letter.to_string();
        assigned.is_match(&alone) && is_in(&alone) != is_so(*letter)
    };
    all().filter(differs).collect()
}

#[test]
fn a_letter_alone_is_an_id_if_it_is_of_category_l_and_can_be_seen() {
    let (letters, hidden) = (set(r"\p{L}"), set(r"\p{Default_Ignorable_Code_Point}"));
    let composed =
        |letter: char| !matches!(id(&letter.to_string()), Err(TextFault::NotComposed(_)));
    let found = differing(
        |alone| {
            let letter = alone.chars().next().unwrap();
            letter.is_ascii_digit()
                || SIGNS.contains(letter)
                || (letters.is_match(alone) && !hidden.is_match(alone) && composed(letter))
        },
        |letter| id(&letter.to_string()).is_ok(),
    );
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn a_mark_stands_on_a_letter_and_on_nothing_else() {
    let (marks, hidden) = (set(r"\p{M}"), set(r"\p{Default_Ignorable_Code_Point}"));
    let is_mark = |alone: &str| marks.is_match(alone) && !hidden.is_match(alone);
    let stands_on_none = |letter: char| matches!(id(&format!("4{letter}")), Err(TextFault::LoneMark(found, _)) if found == letter);
    let found = differing(is_mark, stands_on_none);
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn a_text_has_whatever_can_be_seen() {
    let unseen = set(r"[\p{Cc}\p{White_Space}\p{Default_Ignorable_Code_Point}]");
    let found = differing(
        |alone| !unseen.is_match(alone) || alone == " ",
        |letter| text(&format!("a{letter}b")).is_ok(),
    );
    assert!(found.is_empty(), "{found:?}");
}
