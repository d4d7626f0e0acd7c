//! The comparisons that decided, with their numbers.

use super::group::{Group, subjects};
use super::page::{Page, Part};
use super::style::Role;
use crate::check::{ClauseReport, Margin, Report, ReportedNumber, Subject};
use crate::formula::Truth;
use crate::report::significant;

/// So many subjects are listed under one comparison; the rest is counted.
const MOST_ROWS: usize = 12;

/// A comparison as written, and what it came to for each subject it decided for.
struct Compared<'r> {
    clause: &'r ClauseReport,
    rows: Vec<(&'r Subject, &'r ClauseReport)>,
}

/// Writes the comparisons of a group: each once, with the numbers of its subjects.
pub(super) fn write(
    group: &Group<'_>,
    report: &Report,
    indent: usize,
    hang: usize,
    page: &mut Page<'_>,
) {
    let mut before = "";
    for compared in compared(group) {
        let clause = compared.clause;
        let text = as_written(clause, report);
        let state = state(clause.truth);
        let label = if state == before { "" } else { state };
        page.entry(
            indent,
            &[Part::new(Role::Label, label)],
            hang,
            &[Part::text(text)],
        );
        compared.rows(group.len(), hang + 2, page);
        before = state;
    }
}

fn compared<'r>(group: &Group<'r>) -> Vec<Compared<'r>> {
    let mut all: Vec<Compared<'r>> = Vec::new();
    for finding in group.findings() {
        for clause in &finding.clauses {
            let row = (&finding.subject, clause);
            let same = |one: &ClauseReport| {
                (&one.text, one.truth, one.of_condition)
                    == (&clause.text, clause.truth, clause.of_condition)
            };
            match all.iter_mut().find(|known| same(known.clause)) {
                Some(known) => known.rows.push(row),
                None => all.push(Compared {
                    clause,
                    rows: vec![row],
                }),
            }
        }
    }
    all
}

impl Compared<'_> {
    /// The numbers: once if they are the same for the whole group, else for each subject.
    fn rows(&self, group: usize, hang: usize, page: &mut Page<'_>) {
        let numbers = numbers(self.clause);
        let alike = self
            .rows
            .iter()
            .all(|(_, clause)| self::numbers(clause) == numbers);
        if !alike {
            return self.each(hang, page);
        }
        if self.rows.len() == group {
            return page.paragraph(hang, &[Part::text(numbers.unwrap_or_default())]);
        }
        let numbers = numbers
            .map(|numbers| format!(": {numbers}"))
            .unwrap_or_default();
        let subjects = subjects(self.rows.iter().map(|(subject, _)| *subject));
        page.paragraph(hang, &[Part::text(format!("{subjects}{numbers}"))]);
    }

    fn each(&self, hang: usize, page: &mut Page<'_>) {
        for (subject, clause) in self.rows.iter().take(MOST_ROWS) {
            let numbers = numbers(clause).unwrap_or_else(|| "no number".to_owned());
            page.item(
                hang,
                hang + 2,
                &[Part::text(format!(
                    "{}: {numbers}",
                    subjects(std::iter::once(*subject))
                ))],
            );
        }
        if let count @ 1.. = self.rows.len().saturating_sub(MOST_ROWS) {
            page.paragraph(hang, &[Part::text(format!("and {count} more"))]);
        }
    }
}

/// A comparison of a finding, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct ClauseSaid {
    /// What it came to: `Not met`.
    pub state: &'static str,
    /// As written, with the limits that take part in it.
    pub text: String,
    /// Both sides, and by how much it is met.
    pub numbers: Option<String>,
}

impl ClauseSaid {
    pub(super) fn of(clause: &ClauseReport, report: &Report) -> Self {
        Self {
            state: state(clause.truth).trim_end_matches(':'),
            text: as_written(clause, report),
            numbers: numbers(clause),
        }
    }
}

/// A clause as written, with what it is and the limits beside it.
fn as_written(clause: &ClauseReport, report: &Report) -> String {
    let condition = match clause.of_condition {
        true => " (whether the caution applies)",
        false => "",
    };
    format!("{}{condition}{}", clause.text, beside(clause, report))
}

/// What a clause came to. One that holds is listed only where it must not, under a `not`.
const fn state(truth: Truth) -> &'static str {
    match truth {
        Truth::No => "Not met:",
        Truth::Yes => "Must not be:",
        Truth::Doubt | Truth::DoubtOfYes | Truth::DoubtOfNo => "In doubt:",
        Truth::Unmeasured => "Unmeasured:",
    }
}

/// The limits that take part without being a whole side, with their values.
fn beside(clause: &ClauseReport, report: &Report) -> String {
    let whole: Vec<&str> = clause
        .left
        .iter()
        .chain(&clause.right)
        .filter_map(|side| side.limit.as_deref())
        .collect();
    let others = clause
        .limits
        .iter()
        .filter(|name| !whole.contains(&&***name));
    let shown = others.filter_map(|name| {
        Some(format!(
            "limit.{name} is {}",
            report.limits.get(name)?.value
        ))
    });
    let shown: Vec<String> = shown.collect();
    if shown.is_empty() {
        String::new()
    } else {
        format!(" ({})", shown.join(", "))
    }
}

/// `61 mΩ ± 1 mΩ against limit.x 80 mΩ, margin +18 mΩ (+23 %)`.
fn numbers(clause: &ClauseReport) -> Option<String> {
    let (left, right) = clause.left.as_ref().zip(clause.right.as_ref())?;
    let margin = clause
        .margin
        .as_ref()
        .map(|margin| format!(", {}", margin_in_words(margin)))
        .unwrap_or_default();
    Some(format!("{} against {}{margin}", side(left), side(right)))
}

fn side(side: &ReportedNumber) -> String {
    let limit = side
        .limit
        .as_ref()
        .map(|name| format!("limit.{name} "))
        .unwrap_or_default();
    let value = if side.number.missing {
        "an unknown value".to_owned()
    } else {
        side.to_string()
    };
    format!("{limit}{value}")
}

fn margin_in_words(margin: &Margin) -> String {
    let percent = margin
        .percent
        .map(|percent| format!(" ({}\u{a0}%)", signed(percent)))
        .unwrap_or_default();
    // Per cent of per cent would be read as the same.
    let text = margin.to_string();
    let amount = text.strip_suffix('%').map_or_else(
        || text.clone(),
        |number| format!("{number}percentage points"),
    );
    format!("margin\u{a0}{amount}{percent}")
}

/// Per cent with its sign, to three digits at most and one place after the point at the least
/// distance; from a million on, as a power of ten.
fn signed(percent: f64) -> String {
    // The last bits of a double must not decide a tie.
    let percent = significant(percent, 9);
    let text = match percent.abs() {
        size if size >= 1e6 => format!("{:+e}", significant(percent, 3)),
        size if size >= 100.0 => format!("{percent:+.0}"),
        size if size >= 10.0 => format!("{percent:+.1}"),
        _ => format!("{percent:+.2}"),
    };
    if text.trim_start_matches(['+', '-', '0', '.']).is_empty() {
        "0".to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn per_cent_is_signed_and_short() {
        let cases = [
            (-1.035_615_05, "-1.04"),
            (22.5, "+22.5"),
            (-64.0, "-64.0"),
            (-150.35, "-150"),
            (0.0, "0"),
            (-0.001, "0"),
            (9.999, "+10.00"),
            (-999_999.4, "-999999"),
            (-1_234_567.0, "-1.23e6"),
            (4.27e302, "+4.27e302"),
        ];
        for (percent, text) in cases {
            assert_eq!(signed(percent), text);
        }
    }
}
