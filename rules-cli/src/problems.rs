//! Showing what is wrong with input: the place, what is wrong, the line with the place marked, and
//! how to mend it.

use rules_core::check::Verdict;
use rules_core::document::{Problem, Severity, acts_on_a_terminal, harmless};
use rules_core::report::text::{Role, Style};
use unicode_width::UnicodeWidthChar;

/// So many problems are shown; the rest is counted.
const MOST_SHOWN: usize = 200;
const INDENT: usize = 4;
/// Put where a line is cut.
const CUT: &str = "...";
/// A tab is shown as so many spaces.
const TAB: &str = "    ";

/// Problems as text. Where there are too many, those at a place are counted; what is said of a
/// whole file is shown all the same.
pub(crate) fn show(found: &[Problem], width: usize, style: &dyn Style) -> String {
    let (shown, rest) = found.split_at(found.len().min(MOST_SHOWN));
    let (placed, whole): (Vec<&Problem>, Vec<&Problem>) =
        rest.iter().partition(|problem| problem.place.is_some());
    let mut text: String = shown
        .iter()
        .map(|problem| one(problem, width, style))
        .collect();
    match placed.len() {
        0 => {}
        1 => text += "and 1 more problem\n",
        count => text += &format!("and {count} more problems\n"),
    }
    text + &whole
        .iter()
        .map(|problem| one(problem, width, style))
        .collect::<String>()
}

fn one(problem: &Problem, width: usize, style: &dyn Style) -> String {
    let (word, role) = match problem.severity {
        Severity::Error => ("error", Role::Verdict(Verdict::Refuse)),
        Severity::Advice => ("advice", Role::Verdict(Verdict::Warn)),
    };
    let place = problem
        .place
        .as_ref()
        .map(|place| format!("{place}: "))
        .unwrap_or_default();
    let mut text = format!(
        "{}{} {}\n",
        dressed(&harmless(&place), Role::Heading, style),
        dressed(&format!("{word}:"), role, style),
        harmless(&problem.message)
    );
    if let Some((line, marks)) = marked(problem, width.saturating_sub(INDENT)) {
        text += &format!(
            "{:INDENT$}{line}\n{:INDENT$}{}\n",
            "",
            "",
            dressed(&marks, role, style)
        );
    }
    if let Some(help) = &problem.help {
        text += &format!(
            "{:INDENT$}{} {}\n",
            "",
            dressed("help:", Role::Label, style),
            harmless(help)
        );
    }
    text
}

fn dressed(text: &str, role: Role, style: &dyn Style) -> String {
    let (before, after) = style.around(role);
    if text.is_empty() {
        String::new()
    } else {
        format!("{before}{text}{after}")
    }
}

/// A letter of a line as it is shown.
struct Cell {
    shown: String,
    width: usize,
    meant: bool,
}

/// The line with carets under the place, cut to the room there is.
fn marked(problem: &Problem, room: usize) -> Option<(String, String)> {
    let start = problem
        .place
        .as_ref()?
        .column
        .saturating_sub(problem.line_column);
    if problem.line.trim().is_empty() {
        return None;
    }
    let (cells, cut_before, cut_after) = window(problem, start, room);
    let before: usize = cells
        .iter()
        .take_while(|cell| !cell.meant)
        .map(|cell| cell.width)
        .sum();
    let meant: usize = cells
        .iter()
        .filter(|cell| cell.meant)
        .map(|cell| cell.width)
        .sum();
    let lead = if cut_before { CUT } else { "" };
    let tail = if cut_after { CUT } else { "" };
    let line: String = cells.iter().map(|cell| cell.shown.as_str()).collect();
    let marks = format!(
        "{}{}",
        " ".repeat(lead.len() + before),
        "^".repeat(meant.max(1))
    );
    Some((format!("{lead}{}{tail}", line.trim_end()), marks))
}

/// The letters round the place that fit, and whether some are left out before and after them.
/// Indentation is left out silently.
fn window(problem: &Problem, start: usize, room: usize) -> (Vec<Cell>, bool, bool) {
    let indent = problem
        .line
        .chars()
        .take(start)
        .take_while(|letter| letter.is_whitespace())
        .count();
    let room = room.saturating_sub(2 * CUT.len());
    let fits = problem.line.chars().skip(indent).take(room + 1).count() <= room;
    // Where not all of it fits, a third of the room is for what stands before the place.
    let from = if fits {
        indent
    } else {
        indent.max(start.saturating_sub(room / 3))
    };
    let mut cells = Vec::new();
    let mut used = 0;
    let mut cut_after = false;
    for (at, letter) in problem.line.chars().enumerate().skip(from) {
        let cell = cell(letter, (start..start + problem.width).contains(&at));
        if used + cell.width > room {
            cut_after = true;
            break;
        }
        used += cell.width;
        cells.push(cell);
    }
    (cells, from > indent || problem.line_column > 1, cut_after)
}

fn cell(letter: char, meant: bool) -> Cell {
    let shown = match letter {
        '\t' => TAB.to_owned(),
        letter if acts_on_a_terminal(letter) => {
            harmless(letter.encode_utf8(&mut [0; 4])).into_owned()
        }
        letter => letter.to_string(),
    };
    let width = if shown.len() > 1 && shown.is_ascii() {
        shown.len()
    } else {
        letter.width().unwrap_or(0)
    };
    Cell {
        shown,
        width,
        meant,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rules_core::document::{Fault, Source, Span};
    use rules_core::report::text::Plain;

    /// A problem at the first `meant` of a line, shown.
    fn shown(line: &str, meant: &str, width: usize) -> String {
        let start = line.find(meant).expect("the place");
        let source = Source::new("a.yaml", line.to_owned());
        let problem = Problem::at(
            &source,
            Fault::Syntax,
            Span {
                start,
                end: start + meant.len(),
            },
            "wrong",
            "mend it",
        );
        show(&[problem], width, &Plain)
    }

    #[test]
    fn the_place_is_marked() {
        assert_eq!(
            shown("  a: 3.87", "3.87", 80),
            "a.yaml:1:6: error: wrong\n    a: 3.87\n       ^^^^\n    help: mend it\n"
        );
    }

    #[test]
    fn wide_letters_tabs_and_marks_line_up() {
        assert_eq!(
            shown("電池: x", "x", 80),
            "a.yaml:1:5: error: wrong\n    電池: x\n          ^\n    help: mend it\n"
        );
        assert_eq!(
            shown("a:\tx", "x", 80),
            "a.yaml:1:4: error: wrong\n    a:    x\n          ^\n    help: mend it\n"
        );
        assert_eq!(
            shown("é e\u{301} x", "x", 80),
            "a.yaml:1:6: error: wrong\n    é e\u{301} x\n        ^\n    help: mend it\n"
        );
    }

    #[test]
    fn nothing_acts_on_a_terminal() {
        assert_eq!(
            shown("a\u{1b}[2Jx", "x", 80),
            "a.yaml:1:6: error: wrong\n    a\\u{1b}[2Jx\n              ^\n    help: mend it\n"
        );
    }

    #[test]
    fn a_long_line_is_cut_round_the_place() {
        let line = format!("{}x{}", "a".repeat(500), "b".repeat(500));
        let text = shown(&line, "x", 50);
        assert_eq!(
            text.lines().nth(1),
            Some("    ...aaaaaaaaaaaaaxbbbbbbbbbbbbbbbbbbbbbbbbbb...")
        );
        assert_eq!(text.lines().nth(2), Some("                    ^"));
        let wide = shown(&line, &line, 50);
        assert_eq!(
            wide.lines().nth(2),
            Some(format!("    {}", "^".repeat(40)).as_str())
        );
    }

    #[test]
    fn a_line_that_just_fits_is_not_cut() {
        let line = format!("{}x", "a".repeat(39));
        assert!(!shown(&line, "x", 50).contains("..."));
        assert!(shown(&format!("a{line}"), "x", 50).contains("..."));
    }

    #[test]
    fn many_problems_are_counted() {
        let source = Source::new("a.yaml", "x".to_owned());
        let placed = Problem::at(
            &source,
            Fault::Syntax,
            Span { start: 0, end: 1 },
            "wrong",
            "",
        );
        let many = |count: usize| vec![placed.clone(); count];
        assert!(!show(&many(200), 80, &Plain).contains("more problem"));
        assert!(show(&many(201), 80, &Plain).ends_with("    ^\nand 1 more problem\n"));
        let mut all = many(202);
        all.push(Problem::of_file(Fault::TooLarge, "`a.yaml` has more", ""));
        assert!(
            show(&all, 80, &Plain)
                .ends_with("    ^\nand 2 more problems\nerror: `a.yaml` has more\n")
        );
    }
}
