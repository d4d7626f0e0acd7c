//! Problems as text: the place, what is wrong, the line with the place marked, and how to correct
//! it.

mod excerpt;

use rules_core::check::Verdict;
use rules_core::document::{Problem, Severity, harmless};
use rules_core::report::text::{Role, Style};

use self::excerpt::excerpt;

/// The most problems that are shown. The others are counted.
const MOST_SHOWN: usize = 200;
const INDENT: usize = 4;

/// Problems as text. If there are too many, those with a place are counted; one about a whole file
/// is always shown.
pub(crate) fn problems_as_text(problems: &[Problem], width: usize, style: &dyn Style) -> String {
    let (shown, others) = problems.split_at(problems.len().min(MOST_SHOWN));
    let (placed, of_files): (Vec<&Problem>, Vec<&Problem>) =
        others.iter().partition(|problem| problem.place.is_some());
    let text = |problem: &Problem| problem_as_text(problem, width, style);
    let mut all: String = shown.iter().map(text).collect();
    match placed.len() {
        0 => {}
        1 => all += "and 1 more problem\n",
        count => all += &format!("and {count} more problems\n"),
    }
    all.extend(of_files.into_iter().map(text));
    all
}

fn problem_as_text(problem: &Problem, width: usize, style: &dyn Style) -> String {
    let (word, role) = match problem.severity {
        Severity::Error => ("error:", Role::Verdict(Verdict::Refuse)),
        Severity::Advice => ("advice:", Role::Verdict(Verdict::Warn)),
    };
    let place = problem.place.as_ref();
    let place = place.map(|place| format!("{place}: ")).unwrap_or_default();
    let mut text = format!(
        "{}{} {}\n",
        styled(&harmless(&place), Role::Heading, style),
        styled(word, role, style),
        harmless(&problem.message)
    );
    if let Some(excerpt) = excerpt(problem, width.saturating_sub(INDENT)) {
        let marks = styled(&excerpt.marks, role, style);
        text += &indented(&excerpt.line);
        text += &indented(&marks);
    }
    if let Some(help) = &problem.help {
        let label = styled("help:", Role::Label, style);
        text += &indented(&format!("{label} {}", harmless(help)));
    }
    text
}

fn indented(line: &str) -> String {
    format!("{:INDENT$}{line}\n", "")
}

fn styled(text: &str, role: Role, style: &dyn Style) -> String {
    let (before, after) = style.around(role);
    if text.is_empty() {
        String::new()
    } else {
        format!("{before}{text}{after}")
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
            "correct it",
        );
        problems_as_text(&[problem], width, &Plain)
    }

    #[test]
    fn the_place_is_marked() {
        assert_eq!(
            shown("  a: 3.87", "3.87", 80),
            "a.yaml:1:6: error: wrong\n    a: 3.87\n       ^^^^\n    help: correct it\n"
        );
    }

    #[test]
    fn wide_letters_tabs_and_marks_line_up() {
        assert_eq!(
            shown("電池: x", "x", 80),
            "a.yaml:1:5: error: wrong\n    電池: x\n          ^\n    help: correct it\n"
        );
        assert_eq!(
            shown("a:\tx", "x", 80),
            "a.yaml:1:4: error: wrong\n    a:    x\n          ^\n    help: correct it\n"
        );
        assert_eq!(
            shown("é e\u{301} x", "x", 80),
            "a.yaml:1:6: error: wrong\n    é e\u{301} x\n        ^\n    help: correct it\n"
        );
    }

    #[test]
    fn nothing_acts_on_a_terminal() {
        assert_eq!(
            shown("a\u{1b}[2Jx", "x", 80),
            "a.yaml:1:6: error: wrong\n    a\\u{1b}[2Jx\n              ^\n    help: correct it\n"
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
        assert!(!problems_as_text(&many(200), 80, &Plain).contains("more problem"));
        assert!(problems_as_text(&many(201), 80, &Plain).ends_with("    ^\nand 1 more problem\n"));
        let mut all = many(202);
        all.push(Problem::of_file(Fault::TooLarge, "`a.yaml` has more", ""));
        assert!(
            problems_as_text(&all, 80, &Plain)
                .ends_with("    ^\nand 2 more problems\nerror: `a.yaml` has more\n")
        );
    }
}
