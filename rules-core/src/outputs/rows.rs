//! A table of CSV (RFC 4180, with the line feed alone at the end of a line): a row for each verdict,
//! finding, problem and point of the notice, and for what weakens a check.
//!
//! Spreadsheets take a field that begins with `=`, `+`, `-` or `@` for a formula and run it. Such a field
//! has an apostrophe before it, which they take for "this is text".

use super::of_ruleset::OfRuleset;
use super::said;
use crate::check::{Finding, Report};
use crate::document::{Place, Problem, Severity, harmless};
use crate::facts::Notice;
use crate::report::text::remedy;

const HEADINGS: [&str; 16] = [
    "row", "document", "level", "best", "worst", "status", "stage", "id", "title", "subject",
    "says", "remedy", "missing", "file", "line", "column",
];

/// A row, with nothing where it says nothing.
#[derive(Default)]
struct Row<'a> {
    row: &'a str,
    document: &'a str,
    level: &'a str,
    best: &'a str,
    worst: &'a str,
    status: &'a str,
    stage: &'a str,
    id: &'a str,
    title: &'a str,
    subject: String,
    says: String,
    remedy: String,
    missing: String,
    place: Option<&'a Place>,
}

impl Row<'_> {
    fn written(&self) -> String {
        let (line, column) = match self.place {
            Some(place) => (place.line.to_string(), place.column.to_string()),
            None => (String::new(), String::new()),
        };
        let file = self.place.map(|place| &*place.file).unwrap_or_default();
        written(&[
            self.row,
            self.document,
            self.level,
            self.best,
            self.worst,
            self.status,
            self.stage,
            self.id,
            self.title,
            &self.subject,
            &self.says,
            &self.remedy,
            &self.missing,
            file,
            &line,
            &column,
        ])
    }
}

/// Fields as a row. Writing into memory cannot fail.
fn written(fields: &[&str; HEADINGS.len()]) -> String {
    let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
    let _ = writer.write_record(fields.map(field));
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

/// A field that no spreadsheet takes for a formula, and in which nothing acts. It keeps its lines.
fn field(text: &str) -> String {
    let lines = text.split('\n').map(harmless).collect::<Vec<_>>();
    let text = lines.join("\n");
    match text.starts_with(['=', '+', '-', '@']) {
        true => format!("'{text}"),
        false => text,
    }
}

/// The names of the columns.
pub(super) fn headings() -> String {
    written(&HEADINGS)
}

/// The verdict of a report and its findings.
pub(super) fn of_report(report: &Report) -> String {
    let outcome = report.gravest();
    let asked: Vec<&str> = report.asked().collect();
    let verdict = Row {
        row: "verdict",
        document: &report.proposal,
        level: outcome.verdict.word(),
        best: outcome.best.word(),
        worst: outcome.worst.word(),
        stage: &asked.join(", "),
        title: &report.title,
        says: match outcome.nothing_checked {
            true => "nothing was surely checked".to_owned(),
            false => String::new(),
        },
        ..Row::default()
    };
    let findings = report.findings.iter();
    let findings = findings.map(|finding| of_finding(finding, report).written());
    let findings: String = findings.collect();
    verdict.written() + &in_the_open(report) + &findings
}

/// What weakens the check.
fn in_the_open(report: &Report) -> String {
    let rows = said::in_the_open(report).into_iter().map(|one| {
        let row = Row {
            row: "loosened",
            document: &report.proposal,
            id: &one.of,
            title: &one.title,
            says: one.says,
            ..Row::default()
        };
        row.written()
    });
    rows.collect()
}

fn of_finding<'a>(finding: &'a Finding, report: &'a Report) -> Row<'a> {
    let missing: Vec<String> = said::missing(finding, report).collect();
    Row {
        row: "finding",
        document: &report.proposal,
        level: finding.verdict.word(),
        best: finding.best.word(),
        worst: finding.worst.word(),
        status: finding.status.words(),
        stage: finding.stage.as_deref().unwrap_or_default(),
        id: &finding.caution,
        title: &finding.title,
        subject: finding.subject.to_string(),
        says: said::why(finding, report),
        remedy: remedy(finding).unwrap_or_default(),
        missing: missing.join(", "),
        place: said::place(finding),
    }
}

/// What is wrong with what cannot be used.
pub(super) fn of_unusable(name: &str, problems: &[Problem]) -> String {
    let rows = problems.iter().map(|problem| of_problem(name, problem));
    rows.map(|row| row.written()).collect()
}

/// What was found in a ruleset.
pub(super) fn of_ruleset(found: OfRuleset<'_>) -> String {
    let to_correct = found.to_correct();
    let to_correct = to_correct.map(|problem| of_problem(found.ruleset, problem));
    let looks = found.worth_a_look.iter().map(|problem| Row {
        level: "note",
        ..of_problem(found.ruleset, problem)
    });
    to_correct.chain(looks).map(|row| row.written()).collect()
}

fn of_problem<'a>(name: &'a str, problem: &'a Problem) -> Row<'a> {
    Row {
        row: "problem",
        document: name,
        level: match problem.severity {
            Severity::Error => "error",
            Severity::Advice => "advice",
        },
        id: problem.fault.code(),
        says: problem.message.clone(),
        remedy: problem.help.clone().unwrap_or_default(),
        place: problem.place.as_ref(),
        ..Row::default()
    }
}

/// The notice.
pub(super) fn notice(notice: &[Notice]) -> String {
    let rows = notice.iter().map(|point| Row {
        row: "notice",
        id: &point.id,
        title: &point.source,
        says: point.says.clone(),
        ..Row::default()
    });
    rows.map(|row| row.written()).collect()
}

#[cfg(test)]
mod tests {
    use super::field;

    #[test]
    fn no_field_is_a_formula_or_acts() {
        for formula in ["=1+1", "+1", "-1", "@SUM(A1)"] {
            assert_eq!(field(formula), format!("'{formula}"));
        }
        assert_eq!(field("a=1"), "a=1");
        assert_eq!(field("a\n=b\u{1b}\t"), "a\n=b\\u{1b}\\u{9}");
    }
}
