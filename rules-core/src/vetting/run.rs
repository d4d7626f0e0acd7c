//! Running the cases that rulesets carry, and vetting.

use std::borrow::Cow;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::Arc;
use std::thread::{self, ScopedJoinHandle};

use super::case::CaseCode;
use super::loaded::Vetting;
use crate::check::{AllLeftOpen, Judgement, Reporter, Status, Verdict, judge};
use crate::document::{Fault, Problem, Problems};
use crate::formula::{Evaluator, Truth};
use crate::ruleset::{Acceptance, Caution, Expectation, Rules};

/// The result of a case.
#[derive(Debug, Clone)]
pub struct CaseOutcome {
    /// The caution it belongs to.
    pub caution: Arc<str>,
    /// What is wrong with it; none if it gives what it expects.
    pub problem: Option<Problem>,
}

/// How to correct a case that does not give what it expects.
const HELP: &str = "correct the case or the caution";

/// Runs every case of every caution on all cores. The outcomes are in the order of the cases, and each
/// is made as it is asked for: there may be many more than anybody wants to keep.
pub fn run_cases(vetting: &Vetting) -> impl Iterator<Item = CaseOutcome> {
    let came = vetting.cases().zip(all_otherwise(vetting));
    came.map(|((caution, case), said)| CaseOutcome {
        caution: Arc::clone(&caution.id),
        problem: said
            .zip(vetting.source_of(case))
            .map(|(said, source)| Problem::at(source, Fault::CaseFails, case.span, said, HELP)),
    })
}

/// Everything vetting finds: what the ruleset lacks, and cases that do not give what they expect.
/// Of each file no more are kept than the bound on problems allows.
#[must_use]
pub fn vet(vetting: &Vetting) -> Vec<Problem> {
    let mut files = vetting.advice();
    for ((_, case), said) in vetting.cases().zip(all_otherwise(vetting)) {
        if let (Some(said), Some(problems)) = (said, files.get_mut(case.file)) {
            problems.add(Fault::CaseFails, case.span, said, HELP);
        }
    }
    in_order(files.into_iter())
}

/// What is worth a second look and may be right: quantities without a name, cautions that ask the same,
/// limits of refusals that rest on memory alone, warnings that an adjusted limit leaves no effect, facts that no caution uses, readings for which no
/// meter is assumed.
#[must_use]
pub fn worth_a_look(vetting: &Vetting) -> Vec<Problem> {
    in_order(vetting.worth_a_look())
}

fn in_order<'v>(files: impl Iterator<Item = Problems<'v>>) -> Vec<Problem> {
    let mut all: Vec<Problem> = files.flat_map(Problems::finish).collect();
    all.sort_by(|a, b| (a.place.is_none(), &a.place).cmp(&(b.place.is_none(), &b.place)));
    all
}

/// The result of a case: the gravest subject's outcome, with what is missing.
#[derive(PartialEq, Eq)]
struct CaseResult {
    expect: Expectation,
    status: Status,
    missing: Vec<Cow<'static, str>>,
}

/// A thread is not worth its start for fewer cases.
const FEW: usize = 32;

/// Runs all cases, on all cores; of each, in order, what [`otherwise`] gives.
fn all_otherwise(vetting: &Vetting) -> Vec<Option<String>> {
    let (rules, cases) = (vetting.rules(), vetting.cases().collect::<Vec<_>>());
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    let each = cases.len().div_ceil(cores).max(FEW);
    let run = |cases: &[(&Caution, &CaseCode)]| -> Vec<Option<String>> {
        let cases = cases.iter();
        cases
            .map(|(caution, case)| otherwise(rules, caution, case))
            .collect()
    };
    if cases.len() <= each {
        return run(&cases);
    }
    thread::scope(|scope| {
        let parts = cases.chunks(each);
        let workers: Vec<_> = parts.map(|part| scope.spawn(move || run(part))).collect();
        let parts = workers.into_iter().map(ScopedJoinHandle::join);
        parts
            .flat_map(|part| part.unwrap_or_else(|panic| resume_unwind(panic)))
            .collect()
    })
}

/// Runs a case; its result, if that is not what it expects.
fn otherwise(rules: &Rules, caution: &Caution, case: &CaseCode) -> Option<String> {
    let simple = rules.acceptance() == Acceptance::Simple;
    let evaluator = Evaluator::new(rules.catalogue(), rules.program(), &case.sheet, simple);
    let came = came(rules, caution, &evaluator);
    let status = match (case.doubt, case.unmeasured.is_empty()) {
        (true, _) => Status::InDoubt,
        (false, false) => Status::Unmeasured,
        (false, true) => Status::Decided,
    };
    let named = case.unmeasured.iter().map(|name| name.clone().into());
    let mut missing: Vec<_> = named.collect();
    missing.sort();
    let wanted = CaseResult {
        expect: case.expect,
        status,
        missing,
    };
    (came != wanted).then(|| {
        format!(
            "this case of `{}` gives {}; it expects {}",
            caution.id,
            came.words(),
            wanted.words()
        )
    })
}

fn came(rules: &Rules, caution: &Caution, evaluator: &Evaluator<'_>) -> CaseResult {
    let reporter = Reporter::new(rules, evaluator);
    let each = evaluator.each(caution.about).enumerate();
    let judged = |(position, bound)| (judge(caution, evaluator, &bound), position);
    let all: Vec<(Judgement, usize)> = each.map(judged).collect();
    let weight = |judged: &Judgement| {
        (
            judged.verdict,
            judged.worst,
            judged.status != Status::Decided,
        )
    };
    let applied = || all.iter().filter(|(judged, _)| judged.applies != Truth::No);
    let Some(gravest) = applied().map(|(judged, _)| weight(judged)).max() else {
        return CaseResult {
            expect: Expectation::NotApplicable,
            status: Status::Decided,
            missing: Vec::new(),
        };
    };
    // Of equally grave subjects the one whose missing facts come first by name, so that their order
    // plays no part.
    let each = applied()
        .filter(|(judged, _)| weight(judged) == gravest)
        .map(|(judged, position)| {
            let open = reporter
                .found(caution, (*judged, *position), &mut AllLeftOpen::default())
                .filter(|_| judged.status == Status::Unmeasured);
            (
                open.map(|finding| finding.missing).unwrap_or_default(),
                judged.status,
            )
        });
    let (missing, status) = each
        .min_by(|a, b| a.0.cmp(&b.0))
        .unwrap_or((Vec::new(), Status::Decided));
    CaseResult {
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

impl CaseResult {
    fn words(&self) -> String {
        let missing = if self.missing.is_empty() {
            String::new()
        } else {
            format!(" ({})", self.missing.join(", "))
        };
        format!("{}, {}{missing}", self.expect.word(), self.status.words())
    }
}
