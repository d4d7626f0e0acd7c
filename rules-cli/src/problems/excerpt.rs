//! The line that a problem is in, cut to the room there is, with marks under the place.

use rules_core::document::{Problem, acts_on_a_terminal, harmless};
use unicode_width::UnicodeWidthChar;

/// Shown where a line is cut.
const CUT: &str = "...";
/// Shown for a tab.
const TAB: &str = "    ";

/// A line and the marks to be put under it.
pub(super) struct Excerpt {
    pub(super) line: String,
    pub(super) marks: String,
}

/// The letters of a line that fit into the room.
struct Fitting {
    letters: Vec<Letter>,
    cut_before: bool,
    cut_after: bool,
}

/// A letter as it is shown.
struct Letter {
    shown: String,
    width: usize,
    /// Whether it is at the place of the problem.
    marked: bool,
}

/// The line of a problem, if it has one, with carets under the place.
pub(super) fn excerpt(problem: &Problem, room: usize) -> Option<Excerpt> {
    let column = problem.place.as_ref()?.column;
    if problem.line.trim().is_empty() {
        return None;
    }
    let fitting = fitting(problem, column.saturating_sub(problem.line_column), room);
    let lead = if fitting.cut_before { CUT } else { "" };
    let tail = if fitting.cut_after { CUT } else { "" };
    let letters = fitting.letters.iter();
    let line: String = letters.map(|letter| letter.shown.as_str()).collect();
    Some(Excerpt {
        line: format!("{lead}{}{tail}", line.trim_end()),
        marks: marks(&fitting.letters, lead.len()),
    })
}

/// At least one caret, also where nothing is at the place.
fn marks(letters: &[Letter], lead: usize) -> String {
    let before = letters.iter().take_while(|letter| !letter.marked);
    let before: usize = before.map(|letter| letter.width).sum();
    let under = letters.iter().filter(|letter| letter.marked);
    let under: usize = under.map(|letter| letter.width).sum();
    format!("{}{}", " ".repeat(lead + before), "^".repeat(under.max(1)))
}

/// The letters around the place that fit. Indentation is left out, which is no cut.
fn fitting(problem: &Problem, start: usize, room: usize) -> Fitting {
    let before = problem.line.chars().take(start);
    let indent = before.take_while(|letter| letter.is_whitespace()).count();
    let room = room.saturating_sub(2 * CUT.len());
    let first = first_shown(problem, start, indent, room);
    let mut fitting = Fitting {
        letters: Vec::new(),
        cut_before: first > indent || problem.line_column > 1,
        cut_after: false,
    };
    let mut used = 0;
    for (at, letter) in problem.line.chars().enumerate().skip(first) {
        let marked = (start..start + problem.width).contains(&at);
        let letter = Letter::of(letter, marked);
        if used + letter.width > room {
            fitting.cut_after = true;
            break;
        }
        used += letter.width;
        fitting.letters.push(letter);
    }
    fitting
}

/// Where the excerpt starts: after the indentation, if everything fits. Otherwise a third of the
/// room is for what is before the place.
fn first_shown(problem: &Problem, start: usize, indent: usize, room: usize) -> usize {
    let fits = problem.line.chars().skip(indent).take(room + 1).count() <= room;
    if fits {
        indent
    } else {
        indent.max(start.saturating_sub(room / 3))
    }
}

impl Letter {
    fn of(letter: char, marked: bool) -> Self {
        let shown = match letter {
            '\t' => TAB.to_owned(),
            letter if acts_on_a_terminal(letter) => {
                harmless(letter.encode_utf8(&mut [0; 4])).into_owned()
            }
            letter => letter.to_string(),
        };
        // A letter that was replaced is several of ASCII.
        let width = if shown.len() > 1 && shown.is_ascii() {
            shown.len()
        } else {
            letter.width().unwrap_or(0)
        };
        Self {
            shown,
            width,
            marked,
        }
    }
}
