//! Running the cases that rulesets carry, and vetting.

use std::sync::Arc;

use super::finding::Finder;
use super::judge::{Judgement, judge};
use crate::document::{Fault, Problem};
use crate::formula::{Bound, Evaluator, Truth};
use crate::report::{Status, Verdict};
use crate::ruleset::{Acceptance, CaseCode, Caution, Expectation, Rules, Vetting};

/// How a case came out.
#[derive(Debug, Clone)]
pub struct CaseOutcome {
    /// The caution it belongs to.
    pub caution: Arc<str>,
    /// What is wrong with it; none if it came out as it says.
    pub problem: Option<Problem>,
}

/// Runs every case of every caution.
#[must_use]
pub fn run_cases(vetting: &Vetting) -> Vec<CaseOutcome> {
    vetting
        .cases()
        .map(|(caution, case)| run_case(vetting.rules(), caution, case))
        .collect()
}

/// Everything vetting finds: what the ruleset lacks, and cases that come out otherwise than they
/// say.
#[must_use]
pub fn vet(vetting: &Vetting) -> Vec<Problem> {
    let mut problems = vetting.advice().to_vec();
    problems.extend(
        run_cases(vetting)
            .into_iter()
            .filter_map(|outcome| outcome.problem),
    );
    problems.sort_by(|a, b| a.place.cmp(&b.place));
    problems
}

/// What came of a case: the gravest subject's outcome, with what is missing.
#[derive(PartialEq, Eq)]
struct Came {
    expect: Expectation,
    status: Status,
    missing: Vec<String>,
}

fn run_case(rules: &Rules, caution: &Caution, case: &CaseCode) -> CaseOutcome {
    let simple = rules.acceptance() == Acceptance::Simple;
    let evaluator = Evaluator::new(rules.catalogue(), rules.program(), &case.sheet, simple);
    let came = came(rules, caution, &evaluator);
    let status = match (case.doubt, case.unmeasured.is_empty()) {
        (true, _) => Status::InDoubt,
        (false, false) => Status::Unmeasured,
        (false, true) => Status::Decided,
    };
    let mut missing = case.unmeasured.clone();
    missing.sort();
    let wanted = Came {
        expect: case.expect,
        status,
        missing,
    };
    let problem = (came != wanted).then(|| otherwise(caution, case, &wanted, &came));
    CaseOutcome {
        caution: caution.id.clone(),
        problem,
    }
}

fn came(rules: &Rules, caution: &Caution, evaluator: &Evaluator<'_>) -> Came {
    let finder = Finder::new(rules, evaluator);
    let judged = |bound| (judge(caution, evaluator, bound), bound);
    let all: Vec<(Judgement, &Bound)> = evaluator.each(caution.about).iter().map(judged).collect();
    let weight = |judged: &Judgement| {
        (
            judged.verdict,
            judged.worst,
            judged.status != Status::Decided,
        )
    };
    let applied = || all.iter().filter(|(judged, _)| judged.applies != Truth::No);
    let Some(gravest) = applied().map(|(judged, _)| weight(judged)).max() else {
        return Came {
            expect: Expectation::NotApplicable,
            status: Status::Decided,
            missing: Vec::new(),
        };
    };
    // Of equally grave subjects the one whose missing facts come first by name, so that their order
    // plays no part.
    let each = applied()
        .filter(|(judged, _)| weight(judged) == gravest)
        .map(|(judged, bound)| {
            let open = finder
                .found(caution, *judged, bound)
                .map(|found| found.finding)
                .filter(|_| judged.status == Status::Unmeasured);
            (
                open.map(|finding| finding.missing).unwrap_or_default(),
                judged.status,
            )
        });
    let (missing, status) = each
        .min_by(|a, b| a.0.cmp(&b.0))
        .unwrap_or((Vec::new(), Status::Decided));
    Came {
        expect: expectation(gravest.0),
        status,
        missing,
    }
}

fn expectation(verdict: Verdict) -> Expectation {
    match verdict {
        Verdict::Pass => Expectation::Pass,
        Verdict::Warn => Expectation::Warn,
        Verdict::Refuse => Expectation::Refuse,
    }
}

fn otherwise(caution: &Caution, case: &CaseCode, wanted: &Came, came: &Came) -> Problem {
    let words = |one: &Came| {
        let missing = if one.missing.is_empty() {
            String::new()
        } else {
            format!(" ({})", one.missing.join(", "))
        };
        format!("{}, {}{missing}", one.expect.word(), one.status.words())
    };
    let message = format!(
        "this case of `{}` comes out as {}; it says {}",
        caution.id,
        words(came),
        words(wanted)
    );
    Problem {
        fault: Fault::CaseFails,
        message,
        help: Some("correct the case or the caution".to_owned()),
        ..case.problem.clone()
    }
}
