//! The engine as the laws call it: rulesets from memory, a check, and what came of it by caution
//! and subject.

use std::collections::BTreeMap;

use proptest::test_runner::TestCaseError;
use rules_core::check::{
    Judgement, Options, Report, StageOutcome, Status, Verdict, brief, check, given, judge,
    judge_each,
};
use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use rules_core::formula::Evaluator;
use rules_core::ruleset::{Acceptance, Caution, Rules, Texts};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

use super::choices::broken;

/// Loads files of a shelf, named in this order.
pub(crate) fn load_files(
    files: &[(String, Vec<u8>)],
    names: &[&str],
) -> Result<Rules, ProblemList> {
    Rules::load(
        names,
        &Texts::of(files.to_vec()).or(Shipped),
        &rulesets::catalogue(),
    )
}

/// Loads the text of one ruleset.
pub(crate) fn load_text(text: &str, ending: &str) -> Result<Rules, ProblemList> {
    let name = format!("rules.{ending}");
    load_files(&[(name.clone(), text.as_bytes().to_vec())], &[&name])
}

pub(crate) fn listed(problems: &[Problem]) -> String {
    problems
        .iter()
        .map(|problem| format!("{problem}\n"))
        .collect()
}

/// Loads a generated ruleset, which must be good.
pub(crate) fn rules(text: &str) -> Result<Rules, TestCaseError> {
    load_text(text, "yaml").map_err(|problems| {
        broken(
            "a ruleset that should load does not",
            &[("problems", &listed(&problems)), ("rules", &short(text))],
        )
    })
}

/// Reads a generated proposal, which must be good.
pub(crate) fn proposal(text: &str) -> Result<Proposal, TestCaseError> {
    Proposal::read("proposal", text.as_bytes().to_vec(), Syntax::Yaml).map_err(|problems| {
        broken(
            "a proposal that should load does not",
            &[("problems", &listed(&problems)), ("proposal", text)],
        )
    })
}

/// Checks a proposal's text, under an acceptance or that of the rules; in brief it must come to the
/// same. A proposal whose facts contradict each other, or with a meter that the rules do not allow,
/// has no report: it is rejected, so that a law sets it aside and counts it.
pub(crate) fn checked(
    rules: &Rules,
    text: &str,
    acceptance: Option<Acceptance>,
) -> Result<Report, TestCaseError> {
    checked_for(rules, text, acceptance, &[])
}

/// The same for some stages.
pub(crate) fn checked_for(
    rules: &Rules,
    text: &str,
    acceptance: Option<Acceptance>,
    stages: &[&str],
) -> Result<Report, TestCaseError> {
    let (proposal, options) = (
        proposal(text)?,
        Options {
            acceptance,
            stages,
            ..Options::default()
        },
    );
    let (came, brief) = (
        check(rules, &proposal, options),
        brief(rules, &proposal, options),
    );
    let report = match came {
        Ok(report) => report,
        Err(problems) if brief.as_ref() == Err(&problems) && no_verdict(&problems).is_some() => {
            return Err(TestCaseError::reject(
                no_verdict(&problems).unwrap_or_default(),
            ));
        }
        Err(problems) => {
            return Err(broken(
                "a check that should run does not",
                &[("problems", &listed(&problems)), ("proposal", text)],
            ));
        }
    };
    if brief.as_ref() != Ok(&report.brief()) {
        return Err(broken(
            format!("in brief it comes to {brief:?}"),
            &[("proposal", text)],
        ));
    }
    if let Some(caution) = judged_otherwise(rules, &proposal, acceptance) {
        return Err(broken(
            format!("`{caution}` comes to something else where each is judged alone"),
            &[("proposal", text)],
        ));
    }
    Ok(report)
}

/// The first caution that comes to something else where each of its subject is judged alone.
fn judged_otherwise<'r>(
    rules: &'r Rules,
    proposal: &Proposal,
    acceptance: Option<Acceptance>,
) -> Option<&'r str> {
    let sheet = given(rules, proposal).ok()?;
    let simple = acceptance.unwrap_or_else(|| rules.acceptance()) == Acceptance::Simple;
    let evaluator = || Evaluator::new(rules.catalogue(), rules.program(), &sheet, simple);
    let (together, alone) = (evaluator(), evaluator());
    let differs = |caution: &&Caution| {
        let bounds: Vec<_> = alone.each(caution.about).collect();
        let mut judged = vec![Judgement::PASSED; bounds.len()];
        let mut told = 0;
        let passed = judge_each(caution, &together, |position, one| {
            judged[position] = *one;
            told += 1;
        });
        let each = bounds.iter().map(|bound| judge(caution, &alone, bound));
        passed + told != bounds.len() || !each.eq(judged)
    };
    let found = rules.cautions().iter().find(differs);
    found.map(|caution| &*caution.id)
}

/// Why a proposal that can be read has no verdict, where that is no fault of the checker.
fn no_verdict(problems: &[Problem]) -> Option<&'static str> {
    let mut faults = problems.iter().map(|problem| problem.fault);
    if faults.clone().any(|fault| fault == Fault::TooCoarse) {
        let known = [Fault::TooCoarse, Fault::Contradiction];
        return faults
            .all(|fault| known.contains(&fault))
            .then_some(TOO_COARSE);
    }
    let all = faults.all(|fault| fault == Fault::Contradiction);
    all.then_some("readings contradict each other")
}

/// Why there is no verdict where the rules do not allow a meter.
pub(crate) const TOO_COARSE: &str = "a meter is too coarse";

/// What comes of a proposal that says less than one that has a report: it has one too.
pub(crate) fn still<T>(came: Result<T, TestCaseError>, what: &str) -> Result<T, TestCaseError> {
    came.map_err(|error| match error {
        TestCaseError::Reject(reason) => broken(format!("{what}, and now {reason}"), &[]),
        fail => fail,
    })
}

/// What came of a caution for a subject, or of the whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Outcome {
    pub(crate) verdict: Verdict,
    pub(crate) best: Verdict,
    pub(crate) worst: Verdict,
    pub(crate) status: Status,
}

impl Outcome {
    fn of(came: rules_core::check::Outcome) -> Self {
        let status = if came.best == came.worst {
            Status::Decided
        } else {
            Status::InDoubt
        };
        Self {
            verdict: came.verdict,
            best: came.best,
            worst: came.worst,
            status,
        }
    }
}

/// What a pass is: no finding is in the report.
pub(crate) const PASSED: Outcome = Outcome {
    verdict: Verdict::Pass,
    best: Verdict::Pass,
    worst: Verdict::Pass,
    status: Status::Decided,
};

/// What came of a check.
pub(crate) struct Outcomes {
    pub(crate) whole: Outcome,
    pub(crate) nothing_checked: bool,
    /// Of each stage, with whether nothing of it was checked.
    pub(crate) stages: BTreeMap<String, (Outcome, bool)>,
    findings: BTreeMap<(String, String), Vec<Outcome>>,
}

/// The name of all cells that are not listed, or of all groups whose members are not known.
pub(crate) fn unnamed(kind: &str) -> String {
    format!("{kind} ?")
}

impl Outcomes {
    pub(crate) fn of(report: &Report) -> Self {
        let mut findings: BTreeMap<(String, String), Vec<Outcome>> = BTreeMap::new();
        for finding in &report.findings {
            let subject = if finding.subject.called().is_some() {
                unnamed(finding.subject.kind())
            } else {
                finding.subject.in_words()
            };
            let outcome = Outcome {
                verdict: finding.verdict,
                best: finding.best,
                worst: finding.worst,
                status: finding.status,
            };
            findings
                .entry((finding.caution.to_string(), subject))
                .or_default()
                .extend(std::iter::repeat_n(outcome, finding.subject.count()));
        }
        let came = report.gravest();
        let of_stage = |stage: &StageOutcome| {
            let came = (Outcome::of(stage.outcome()), stage.nothing_checked);
            (stage.stage.to_string(), came)
        };
        Self {
            whole: Outcome::of(came),
            nothing_checked: came.nothing_checked,
            stages: report.stages.iter().map(of_stage).collect(),
            findings,
        }
    }

    /// The outcome for a subject; of several with one name, the range that they span. `several` is
    /// how many there are.
    pub(crate) fn get(&self, caution: &str, subject: &str, several: usize) -> Outcome {
        let Some(found) = self.findings.get(&(caution.to_owned(), subject.to_owned())) else {
            return PASSED;
        };
        let all = found
            .iter()
            .copied()
            .chain((found.len() < several).then_some(PASSED));
        all.reduce(|one, other| Outcome {
            verdict: one.verdict.max(other.verdict),
            best: one.best.min(other.best),
            worst: one.worst.max(other.worst),
            status: if one.status == other.status {
                one.status
            } else {
                Status::InDoubt
            },
        })
        .unwrap_or(PASSED)
    }
}

/// A ruleset's text without the facts that every generated one declares.
pub(crate) fn short(rules: &str) -> String {
    let (before, rest) = rules.split_once("facts:\n").unwrap_or((rules, ""));
    let kept: String = rest
        .lines()
        .skip_while(|line| line.starts_with(' '))
        .map(|line| format!("{line}\n"))
        .collect();
    format!("{before}{kept}")
}
