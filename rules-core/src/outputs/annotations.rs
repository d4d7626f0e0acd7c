//! Annotations: workflow commands as GitHub Actions documents them, one a line.
//!
//! `::error file=plan.yaml,line=4,col=3,title=...::message`; of `error`, `warning` and `notice`.

use super::of_ruleset::OfRuleset;
use super::said::{self, one_line};
use crate::check::{Report, Verdict};
use crate::document::{Place, Problem, Severity};
use crate::facts::Notice;
use crate::report::text::remedy;

/// What marks a line, and how gravely.
struct Mark<'a> {
    command: &'static str,
    /// The file, of which a place is told if there is one.
    file: Option<&'a str>,
    place: Option<&'a Place>,
    title: &'a str,
}

impl Mark<'_> {
    fn written(&self, message: &str) -> String {
        let mut properties = Vec::new();
        let file = self.place.map(|place| &*place.file).or(self.file);
        properties.extend(file.map(|file| format!("file={}", property(file))));
        if let Some(place) = self.place {
            properties.push(format!("line={}", place.line));
            properties.push(format!("col={}", place.column));
        }
        properties.push(format!("title={}", property(self.title)));
        let properties = properties.join(",");
        format!("::{} {properties}::{}\n", self.command, data(message))
    }
}

/// A message in which nothing ends the command.
fn data(text: &str) -> String {
    one_line(text).replace('%', "%25")
}

/// The value of a property, which commas and colons would end.
fn property(text: &str) -> String {
    data(text).replace(':', "%3A").replace(',', "%2C")
}

/// What weakens the check of a report, then its findings.
pub(super) fn of_report(report: &Report) -> String {
    in_the_open(report) + &findings(report)
}

fn in_the_open(report: &Report) -> String {
    let lines = said::in_the_open(report).into_iter().map(|one| {
        let mark = Mark {
            command: "notice",
            file: Some(&report.proposal),
            place: None,
            title: &one.title,
        };
        mark.written(&one.says)
    });
    lines.collect()
}

/// Each at the first value that took part.
fn findings(report: &Report) -> String {
    let findings = report.findings.iter().map(|finding| {
        let mark = Mark {
            command: match finding.verdict {
                Verdict::Refuse => "error",
                Verdict::Warn => "warning",
                Verdict::Pass => "notice",
            },
            file: Some(&report.proposal),
            place: said::place(finding),
            title: &finding.title,
        };
        let why = said::why(finding, report);
        let remedy = remedy(finding).map(|remedy| format!(" Do: {remedy}"));
        let remedy = remedy.unwrap_or_default();
        let (subject, caution) = (&finding.subject, &finding.caution);
        mark.written(&format!("{subject}: {why}{remedy} [{caution}]"))
    });
    findings.collect()
}

/// Problems of what is named so.
pub(super) fn of_problems(name: &str, problems: &[Problem]) -> String {
    let lines = problems.iter().map(|problem| {
        let command = match problem.severity {
            Severity::Error => "error",
            Severity::Advice => "warning",
        };
        of_problem(problem, command, name)
    });
    lines.collect()
}

fn of_problem(problem: &Problem, command: &'static str, name: &str) -> String {
    let place = problem.place.as_ref();
    let mark = Mark {
        command,
        // Of what cannot be read at all there is no file to mark.
        file: None,
        place,
        title: problem.fault.code(),
    };
    let said = said::problem(problem);
    match place {
        Some(_) => mark.written(&said),
        None => mark.written(&format!("{name}: {said}")),
    }
}

/// What was found in a ruleset.
pub(super) fn of_ruleset(found: OfRuleset<'_>) -> String {
    let to_correct = found.to_correct();
    let to_correct = to_correct.map(|problem| {
        let problem = std::slice::from_ref(problem);
        of_problems(found.ruleset, problem)
    });
    let looks = found.worth_a_look.iter();
    let looks = looks.map(|problem| of_problem(problem, "notice", found.ruleset));
    to_correct.chain(looks).collect()
}

/// The notice, in its short words where it has some.
pub(super) fn notice(notice: &[Notice]) -> String {
    let points = notice.iter().map(|point| {
        let mark = Mark {
            command: "notice",
            file: None,
            place: None,
            title: "Whatever the verdict",
        };
        mark.written(point.short.as_deref().unwrap_or(&point.says))
    });
    points.collect()
}

#[cfg(test)]
mod tests {
    use super::{data, property};

    #[test]
    fn nothing_ends_a_command() {
        assert_eq!(data("50 %\n::error::x"), "50 %25 ::error::x");
        assert_eq!(property("a:b,c\r\n%"), "a%3Ab%2Cc  %25");
    }
}
