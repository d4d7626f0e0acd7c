//! A page of text that is filled entry by entry and wrapped to a width.

use std::borrow::Cow;

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use super::harmless;
use super::style::{Role, Style};
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
        Self { role, text: text.into() }
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
        f.debug_struct("Page").field("width", &self.width).field("text", &self.text).finish_non_exhaustive()
    }
}

impl<'s> Page<'s> {
    /// An empty page of a width in columns.
    #[must_use]
    pub fn new(width: usize, style: &'s dyn Style) -> Self {
        Self { width: width.max(NARROWEST), style, text: String::new() }
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

    /// What has been written.
    #[must_use]
    pub fn finish(self) -> String {
        self.text
    }

    fn fill(&mut self, mut line: Line, hang: usize, parts: &[Part<'_>]) {
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
    fn push(&mut self, line: &Line) {
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

type Pieces = Vec<(Role, String)>;

fn push_piece(pieces: &mut Pieces, role: Role, text: &str) {
    match pieces.last_mut() {
        Some((last, kept)) if *last == role => kept.push_str(text),
        _ => pieces.push((role, text.to_owned())),
    }
}

/// A line being filled.
struct Line {
    pieces: Pieces,
    width: usize,
    /// Whether the next word starts the line's text, so that it fits in any case and needs no space before it.
    is_open: bool,
}

impl Line {
    fn at(indent: usize) -> Self {
        let mut line = Self { pieces: Vec::new(), width: 0, is_open: true };
        line.pad(indent);
        line
    }

    fn labelled(indent: usize, label: &[Part<'_>], hang: usize) -> Self {
        let mut line = Self::at(indent);
        for part in label {
            let mut shown = String::new();
            part.text.chars().for_each(|letter| harmless::push(&mut shown, letter));
            line.width += shown.width();
            push_piece(&mut line.pieces, part.role, &shown);
        }
        line.pad(hang.saturating_sub(line.width).max(1));
        line
    }

    fn pad(&mut self, columns: usize) {
        if columns > 0 {
            push_piece(&mut self.pieces, Role::Text, &" ".repeat(columns));
            self.width += columns;
        }
    }

    fn add(&mut self, word: Word) {
        if !std::mem::take(&mut self.is_open) {
            let within = self.pieces.last().zip(word.pieces.first()).is_some_and(|(last, next)| last.0 == next.0);
            let role = if within { self.pieces.last().map_or(Role::Text, |last| last.0) } else { Role::Text };
            push_piece(&mut self.pieces, role, " ");
            self.width += 1;
        }
        self.width += word.width;
        word.pieces.iter().for_each(|(role, text)| push_piece(&mut self.pieces, *role, text));
    }
}

/// Letters that stay on one line.
#[derive(Default)]
struct Word {
    pieces: Pieces,
    width: usize,
}

impl Word {
    fn push(&mut self, role: Role, letter: char) {
        let mut shown = String::new();
        harmless::push(&mut shown, if letter == HARD_SPACE { ' ' } else { letter });
        self.width += shown.chars().map(|shown| shown.width().unwrap_or(0)).sum::<usize>();
        push_piece(&mut self.pieces, role, &shown);
    }

    fn text(&self) -> String {
        self.pieces.iter().map(|(_, text)| text.as_str()).collect()
    }

    /// Adds a word behind a space that is not broken at.
    fn stick(&mut self, next: Self) {
        let role = self.pieces.last().map_or(Role::Text, |(role, _)| *role);
        push_piece(&mut self.pieces, role, " ");
        self.width += 1 + next.width;
        next.pieces.iter().for_each(|(role, text)| push_piece(&mut self.pieces, *role, text));
    }
}

fn words(parts: &[Part<'_>]) -> Vec<Word> {
    let mut words = Vec::new();
    let mut word = Word::default();
    for (role, letter) in parts.iter().flat_map(|part| part.text.chars().map(move |letter| (part.role, letter))) {
        if letter.is_whitespace() && letter != HARD_SPACE {
            words.extend((word.width > 0).then(|| std::mem::take(&mut word)));
        } else {
            word.push(role, letter);
        }
    }
    words.extend((word.width > 0).then_some(word));
    words
}

/// Joins a number to its unit and to its uncertainty.
fn stuck(words: Vec<Word>) -> Vec<Word> {
    let mut joined: Vec<Word> = Vec::with_capacity(words.len());
    let mut before = String::new();
    for word in words {
        let text = word.text();
        match joined.last_mut().filter(|_| sticks(&before, &text)) {
            Some(last) => last.stick(word),
            None => joined.push(word),
        }
        before = text;
    }
    joined
}

fn sticks(before: &str, next: &str) -> bool {
    let after_number = before.ends_with(|letter: char| letter.is_ascii_digit());
    let unit = next.trim_end_matches([',', '.', ';', ':', ')']);
    next == "±" || before == "±" || (after_number && !unit.is_empty() && Unit::parse(unit).is_some())
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
        assert_eq!(wrapped(40, &"a".repeat(40)), format!("{}\n", "a".repeat(40)));
        let (tens, filled) = ("aaaaaaaaa ".repeat(4), "aaaaaaaaa ".repeat(3));
        assert_eq!(wrapped(40, &format!("{tens}b")), format!("{tens}\nb\n").replace(" \n", "\n"));
        assert_eq!(wrapped(40, &format!("{filled}aaaaaaaaaa")), format!("{filled}aaaaaaaaaa\n"));
        assert_eq!(wrapped(40, &format!("{filled}aaaaaaaaaaa")), format!("{}\naaaaaaaaaaa\n", filled.trim()));
    }

    #[test]
    fn a_longer_word_has_a_line_of_its_own() {
        let long = "b".repeat(60);
        assert_eq!(wrapped(40, &format!("a {long} c")), format!("a\n{long}\nc\n"));
    }

    #[test]
    fn a_number_keeps_its_unit_and_its_uncertainty() {
        let before = "a".repeat(33);
        assert_eq!(wrapped(40, &format!("{before} 61 mΩ, b")), format!("{before} 61 mΩ,\nb\n"));
        assert_eq!(wrapped(40, &format!("{before} 61 mΩ ± 1 mΩ b")), format!("{before}\n61 mΩ ± 1 mΩ b\n"));
        assert_eq!(wrapped(40, &format!("{before} 61 bad cells")), format!("{before} 61 bad\ncells\n"));
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
        page.entry(2, &[Part::new(Role::Label, "Do:")], 8, &[Part::text("one two three four five six seven eight")]);
        assert_eq!(page.finish(), "  Do:   one two three four five six\n        seven eight\n");
    }

    #[test]
    fn nothing_acts_on_a_terminal() {
        assert_eq!(wrapped(40, "a\u{1b}[31m b\nc"), "a\\u{1b}[31m b c\n");
    }
}
