//! What came of a case against what it expects.

use rules_core::check::{
    RemarkKind as CameRemark, Report, RungName, Status as CameStatus, Subject,
    Verdict as CameVerdict,
};
use rules_core::document::Problem;
use rules_core::ruleset::LoadedRuleset;
use rules_tests::conformance::{
    Error, Finding, Outcome, Remark, RemarkKind, Rung, StageOutcome, Status, Verdict,
};

use super::run::Came;

/// Faults in the text of a quantity, an id or a text: a checker may point at the part that is wrong
/// instead of the start of the value.
const IN_VALUES: [&str; 8] = [
    "bad-name",
    "no-unit",
    "unknown-unit",
    "wrong-kind",
    "bad-number",
    "bad-tolerance",
    "low-above-high",
    "not-finite",
];

/// What differs from an expected fault; nothing if one of the problems is it.
pub(crate) fn compare_fault(expected: &Error, came: &Came) -> Vec<String> {
    match came {
        Ok(report) => vec![format!(
            "expected {expected:?}, but the check gave {:?}",
            report.gravest().verdict
        )],
        Err(problems) if problems.iter().any(|problem| is_fault(expected, problem)) => Vec::new(),
        Err(problems) => {
            let found = problems
                .iter()
                .map(|problem| format!("found {} {problem}", problem.fault.code()));
            std::iter::once(format!("expected {expected:?}"))
                .chain(found)
                .collect()
        }
    }
}

/// What differs from several expected faults; nothing if the problems are these and no others.
pub(crate) fn compare_faults(expected: &[Error], came: &Came) -> Vec<String> {
    let mut problems: Vec<&Problem> = match came {
        Ok(report) => {
            return vec![format!(
                "expected {expected:?}, but the check gave {:?}",
                report.gravest().verdict
            )];
        }
        Err(problems) => problems.iter().collect(),
    };
    let mut differences = Vec::new();
    for one in expected {
        match problems.iter().position(|problem| is_fault(one, problem)) {
            Some(found) => drop(problems.remove(found)),
            None => differences.push(format!("expected {one:?}")),
        }
    }
    differences.extend(
        problems
            .iter()
            .map(|problem| format!("found {} {problem}", problem.fault.code())),
    );
    differences
}

fn is_fault(expected: &Error, problem: &Problem) -> bool {
    let place = problem.place.as_ref();
    let file = expected
        .file
        .as_deref()
        .is_none_or(|file| place.is_none_or(|place| &*place.file == file));
    let line = expected
        .line
        .is_none_or(|line| place.is_some_and(|place| place.line == line));
    let further = IN_VALUES.contains(&expected.about.as_str());
    let column = expected.column.is_none_or(|column| {
        place.is_some_and(|place| place.column == column || (further && place.column > column))
    });
    problem.fault.code() == expected.about && file && line && column
}

/// What differs from an expected report.
pub(crate) fn compare_report(expected: &Outcome, came: &Came) -> Vec<String> {
    let report = match came {
        Ok(report) => report,
        Err(problems) => {
            return problems
                .iter()
                .map(|problem| format!("unexpected problem: {problem}"))
                .collect();
        }
    };
    let mut differences = Vec::new();
    let (wanted, found) = (wanted_whole(expected), report.outcome.map(whole));
    if wanted != found {
        differences.push(format!("the whole comes to {found:?}, expected {wanted:?}"));
    }
    let (wanted, found) = (wanted_stages(expected), stages(report));
    if wanted != found {
        differences.push(format!("the stages come to {found:?}, expected {wanted:?}"));
    }
    let (wanted, found) = (
        sorted(expected.not_applicable.clone()),
        sorted(
            report
                .not_applicable
                .iter()
                .map(ToString::to_string)
                .collect(),
        ),
    );
    if wanted != found {
        differences.push(format!("not applicable are {found:?}, expected {wanted:?}"));
    }
    let digest = expected.digest.as_ref();
    if let Some(wanted) = digest.filter(|wanted| **wanted != report.digest) {
        differences.push(format!(
            "the digest is {}, expected {wanted}",
            report.digest
        ));
    }
    for (file, wanted) in &expected.digests {
        let of_file = |one: &&LoadedRuleset| one.file.as_ref() == Some(file);
        let found = report.rules.iter().find(of_file).map(|one| &one.digest);
        if found != Some(wanted) {
            differences.push(format!("the digest of `{file}` is {found:?}"));
        }
    }
    differences.extend(compare_findings(expected, report));
    differences.extend(compare_remarks(expected, report));
    differences
}

/// Verdict, best, worst and whether nothing was checked.
type Whole = (Verdict, Verdict, Verdict, bool);

fn wanted_whole(expected: &Outcome) -> Option<Whole> {
    let verdict = expected.verdict?;
    Some((
        verdict,
        expected.best.unwrap_or(verdict),
        expected.worst.unwrap_or(verdict),
        expected.nothing_checked,
    ))
}

fn whole(came: rules_core::check::Outcome) -> Whole {
    (
        verdict(came.verdict),
        verdict(came.best),
        verdict(came.worst),
        came.nothing_checked,
    )
}

fn wanted_stages(expected: &Outcome) -> Vec<(String, Whole)> {
    let of_stage = |one: &StageOutcome| {
        let range = [one.best, one.worst].map(|end| end.unwrap_or(one.verdict));
        let whole = (one.verdict, range[0], range[1], one.nothing_checked);
        (one.stage.clone(), whole)
    };
    expected.stages.iter().map(of_stage).collect()
}

fn stages(report: &Report) -> Vec<(String, Whole)> {
    let stages = report.stages.iter();
    stages
        .map(|one| (one.stage.to_string(), whole(one.outcome())))
        .collect()
}

fn compare_remarks(expected: &Outcome, report: &Report) -> Option<String> {
    let wanted = sorted(expected.remarks.clone()?);
    let found = sorted(report.remarks.iter().filter_map(remark).collect());
    (wanted != found).then(|| format!("the remarks are {found:?}, expected {wanted:?}"))
}

/// None of one on the rules that come with this checker, of which the cases know nothing.
fn remark(remark: &rules_core::check::Remark) -> Option<Remark> {
    Some(Remark {
        remark: match remark.remark {
            CameRemark::LooksAlike => RemarkKind::LooksAlike,
            CameRemark::Noted => RemarkKind::Noted,
            CameRemark::NoneBrought => RemarkKind::NoneBrought,
            CameRemark::WithoutShipped => return None,
        },
        subject: remark.subject.to_owned(),
        names: remark.names.iter().map(ToString::to_string).collect(),
        says: (remark.remark == CameRemark::Noted).then(|| remark.says.clone()),
    })
}

fn compare_findings(expected: &Outcome, report: &Report) -> Vec<String> {
    let mut wanted = sorted(expected.findings.iter().cloned().map(normal).collect());
    let mut found = sorted(report.findings.iter().map(finding).map(normal).collect());
    if wanted == found {
        return Vec::new();
    }
    let same: Vec<Finding> = wanted
        .iter()
        .filter(|one| found.contains(one))
        .cloned()
        .collect();
    wanted.retain(|one| !same.contains(one));
    found.retain(|one| !same.contains(one));
    let lines = found
        .iter()
        .map(|one| format!("found    {one:?}"))
        .chain(wanted.iter().map(|one| format!("expected {one:?}")));
    std::iter::once("the findings differ".to_owned())
        .chain(lines)
        .collect()
}

fn finding(finding: &rules_core::check::Finding) -> Finding {
    let mut facts: Vec<String> = finding
        .facts
        .iter()
        .map(|fact| fact.name.to_string())
        .collect();
    facts.sort();
    facts.dedup();
    Finding {
        caution: finding.caution.to_string(),
        subject: subject(&finding.subject),
        count: finding.subject.count(),
        verdict: verdict(finding.verdict),
        status: match finding.status {
            CameStatus::Decided => Status::Decided,
            CameStatus::InDoubt => Status::InDoubt,
            CameStatus::Unmeasured => Status::Unmeasured,
        },
        rung: match finding.rung {
            RungName::RefuseUnless => Rung::RefuseUnless,
            RungName::WarnUnless => Rung::WarnUnless,
        },
        facts,
        missing: finding.missing.iter().map(ToString::to_string).collect(),
    }
}

/// A subject in the words of the suite, which has `?` for cells that are not listed, groups that are
/// not known and packs that are not named.
fn subject(subject: &Subject) -> String {
    match (subject.name(), subject.called()) {
        (None, Some(_)) => format!("{} ?", subject.kind()),
        _ => subject.in_words(),
    }
}

fn normal(mut finding: Finding) -> Finding {
    finding.facts.sort();
    finding.missing.sort();
    finding
}

fn verdict(came: CameVerdict) -> Verdict {
    match came {
        CameVerdict::Pass => Verdict::Pass,
        CameVerdict::Warn => Verdict::Warn,
        CameVerdict::Refuse => Verdict::Refuse,
    }
}

fn sorted<T: Ord>(mut list: Vec<T>) -> Vec<T> {
    list.sort();
    list
}
