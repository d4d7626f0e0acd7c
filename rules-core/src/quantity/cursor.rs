//! A text of quantities, read from left to right.

use std::ops::Range;

use super::number::NumberText;
use super::{QuantityError, QuantityFault};
use crate::characters::{is_space, trimmed};

/// Reads the whole of a text, with spaces around it. An error names a character that only looks
/// like one of the language.
pub(super) fn read_whole<T>(
    text: &str,
    read: fn(&mut Cursor<'_>) -> Result<T, QuantityError>,
) -> Result<T, QuantityError> {
    let read_all = |text: &str| {
        let mut cursor = Cursor::new(text);
        cursor.skip_space();
        let found = read(&mut cursor)?;
        cursor.expect_end()?;
        Ok(found)
    };
    read_all(text)
        .map_err(|error: QuantityError| error.naming_odd(text, |plain| read_all(plain).is_ok()))
}

/// A place in a text that is read from left to right.
pub(super) struct Cursor<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Cursor<'t> {
    pub(super) const fn new(text: &'t str) -> Self {
        Self { text, at: 0 }
    }

    /// The whole text.
    pub(super) const fn text(&self) -> &'t str {
        self.text
    }

    pub(super) const fn at(&self) -> usize {
        self.at
    }

    /// Goes back to a place that it came past.
    pub(super) fn go_back(&mut self, at: usize) {
        self.at = at;
    }

    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(super) fn is_at_end(&self) -> bool {
        self.rest().is_empty()
    }

    pub(super) fn skip_space(&mut self) {
        let mut letters = self.rest().chars();
        while letters.next().is_some_and(is_space) {
            self.at = self.text.len() - letters.as_str().len();
        }
    }

    /// Takes the mark if it comes next.
    pub(super) fn take(&mut self, mark: &str) -> bool {
        let is_next = self.rest().starts_with(mark);
        if is_next {
            self.at += mark.len();
        }
        is_next
    }

    /// Whether a tolerance comes next.
    pub(super) fn at_tolerance(&self) -> bool {
        self.rest().starts_with('±') || self.rest().starts_with("+/-")
    }

    /// Takes the number that comes next.
    pub(super) fn number(&mut self) -> Result<NumberText, QuantityError> {
        match NumberText::prefix(self.rest()) {
            Some((number, used)) if !self.goes_on_as_number(used) => {
                self.at += used;
                Ok(number)
            }
            _ => Err(self.not_a_number()),
        }
    }

    fn not_a_number(&self) -> QuantityError {
        let word = self.word();
        let found = if word.is_empty() {
            self.rest().split(is_space).next().unwrap_or_default()
        } else {
            word
        };
        let span = self.at..self.at + found.len();
        if found.is_empty() {
            return QuantityError::new(QuantityFault::Empty, span);
        }
        QuantityError::new(
            QuantityFault::NotANumber {
                found: found.to_owned(),
                meant: meant_number(found),
            },
            span,
        )
    }

    /// Takes a number of digits, as `2 digits`, if it comes next.
    pub(super) fn digits(&mut self) -> Option<NumberText> {
        let (number, used) = NumberText::prefix(self.rest())?;
        let after = self.rest().get(used..)?.trim_start_matches(is_space);
        let end = after
            .find(|c: char| !c.is_alphanumeric())
            .unwrap_or(after.len());
        let (word, after) = after.split_at_checked(end)?;
        if word != "digit" && word != "digits" {
            return None;
        }
        self.at = self.text.len() - after.len();
        Some(number)
    }

    /// Takes a mark that a tolerance needs here.
    pub(super) fn required(&mut self, mark: &str) -> Result<(), QuantityError> {
        self.skip_space();
        if self.take(mark) {
            Ok(())
        } else {
            Err(self.not_a_tolerance())
        }
    }

    /// Whether the number is written in a way that is not in the language: `1,5`, `1_000`, `3.`,
    /// `1.2.3`.
    fn goes_on_as_number(&self, used: usize) -> bool {
        let after = self.rest().get(used..).unwrap_or_default();
        after.starts_with([',', '_', '\'']) || after.starts_with('.') && !after.starts_with("..")
    }

    /// The unit that comes next: letters and signs up to a space or a sign that no unit has.
    pub(super) fn unit_word(&mut self) -> (&'t str, Range<usize>) {
        let word = self.word();
        let begins = |c: char| c.is_alphabetic() || matches!(c, '%' | '°' | '\u{ba}' | '\u{2103}');
        let word = if word.starts_with(begins) || word.starts_with("1/") {
            word
        } else {
            ""
        };
        let span = self.at..self.at + word.len();
        self.at = span.end;
        (word, span)
    }

    /// The text up to the next space, sign or range mark, without taking it.
    fn word(&self) -> &'t str {
        let rest = self.rest();
        let stops = |(at, c): (usize, char)| match c {
            'A'..='Z' | 'a'..='z' | '0'..='9' => false,
            '±' | '(' | ')' => true,
            '+' => at > 0 && !after_exponent(rest, at),
            '.' => rest.get(at..).is_some_and(|rest| rest.starts_with("..")),
            _ => c.is_whitespace(),
        };
        let end = rest
            .char_indices()
            .find(|place| stops(*place))
            .map_or(rest.len(), |(at, _)| at);
        rest.get(..end).unwrap_or_default()
    }

    pub(super) fn expect_end(&mut self) -> Result<(), QuantityError> {
        self.skip_space();
        if self.is_at_end() {
            return Ok(());
        }
        let found = self.rest().trim_end_matches(is_space).to_owned();
        let span = self.at..self.at + found.len();
        Err(QuantityError::new(
            QuantityFault::TrailingText { found },
            span,
        ))
    }

    /// An error about what comes next where a tolerance goes on.
    pub(super) fn not_a_tolerance(&self) -> QuantityError {
        let found = trimmed(self.text);
        QuantityError::new(
            QuantityFault::NotATolerance {
                found: found.to_owned(),
            },
            self.at..self.text.trim_end_matches(is_space).len().max(self.at),
        )
    }
}

/// Whether the `+` at that byte is the sign of an exponent.
fn after_exponent(text: &str, at: usize) -> bool {
    let before = text
        .get(..at)
        .and_then(|before| before.strip_suffix(['e', 'E']));
    before.is_some_and(|before| before.ends_with(|c: char| c.is_ascii_digit()))
}

/// The number that was probably meant by one with a comma, with grouped digits, or with a bare
/// point.
fn meant_number(word: &str) -> Option<String> {
    let decimal = |word: &str| {
        NumberText::prefix(word)
            .filter(|(_, used)| *used == word.len())
            .map(|_| word.to_owned())
    };
    let end = word
        .find(|c: char| !(c.is_ascii_digit() || "+-.,_'".contains(c)))
        .unwrap_or(word.len());
    let (word, after) = word.split_at_checked(end)?;
    let is_cut = after
        .strip_prefix(['e', 'E'])
        .is_some_and(|power| power.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c)));
    if is_cut || !word.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    if word.matches(',').count() == 1 && !word.contains('.') && word.rsplit(',').next()?.len() != 3
    {
        return decimal(&word.replace(',', "."));
    }
    let bare = word.replace(['_', '\''], "");
    let bare = bare.strip_suffix('.').map_or(bare.clone(), str::to_owned);
    decimal(&bare).or_else(|| decimal(&format!("0{bare}")))
}
