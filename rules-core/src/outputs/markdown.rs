//! Markdown with tables: a part for each proposal or ruleset, and the notice at the end.

use super::of_ruleset::OfRuleset;
use super::said::{self, one_line};
use crate::check::{Finding, Report};
use crate::document::{Problem, Severity};
use crate::facts::Notice;
use crate::report::text::{counted, others, remedy, rules_in_use};

/// Signs that Markdown gives a meaning. A backslash before a sign takes it away.
const SIGNS: &str = r"\`*_{}[]<>|~&#$!";

/// A text on one line that is shown as it is.
fn plain(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for letter in one_line(text).chars() {
        if SIGNS.contains(letter) {
            shown.push('\\');
        }
        shown.push(letter);
    }
    shown
}

fn row(fields: &[&str]) -> String {
    format!("| {} |\n", fields.join(" | "))
}

fn table(headings: &[&str]) -> String {
    row(headings) + &row(&vec!["---"; headings.len()])
}

/// Title, verdict, what weakens the check, rules, findings.
pub(super) fn of_report(report: &Report) -> String {
    let outcome = report.gravest();
    let others = others(outcome.verdict, outcome.best, outcome.worst);
    let others = others.map(|others| format!(" (could be {others})"));
    let asked: Vec<&str> = report.asked().collect();
    let only = match asked.is_empty() {
        true => String::new(),
        false => format!(" for {} alone", plain(&asked.join(", "))),
    };
    let nothing = match outcome.nothing_checked {
        true => ": nothing was surely checked",
        false => "",
    };
    let mut text = format!(
        "## {}\n\n**{}**{}{only}{nothing}, {}\n",
        plain(&report.title),
        outcome.verdict.word().to_uppercase(),
        others.unwrap_or_default(),
        plain(&report.proposal)
    );
    text += &in_the_open(report);
    text += &format!("\nRules: {}\n", plain(&rules_in_use(report)));
    if !report.findings.is_empty() {
        text += "\n";
        text += &table(&["Verdict", "Stage", "Caution", "Of", "Why", "What to do"]);
    }
    let findings = report.findings.iter();
    text.extend(findings.map(|finding| of_finding(finding, report)));
    text
}

/// What weakens the check: a paragraph each under the verdict.
fn in_the_open(report: &Report) -> String {
    let all = said::in_the_open(report).into_iter();
    all.map(|one| format!("\n{}\n", plain(&one.says))).collect()
}

fn of_finding(finding: &Finding, report: &Report) -> String {
    let stage = finding.stage.as_deref().unwrap_or_default();
    let caution = format!("{} ({})", finding.title, finding.caution);
    let remedy = remedy(finding).unwrap_or_default();
    row(&[
        finding.verdict.word(),
        &plain(stage),
        &plain(&caution),
        &plain(&finding.subject.to_string()),
        &plain(&said::why(finding, report)),
        &plain(&remedy),
    ])
}

/// What is wrong with what cannot be used.
pub(super) fn of_unusable(name: &str, problems: &[Problem]) -> String {
    let rows = problems.iter().map(of_problem);
    let head = format!("## {}\n\n**It cannot be used.**\n\n", plain(name));
    head + &problem_table() + &rows.collect::<String>()
}

/// What was found in a ruleset.
pub(super) fn of_ruleset(found: OfRuleset<'_>) -> String {
    if !found.loads {
        return of_unusable(found.ruleset, found.problems);
    }
    let to_correct: String = found.to_correct().map(of_problem).collect();
    let head = format!("## {}\n\n", plain(found.ruleset));
    let cases: usize = found.cases.iter().map(|of| of.cases).sum();
    let cases = match cases {
        0 => String::new(),
        cases => format!("{} run. ", counted(cases, "case")),
    };
    let mut text = match to_correct.is_empty() {
        true => format!("{head}{cases}Nothing to correct.\n"),
        false => format!(
            "{head}{cases}To correct:\n\n{}{to_correct}",
            problem_table()
        ),
    };
    if !found.worth_a_look.is_empty() {
        let rows: String = found.worth_a_look.iter().map(of_problem).collect();
        text += &format!("\nWorth a look, and no fault:\n\n{}{rows}", problem_table());
    }
    text
}

fn problem_table() -> String {
    table(&["Weight", "Kind", "Place", "What", "How to correct it"])
}

fn of_problem(problem: &Problem) -> String {
    let place = problem.place.as_ref();
    let place = place.map(ToString::to_string).unwrap_or_default();
    let weight = match problem.severity {
        Severity::Error => "error",
        Severity::Advice => "advice",
    };
    row(&[
        weight,
        problem.fault.code(),
        &plain(&place),
        &plain(&problem.message),
        &plain(problem.help.as_deref().unwrap_or_default()),
    ])
}

/// The notice, which ends the document.
pub(super) fn notice(notice: &[Notice]) -> String {
    let points = notice
        .iter()
        .map(|point| format!("- {} ({})\n", plain(&point.says), plain(&point.source)));
    let points: String = points.collect();
    match points.is_empty() {
        true => points,
        false => format!("\n## Whatever the verdict\n\n{points}"),
    }
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn nothing_of_a_text_is_markup() {
        assert_eq!(
            plain("a|b *c* <img>\n# [d](e) `f`"),
            r"a\|b \*c\* \<img\> \# \[d\](e) \`f\`"
        );
    }
}
