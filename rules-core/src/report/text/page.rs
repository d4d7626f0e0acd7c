//! A page of text that is filled entry by entry and wrapped to a width.

use std::borrow::Cow;

use unicode_width::UnicodeWidthStr;

use super::style::{Role, Style};
use crate::document::harmless;
use crate::quantity::Unit;

/// Narrower pages are made this wide.
const NARROWEST: usize = 40;

/// A space that a line is not broken at.
const HARD_SPACE: char = '\u{a0}';

/// A stretch of text with its role.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part<'t> {
    role: Role,
    text: Cow<'t, str>,
}

impl<'t> Part<'t> {
    /// Text of a role.
    pub fn new(role: Role, text: impl Into<Cow<'t, str>>) -> Self {
        Self {
            role,
            text: text.into(),
        }
    }

    /// Running text.
    pub fn text(text: impl Into<Cow<'t, str>>) -> Self {
        Self::new(Role::Text, text)
    }
}

/// A page being filled.
#[derive(Clone)]
pub struct Page<'s> {
    width: usize,
    style: &'s dyn Style,
    text: String,
}

impl std::fmt::Debug for Page<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Page")
            .field("width", &self.width)
            .field("text", &self.text)
            .finish_non_exhaustive()
    }
}

impl<'s> Page<'s> {
    /// An empty page of a width in columns.
    #[must_use]
    pub fn new(width: usize, style: &'s dyn Style) -> Self {
        Self {
            width: width.max(NARROWEST),
            style,
            text: String::new(),
        }
    }

    /// An empty line, unless the page is empty.
    pub fn gap(&mut self) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
    }

    /// A paragraph whose lines all start at a column.
    pub fn paragraph(&mut self, indent: usize, parts: &[Part<'_>]) {
        self.item(indent, indent, parts);
    }

    /// A paragraph whose first line starts at one column and all others at another.
    pub fn item(&mut self, indent: usize, hang: usize, parts: &[Part<'_>]) {
        self.fill(Line::at(indent), hang, parts);
    }

    /// A paragraph with a label before it. The label starts at one column, the text at another.
    pub fn entry(&mut self, indent: usize, label: &[Part<'_>], hang: usize, parts: &[Part<'_>]) {
        self.fill(Line::labelled(indent, label, hang), hang, parts);
    }

    /// How many lines have been written.
    pub(super) fn lines(&self) -> usize {
        self.text.lines().count()
    }

    /// What another page of the same width and style holds.
    pub(super) fn append(&mut self, text: &str) {
        self.text.push_str(text);
    }

    /// What has been written.
    #[must_use]
    pub fn finish(self) -> String {
        self.text
    }

    fn fill<'t>(&mut self, mut line: Line<'t>, hang: usize, parts: &'t [Part<'t>]) {
        for word in stuck(words(parts)) {
            if !line.is_open && line.width + 1 + word.width > self.width {
                self.push(&line);
                line = Line::at(hang);
            }
            line.add(word);
        }
        self.push(&line);
    }

    /// Writes a line, unless there is nothing in it.
    fn push(&mut self, line: &Line<'_>) {
        if line.pieces.iter().all(|(_, text)| text.trim().is_empty()) {
            return;
        }
        for (role, text) in &line.pieces {
            let (before, after) = self.style.around(*role);
            self.text.push_str(before);
            self.text.push_str(text);
            self.text.push_str(after);
        }
        while self.text.ends_with(' ') {
            self.text.pop();
        }
        self.text.push('\n');
    }
}

type Pieces<'t> = Vec<(Role, Cow<'t, str>)>;

fn push_piece<'t>(pieces: &mut Pieces<'t>, role: Role, text: impl Into<Cow<'t, str>>) {
    match pieces.last_mut() {
        Some((last, kept)) if *last == role => *kept += text.into(),
        _ => pieces.push((role, text.into())),
    }
}

/// A line being filled.
struct Line<'t> {
    pieces: Pieces<'t>,
    width: usize,
    /// Whether the next word starts the line's text, so that it fits in any case and needs no space
    /// before it.
    is_open: bool,
}

impl<'t> Line<'t> {
    fn at(indent: usize) -> Self {
        let mut line = Self {
            pieces: Vec::new(),
            width: 0,
            is_open: true,
        };
        line.pad(indent);
        line
    }

    fn labelled(indent: usize, label: &'t [Part<'t>], hang: usize) -> Self {
        let mut line = Self::at(indent);
        for part in label {
            let shown = harmless(&part.text);
            line.width += shown.width();
            push_piece(&mut line.pieces, part.role, shown);
        }
        line.pad(hang.saturating_sub(line.width).max(1));
        line
    }

    fn pad(&mut self, columns: usize) {
        if columns > 0 {
            push_piece(&mut self.pieces, Role::Text, " ".repeat(columns));
            self.width += columns;
        }
    }

    fn add(&mut self, word: Word<'t>) {
        if !std::mem::take(&mut self.is_open) {
            let last = self.pieces.last().map(|(role, _)| *role);
            let role =
                last.filter(|role| word.pieces.first().is_some_and(|(next, _)| next == role));
            push_piece(&mut self.pieces, role.unwrap_or(Role::Text), " ");
            self.width += 1;
        }
        self.width += word.width;
        word.pieces
            .into_iter()
            .for_each(|(role, text)| push_piece(&mut self.pieces, role, text));
    }
}

/// Letters that stay on one line.
#[derive(Default)]
struct Word<'t> {
    pieces: Pieces<'t>,
    width: usize,
}

impl<'t> Word<'t> {
    fn push(&mut self, role: Role, letters: &'t str) {
        let mut shown = harmless(letters);
        if shown.contains(HARD_SPACE) {
            shown = Cow::Owned(shown.replace(HARD_SPACE, " "));
        }
        self.width += if shown.is_ascii() {
            shown.len()
        } else {
            shown.width()
        };
        push_piece(&mut self.pieces, role, shown);
    }

    /// Adds a word behind a space that is not broken at.
    fn stick(&mut self, next: Self) {
        let role = self.pieces.last().map_or(Role::Text, |(role, _)| *role);
        push_piece(&mut self.pieces, role, " ");
        self.width += 1 + next.width;
        next.pieces
            .into_iter()
            .for_each(|(role, text)| push_piece(&mut self.pieces, role, text));
    }

    /// Whether a word stays with this one: a unit with its number, an uncertainty with its value.
    fn keeps(&self, next: &Self) -> bool {
        let (Some((_, before)), Some((_, after))) = (self.pieces.last(), next.pieces.first())
        else {
            return false;
        };
        let after_number = before.ends_with(|letter: char| letter.is_ascii_digit());
        after == "±" || before.ends_with('±') || (after_number && is_unit(after))
    }
}

fn is_unit(word: &str) -> bool {
    let unit = word.trim_end_matches([',', '.', ';', ':', ')']);
    !unit.is_empty() && Unit::parse(unit).is_some()
}

fn words<'t>(parts: &'t [Part<'t>]) -> Vec<Word<'t>> {
    let mut words = Vec::new();
    let mut word = Word::default();
    for part in parts {
        for (at, letters) in part
            .text
            .split(|letter: char| letter.is_whitespace() && letter != HARD_SPACE)
            .enumerate()
        {
            if at > 0 && word.width > 0 {
                words.push(std::mem::take(&mut word));
            }
            if !letters.is_empty() {
                word.push(part.role, letters);
            }
        }
    }
    words.extend((word.width > 0).then_some(word));
    words
}

/// Joins the words that stay together.
fn stuck(words: Vec<Word<'_>>) -> Vec<Word<'_>> {
    let mut joined: Vec<Word<'_>> = Vec::with_capacity(words.len());
    for word in words {
        match joined.last_mut() {
            Some(last) if last.keeps(&word) => last.stick(word),
            _ => joined.push(word),
        }
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::text::Plain;

    fn wrapped(width: usize, text: &str) -> String {
        let mut page = Page::new(width, &Plain);
        page.paragraph(0, &[Part::text(text)]);
        page.finish()
    }

    #[test]
    fn lines_are_filled_up_to_the_width() {
        assert_eq!(
            wrapped(40, &"a".repeat(40)),
            format!("{}\n", "a".repeat(40))
        );
        let (tens, filled) = ("aaaaaaaaa ".repeat(4), "aaaaaaaaa ".repeat(3));
        assert_eq!(
            wrapped(40, &format!("{tens}b")),
            format!("{tens}\nb\n").replace(" \n", "\n")
        );
        assert_eq!(
            wrapped(40, &format!("{filled}aaaaaaaaaa")),
            format!("{filled}aaaaaaaaaa\n")
        );
        assert_eq!(
            wrapped(40, &format!("{filled}aaaaaaaaaaa")),
            format!("{}\naaaaaaaaaaa\n", filled.trim())
        );
    }

    #[test]
    fn a_longer_word_has_a_line_of_its_own() {
        let long = "b".repeat(60);
        assert_eq!(
            wrapped(40, &format!("a {long} c")),
            format!("a\n{long}\nc\n")
        );
    }

    #[test]
    fn a_number_keeps_its_unit_and_its_uncertainty() {
        let before = "a".repeat(33);
        assert_eq!(
            wrapped(40, &format!("{before} 61 mΩ, b")),
            format!("{before} 61 mΩ,\nb\n")
        );
        assert_eq!(
            wrapped(40, &format!("{before} 61 mΩ ± 1 mΩ b")),
            format!("{before}\n61 mΩ ± 1 mΩ b\n")
        );
        assert_eq!(
            wrapped(40, &format!("{before} 61 bad wires")),
            format!("{before} 61 bad\nwires\n")
        );
    }

    #[test]
    fn wide_letters_take_two_columns() {
        let wide = "電".repeat(19);
        assert_eq!(wrapped(40, &format!("{wide} b")), format!("{wide} b\n"));
        assert_eq!(wrapped(40, &format!("{wide} bb")), format!("{wide}\nbb\n"));
    }

    #[test]
    fn entries_hang() {
        let mut page = Page::new(40, &Plain);
        page.entry(
            2,
            &[Part::new(Role::Label, "Do:")],
            8,
            &[Part::text("one two three four five six seven eight")],
        );
        assert_eq!(
            page.finish(),
            "  Do:   one two three four five six\n        seven eight\n"
        );
    }

    #[test]
    fn nothing_acts_on_a_terminal() {
        assert_eq!(wrapped(40, "a\u{1b}[31m b\nc"), "a\\u{1b}[31m b c\n");
    }
}
