//! All cautions over all subjects.

use std::sync::Arc;

use super::finding::{Finder, Found};
use super::judge::{Judgement, judge};
use super::next::Open;
use super::steps;
use crate::document::Problem;
use crate::formula::{Bound, Evaluator, Truth};
use crate::proposal::Proposal;
use crate::report::{Counts, Finding, NOTICE, Report, Status, Verdict};
use crate::ruleset::{Acceptance, Caution, Rules};

/// Choices of one check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// What decides where a value is in doubt, instead of what the rules say.
    pub acceptance: Option<Acceptance>,
}

/// Checks a proposal against rules.
///
/// # Errors
///
/// Facts under `extra` that the rules do not declare, or whose values do not fit; more steps, or longer findings, than [`crate::bounds`] allow.
pub fn check(rules: &Rules, proposal: &Proposal, options: Options) -> Result<Report, Vec<Problem>> {
    let sheet = proposal.facts(rules.catalogue())?;
    steps::within_bounds(rules, &sheet)?;
    let acceptance = options.acceptance.unwrap_or_else(|| rules.acceptance());
    let evaluator = Evaluator::new(rules.catalogue(), rules.program(), &sheet, acceptance == Acceptance::Simple);
    let mut tally = Tally::new(Finder::new(rules, &evaluator));
    for caution in rules.cautions() {
        tally.caution(caution, &evaluator);
        steps::few_enough(tally.parts)?;
    }
    Ok(tally.report(rules, proposal, acceptance))
}

/// What has been found so far.
struct Tally<'t, 'e> {
    finder: Finder<'t, 'e>,
    counts: Counts,
    findings: Vec<Finding>,
    /// Of the findings, as the bounds count them.
    parts: usize,
    passed: Vec<Arc<str>>,
    not_applicable: Vec<Arc<str>>,
    open: Vec<Open>,
    /// Whether any caution applied for sure. One that may not apply shows nothing by not objecting.
    surely_applied: bool,
}

impl<'t, 'e> Tally<'t, 'e> {
    fn new(finder: Finder<'t, 'e>) -> Self {
        Self {
            finder,
            counts: Counts::default(),
            findings: Vec::new(),
            parts: 0,
            passed: Vec::new(),
            not_applicable: Vec::new(),
            open: Vec::new(),
            surely_applied: false,
        }
    }

    fn caution(&mut self, caution: &Caution, evaluator: &Evaluator<'_>) {
        let (mut applied, mut undecided, mut passed) = (false, false, true);
        for bound in evaluator.each(caution.about) {
            let judged = judge(caution, evaluator, bound);
            self.counts.checks += 1;
            applied |= judged.applies != Truth::No;
            self.surely_applied |= judged.applies == Truth::Yes;
            undecided |= judged.status != Status::Decided;
            passed &= judged.verdict == Verdict::Pass;
            if judged.verdict != Verdict::Pass {
                self.add(caution, judged, bound);
            }
        }
        self.counts.cautions += 1;
        self.counts.undecided += usize::from(undecided);
        match (applied, passed) {
            (false, _) => {
                self.counts.not_applicable += 1;
                self.not_applicable.push(Arc::clone(&caution.id));
            }
            (true, true) => self.passed.push(Arc::clone(&caution.id)),
            (true, false) => {}
        }
        self.counts.applied += usize::from(applied);
    }

    fn add(&mut self, caution: &Caution, judged: Judgement, bound: &Bound) {
        match judged.verdict {
            Verdict::Refuse => self.counts.refuse += 1,
            Verdict::Warn => self.counts.warn += 1,
            Verdict::Pass => {}
        }
        let Some(Found { finding, open }) = self.finder.found(caution, judged, bound) else { return };
        self.open.push(open);
        self.parts += steps::parts(&finding);
        self.findings.push(finding);
    }

    fn report(mut self, rules: &Rules, proposal: &Proposal, acceptance: Acceptance) -> Report {
        let nothing_checked = !self.surely_applied && self.findings.is_empty();
        let (lowest, best) = match (nothing_checked, self.counts.applied) {
            (false, _) => (Verdict::Pass, Verdict::Pass),
            (true, 0) => (Verdict::Warn, Verdict::Warn),
            (true, _) => (Verdict::Warn, Verdict::Pass),
        };
        let highest = |of: fn(&Finding) -> Verdict, lowest: Verdict| self.findings.iter().map(of).max().unwrap_or(lowest).max(lowest);
        let (verdict, best, worst) = (highest(|f| f.verdict, lowest), highest(|f| f.best, best), highest(|f| f.worst, lowest));
        let measure_next = super::next::measure_next(&self.open, &self.findings, verdict, &self.finder);
        self.findings.sort_by(gravest_first);
        let (limits, sources) = super::cited::cited(&self.findings, rules);
        Report {
            format: 1,
            title: proposal.title().into(),
            proposal: proposal.name().to_owned(),
            verdict,
            best,
            worst,
            nothing_checked,
            acceptance,
            rules: rules.layers().to_vec(),
            digest: rules.digest().to_owned(),
            counts: self.counts,
            findings: self.findings,
            passed: self.passed,
            not_applicable: self.not_applicable,
            measure_next,
            loosened: rules.loosened().to_vec(),
            limits,
            sources,
            notice: NOTICE.to_vec(),
        }
    }
}

/// The order of findings: by verdict, what is settled before what is open, what nobody may drop before the rest, then by name.
fn gravest_first(a: &Finding, b: &Finding) -> std::cmp::Ordering {
    let weight = |one: &Finding| (one.verdict, one.status == Status::Decided, one.fixed);
    weight(b).cmp(&weight(a)).then_with(|| (&a.caution, &a.subject).cmp(&(&b.caution, &b.subject)))
}
