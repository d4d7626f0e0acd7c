//! A proposal against rules: in full, or in brief.

use super::brief::{Brief, BriefFinding};
use super::checked::Checked;
use super::finding::Finding;
use super::given::given;
use super::left_open::AllLeftOpen;
use super::measure_next::measure_next;
use super::places::places;
use super::remarks::remarks;
use super::report::Report;
use super::reporter::Reporter;
use super::stages::{Asked, gravest};
use super::steps;
use super::tally::Tally;
use super::unused::unused;
use crate::document::ProblemList;
use crate::facts::{Proposed, Sheet};
use crate::formula::Evaluator;
use crate::ruleset::{Acceptance, Rules};

/// Choices of one check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options<'a> {
    /// What decides where a value is in doubt, instead of what the rules say.
    pub acceptance: Option<Acceptance>,
    /// The stages asked for, by name, in any order; none for all of the proposal. A check of some
    /// stages gives no verdict on the whole.
    pub stages: &'a [&'a str],
    /// Whether to say what would narrow figures: each is worked several times for it.
    pub narrowing: bool,
}

impl Options<'_> {
    fn acceptance(self, rules: &Rules) -> Acceptance {
        self.acceptance.unwrap_or_else(|| rules.acceptance())
    }
}

/// Checks a proposal against rules.
///
/// # Errors
///
/// Facts under `extra` that the rules do not declare, or whose values do not fit; readings of one
/// thing that cannot both be true, or facts that break a relation of the catalogue; stages that the
/// rules do not have; more steps, or longer findings, than [`crate::bounds`] allow.
pub fn check(
    rules: &Rules,
    proposal: &dyn Proposed,
    options: Options<'_>,
) -> Result<Report, ProblemList> {
    Ok(checked(rules, proposal, options)?.report())
}

/// Checks a proposal against rules and gives what was found, without what a report takes over from
/// its rules. Written, as [`Lean`](crate::report::Lean), it is the lean record of the report that
/// [`check`] gives.
///
/// # Errors
///
/// Those of [`check`].
pub fn checked<'r>(
    rules: &'r Rules,
    proposal: &dyn Proposed,
    options: Options<'_>,
) -> Result<Checked<'r>, ProblemList> {
    let sheet = given(rules, proposal)?;
    let evaluator = evaluator(rules, &sheet, options)?;
    let asked = Asked::of(rules, options.stages)?;
    let tally = Tally::of(rules, &evaluator, &asked)?;
    let reporter = Reporter::new(rules, &evaluator).narrowing(options.narrowing);
    let (findings, open) = found(&tally, &reporter)?;
    let outcome = tally.parts.whole(&asked);
    let stages = tally.parts.stages(rules, &asked);
    let verdict = gravest(outcome, &stages).verdict;
    let measure_next = measure_next(open, &findings, verdict, &reporter);
    Ok(Checked {
        rules,
        title: proposal.title().into(),
        proposal: proposal.name().to_owned(),
        outcome,
        stages,
        acceptance: options.acceptance(rules),
        counts: tally.counts,
        passed: tally.passed,
        not_applicable: tally.not_applicable,
        places: places(reporter.asked(), rules),
        findings,
        measure_next,
        unused: unused(&evaluator, &reporter),
        remarks: remarks(rules, &sheet, proposal.notes()),
    })
}

/// The findings, and what leaves them open.
fn found(
    tally: &Tally<'_>,
    reporter: &Reporter<'_, '_>,
) -> Result<(Vec<Finding>, AllLeftOpen), ProblemList> {
    let mut findings = Vec::with_capacity(tally.against.len());
    let (mut open, mut parts) = (AllLeftOpen::default(), 0);
    for against in &tally.against {
        let judged = (against.judged, against.position);
        let Some(finding) = reporter.found(against.caution, judged, &mut open) else {
            continue;
        };
        parts += steps::parts(&finding);
        steps::few_enough(parts)?;
        findings.push(finding);
    }
    Ok((findings, open))
}

/// Checks a proposal against rules and gives only the verdicts: the same as [`check`] gives,
/// several times faster if there are many findings. It gives no reasons and has no notice; a caller
/// that shows it to people must show [`Rules::notice`] with it.
///
/// # Errors
///
/// Those of [`check`].
pub fn brief(
    rules: &Rules,
    proposal: &dyn Proposed,
    options: Options<'_>,
) -> Result<Brief, ProblemList> {
    let sheet = given(rules, proposal)?;
    let evaluator = evaluator(rules, &sheet, options)?;
    let asked = Asked::of(rules, options.stages)?;
    let tally = Tally::of(rules, &evaluator, &asked)?;
    let reporter = Reporter::new(rules, &evaluator);
    let findings = tally.against.iter().map(|one| BriefFinding {
        caution: one.caution.id.clone(),
        subject: reporter.subject(one.caution.about, one.position),
        verdict: one.judged.verdict,
        best: one.judged.best,
        status: one.judged.status,
    });
    Ok(Brief {
        outcome: tally.parts.whole(&asked),
        stages: tally.parts.stages(rules, &asked),
        findings: findings.collect(),
        remarks: remarks(rules, &sheet, proposal.notes()),
    })
}

fn evaluator<'s>(
    rules: &'s Rules,
    sheet: &'s Sheet,
    options: Options<'_>,
) -> Result<Evaluator<'s>, ProblemList> {
    steps::within_bounds(rules, sheet)?;
    let simple = options.acceptance(rules) == Acceptance::Simple;
    Ok(Evaluator::new(
        rules.catalogue(),
        rules.program(),
        sheet,
        simple,
    ))
}
