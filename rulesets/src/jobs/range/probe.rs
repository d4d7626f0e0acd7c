//! A plan that is checked with some of its values supposed, and what bears on them.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::{
    Brief, BriefFinding, FigureSheet, Options, Report, Verdict, brief, check, figures,
};
use rules_core::document::{Fault, ProblemList, Problems, Source};
use rules_core::facts::{Catalogue, Given, Proposed, Sheet};
use rules_core::ruleset::{Acceptance, Caution, Rules};

use super::named::Varied;
use crate::jobs::trial::Trial;
use crate::proposal::Proposal;

/// A verdict, and the lowest that what is known allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Came {
    pub verdict: Verdict,
    pub best: Verdict,
}

impl Came {
    /// Whether nothing that is known could make it another.
    pub(super) fn is_settled(self) -> bool {
        self.verdict == self.best
    }

    fn of<'f>(findings: impl Iterator<Item = &'f BriefFinding>) -> Self {
        let nothing = Self {
            verdict: Verdict::Pass,
            best: Verdict::Pass,
        };
        findings.fold(nothing, |so_far, one| Self {
            verdict: so_far.verdict.max(one.verdict),
            best: so_far.best.max(one.best),
        })
    }
}

/// What a check came to with some values supposed.
#[derive(Debug, Clone)]
pub(super) struct Judged {
    /// All that was asked for.
    pub whole: Came,
    /// The cautions that the varied facts bear on.
    pub alone: Came,
    /// Their findings.
    pub findings: Vec<BriefFinding>,
}

/// What came of supposing some values.
#[derive(Debug, Clone)]
pub(super) enum Supposed {
    /// A check.
    Judged(Judged),
    /// They contradict what else the plan says: why.
    CannotBe(String),
}

/// Values of some facts of a plan, by where they are.
pub(super) type Values<'v, 'r> = [(&'v Varied<'r>, Given)];

/// A plan to be checked with values supposed.
pub(super) struct Probe<'r> {
    rules: &'r Rules,
    options: Options<'r>,
    proposal: Proposal,
    sheet: Sheet,
    /// The cautions that the varied facts bear on.
    bearing: BTreeSet<Arc<str>>,
    /// Where these facts are written.
    places: BTreeSet<String>,
    /// How many checks were made.
    pub made: usize,
    /// How many may be made.
    pub most: usize,
}

impl<'r> Probe<'r> {
    /// Of a plan that has no faults.
    ///
    /// What is proved of an interval has to hold for each value in it, so that acceptance is guarded
    /// here whatever the rules have.
    pub(super) fn of(trial: &Trial<'r>, most: usize) -> Result<Self, ProblemList> {
        let rules = trial.rules();
        let options = Options {
            acceptance: Some(Acceptance::Guarded),
            narrowing: false,
            ..trial.options()
        };
        let proposal = trial.proposal()?;
        brief(rules, &proposal, options)?;
        let sheet = proposal.facts(rules.catalogue())?.into_owned();
        Ok(Self {
            rules,
            options,
            proposal,
            sheet,
            bearing: BTreeSet::new(),
            places: BTreeSet::new(),
            made: 1,
            most,
        })
    }

    pub(super) const fn rules(&self) -> &'r Rules {
        self.rules
    }

    /// What the plan gives.
    pub(super) const fn sheet(&self) -> &Sheet {
        &self.sheet
    }

    /// The title of the plan.
    pub(super) fn title(&self) -> &str {
        self.proposal.title()
    }

    /// What messages call the plan.
    pub(super) fn name(&self) -> &str {
        self.proposal.name()
    }

    /// The stages that were asked for; none for all of it.
    pub(super) const fn stages(&self) -> &[&'r str] {
        self.options.stages
    }

    /// Whether another check may be made.
    pub(super) const fn may_check(&self) -> bool {
        self.made < self.most
    }

    /// Finds the cautions of what was asked for that look at these facts, directly or through figures.
    pub(super) fn vary(&mut self, varied: &[&Varied<'r>]) {
        let all = self.rules.cautions().iter();
        let asked = all.filter(|caution| self.is_asked(caution));
        let reading = asked.filter(|caution| {
            let uses = self.rules.uses_of(caution);
            varied.iter().any(|one| uses.facts.contains(&one.id))
        });
        self.bearing = reading.map(|caution| Arc::clone(&caution.id)).collect();
        self.places = varied.iter().map(|one| one.path.clone()).collect();
    }

    fn is_asked(&self, caution: &Caution) -> bool {
        let stage = self.rules.stage_of(caution);
        self.options.stages.is_empty()
            || stage.is_none_or(|stage| self.options.stages.contains(&&*stage.id))
    }

    /// The names of the cautions that the varied facts bear on.
    pub(super) const fn bearing(&self) -> &BTreeSet<Arc<str>> {
        &self.bearing
    }

    /// Where what is varied is written.
    pub(super) const fn places(&self) -> &BTreeSet<String> {
        &self.places
    }

    /// Checks the plan with these values.
    pub(super) fn suppose(&mut self, values: &Values<'_, 'r>) -> Result<Supposed, ProblemList> {
        self.made += 1;
        let plan = self.plan_with(values);
        match brief(self.rules, &plan, self.options) {
            Ok(brief) => Ok(Supposed::Judged(self.judged(brief))),
            Err(problems) => cannot_be(problems).map(Supposed::CannotBe),
        }
    }

    /// The report on the plan with these values; none where they contradict what else it says.
    pub(super) fn report(
        &mut self,
        values: &Values<'_, 'r>,
    ) -> Result<Option<Report>, ProblemList> {
        self.unless_it_cannot_be(values, check)
    }

    /// The figures of the plan with these values; none where they contradict what else it says.
    pub(super) fn figures(
        &mut self,
        values: &Values<'_, 'r>,
    ) -> Result<Option<FigureSheet>, ProblemList> {
        self.unless_it_cannot_be(values, figures)
    }

    fn unless_it_cannot_be<A>(
        &mut self,
        values: &Values<'_, 'r>,
        ask: fn(&Rules, &dyn Proposed, Options<'_>) -> Result<A, ProblemList>,
    ) -> Result<Option<A>, ProblemList> {
        self.made += 1;
        let plan = self.plan_with(values);
        match ask(self.rules, &plan, self.options) {
            Ok(answer) => Ok(Some(answer)),
            Err(problems) => cannot_be(problems).map(|_| None),
        }
    }

    fn plan_with(&self, values: &Values<'_, 'r>) -> PlanWith<'_> {
        let mut sheet = self.sheet.clone();
        for (varied, given) in values {
            if let Some(instance) = sheet.instance_mut(varied.def.subject, varied.position) {
                instance.set(varied.slot, given.clone());
            }
        }
        PlanWith {
            proposal: &self.proposal,
            sheet,
        }
    }

    fn judged(&self, brief: Brief) -> Judged {
        let outcome = brief.gravest();
        let whole = Came {
            verdict: outcome.verdict,
            best: outcome.best,
        };
        let bears = |finding: &BriefFinding| self.bearing.contains(&finding.caution);
        let (mut findings, apart): (Vec<_>, Vec<_>) = brief.findings.into_iter().partition(bears);
        let mut alone = Came::of(findings.iter());
        // Where nothing surely applies that is a warning of no caution, which values may change.
        if outcome.nothing_checked || whole != joined(alone, Came::of(apart.iter())) {
            alone = whole;
            findings.extend(apart);
        }
        Judged {
            whole,
            alone,
            findings,
        }
    }
}

fn joined(one: Came, other: Came) -> Came {
    Came {
        verdict: one.verdict.max(other.verdict),
        best: one.best.max(other.best),
    }
}

/// The first thing that is contradicted; anything else that is wrong is passed on.
fn cannot_be(problems: ProblemList) -> Result<String, ProblemList> {
    let known = [Fault::Contradiction, Fault::OutOfDomain];
    match problems.first() {
        Some(first) if problems.iter().all(|one| known.contains(&one.fault)) => {
            Ok(first.message.clone())
        }
        _ => Err(problems),
    }
}

/// A plan with other facts than it gives itself.
struct PlanWith<'p> {
    proposal: &'p Proposal,
    sheet: Sheet,
}

impl Proposed for PlanWith<'_> {
    fn title(&self) -> &str {
        self.proposal.title()
    }

    fn name(&self) -> &str {
        self.proposal.name()
    }

    fn source(&self) -> Option<&Source> {
        self.proposal.source()
    }

    fn notes(&self) -> &[Arc<str>] {
        self.proposal.notes()
    }

    fn facts_and_faults(&self, _: &Catalogue, _: &mut Problems<'_>) -> Cow<'_, Sheet> {
        Cow::Borrowed(&self.sheet)
    }
}
