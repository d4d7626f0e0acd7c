//! A report in a few sentences: the counts, whether the verdict could change, what to do first.

use std::collections::BTreeSet;

use super::group::subjects;
use super::stages::asked;
use crate::check::{Finding, Report, Verdict};

/// How the names of facts end that count what it lists.
const LISTED: &str = ".listed";

pub(super) fn summary(report: &Report) -> String {
    if report.gravest().nothing_checked {
        return nothing(report);
    }
    if report.findings.is_empty() {
        return passed(report.counts.applied);
    }
    let outlook = match report
        .findings
        .iter()
        .filter(|finding| !finding.subject.is_listed())
        .count()
    {
        0 => outlook(report) + &start(report),
        unlisted => list_first(unlisted, report),
    };
    format!("{}. {outlook}", counts(report))
}

fn nothing(report: &Report) -> String {
    let of = match asked(report) {
        None => "the rules in use".to_owned(),
        Some(asked) => format!("the rules in use for {asked}"),
    };
    format!(
        "Nothing was checked: no caution of {of} applied to anything in this proposal. That is no pass."
    )
}

fn passed(applied: usize) -> String {
    let cautions = if applied == 1 {
        "The one caution that applies does not speak".to_owned()
    } else {
        format!("None of the {applied} cautions that apply speaks")
    };
    format!(
        "{cautions} against it. That is no approval: a pass does not overrule the notice at the end."
    )
}

/// `1 finding`, `2 findings`.
pub fn counted(count: usize, what: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {what}{plural}")
}

/// `2 findings refuse, 39 warn (17 cautions)`.
fn counts(report: &Report) -> String {
    let mut said = Vec::new();
    for verdict in [Verdict::Refuse, Verdict::Warn] {
        let of_verdict = || {
            report
                .findings
                .iter()
                .filter(|finding| finding.verdict == verdict)
        };
        let cautions = of_verdict()
            .map(|finding| &finding.caution)
            .collect::<BTreeSet<_>>()
            .len();
        let count = of_verdict().count();
        if count > 0 {
            said.push(speak(count, cautions, verdict, said.is_empty()));
        }
    }
    said.join(", ")
}

/// `1 finding refuses`, `39 warn (17 cautions)`. The cautions are counted where they are fewer.
fn speak(findings: usize, cautions: usize, verdict: Verdict, first: bool) -> String {
    let subject = if first {
        counted(findings, "finding")
    } else {
        findings.to_string()
    };
    let ending = if findings == 1 { "s" } else { "" };
    let of = if cautions < findings {
        format!(" ({})", counted(cautions, "caution"))
    } else {
        String::new()
    };
    format!("{subject} {}{ending}{of}", verdict.word())
}

/// Whether measuring could change the verdict.
fn outlook(report: &Report) -> String {
    let came = report.gravest();
    match (others(came.verdict, came.best, came.worst), came.verdict) {
        (None, Verdict::Refuse) => {
            "No measurement can lift the refusal: what is proposed has to change.".to_owned()
        }
        (None, _) => "No measurement can change that.".to_owned(),
        (Some(others), _) => {
            format!("Once what is missing or in doubt is measured, it could be {others}.")
        }
    }
}

/// What to measure first, where measuring could change the verdict.
fn start(report: &Report) -> String {
    let came = report.gravest();
    let open = came.best != came.worst;
    let Some(first) = report.measure_next.first().filter(|_| open) else {
        return String::new();
    };
    let of = if first.subject.is_only() {
        String::new()
    } else {
        format!(" of {}", subjects(std::iter::once(&first.subject)))
    };
    format!(" Start with {}{of}.", first.fact)
}

/// What to do where something is not listed. That measurements cannot help is said only if it does not
/// come of the list.
fn list_first(unlisted: usize, report: &Report) -> String {
    let are = if unlisted == 1 { "is" } else { "are" };
    let first = format!(
        "{unlisted} of them {are} about what the proposal calls for and does not list: list all of it first, with what is known."
    );
    let of_the_list = |finding: &Finding| {
        !finding.subject.is_listed() || finding.facts.iter().any(|fact| fact.name.ends_with(LISTED))
    };
    let settled = |finding: &&Finding| finding.best == Verdict::Refuse;
    if report.gravest().best == Verdict::Refuse
        && report.findings.iter().filter(settled).all(of_the_list)
    {
        return first;
    }
    format!("{first} {}", outlook(report))
}

/// The other verdicts that what is known allows, the gravest first: `refuse or pass`.
pub(crate) fn others(verdict: Verdict, best: Verdict, worst: Verdict) -> Option<String> {
    let all = [Verdict::Refuse, Verdict::Warn, Verdict::Pass];
    let words: Vec<&str> = all
        .into_iter()
        .filter(|one| (best..=worst).contains(one) && *one != verdict)
        .map(Verdict::word)
        .collect();
    (!words.is_empty()).then(|| words.join(" or "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cautions_are_counted_where_they_are_fewer() {
        assert_eq!(speak(1, 1, Verdict::Refuse, true), "1 finding refuses");
        assert_eq!(speak(2, 2, Verdict::Refuse, true), "2 findings refuse");
        assert_eq!(
            speak(2, 1, Verdict::Warn, true),
            "2 findings warn (1 caution)"
        );
        assert_eq!(speak(39, 17, Verdict::Warn, false), "39 warn (17 cautions)");
        assert_eq!(speak(1, 1, Verdict::Warn, false), "1 warns");
    }

    #[test]
    fn other_verdicts_are_named_from_the_gravest() {
        use Verdict::{Pass, Refuse, Warn};
        assert_eq!(
            others(Warn, Pass, Refuse).as_deref(),
            Some("refuse or pass")
        );
        assert_eq!(others(Refuse, Warn, Refuse).as_deref(), Some("warn"));
        assert_eq!(others(Refuse, Refuse, Refuse), None);
    }
}
