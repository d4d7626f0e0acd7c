//! A plan judged: what came of every caution for every subject.

use rules_core::check::{Options, brief, check, judge};
use rules_core::document::Syntax;
use rules_core::facts::{Proposed, Sheet};
use rules_core::formula::Evaluator;
use rules_core::report::{Brief, Report, Verdict};
use rules_core::ruleset::{Acceptance, Rules};
use rulesets::proposal::Proposal;

use super::rules::CATALOGUE;
use super::tree::Tree;

/// What came of a caution for a subject, or of the whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Outcome {
    pub(super) verdict: Verdict,
    pub(super) best: Verdict,
    pub(super) worst: Verdict,
}

/// A plan judged under one acceptance.
pub(super) struct Judged {
    pub(super) brief: Brief,
    /// By the positions of the caution and of what it is about.
    outcomes: Vec<Vec<Outcome>>,
}

/// A plan without errors, judged under both.
pub(super) struct Checked {
    pub(super) tree: Tree,
    pub(super) sheet: Sheet,
    proposal: Proposal,
    /// Guarded and simple.
    judged: [Judged; 2],
}

/// Both ways to judge.
pub(super) const BOTH: [Acceptance; 2] = [Acceptance::Guarded, Acceptance::Simple];

/// Whether a plan can be read.
pub(super) fn is_right(tree: &Tree) -> bool {
    read(tree).is_some()
}

fn read(tree: &Tree) -> Option<Proposal> {
    Proposal::read("plan", tree.written().into(), Syntax::Yaml).ok()
}

const fn under(acceptance: Acceptance) -> Options {
    Options {
        acceptance: Some(acceptance),
    }
}

impl Checked {
    /// None for a plan that is an error, which has no verdict.
    pub(super) fn of(rules: &Rules, tree: Tree) -> Option<Self> {
        let proposal = read(&tree)?;
        let sheet = proposal.facts(&CATALOGUE).ok()?.into_owned();
        let [guarded, simple] = BOTH.map(|acceptance| {
            let brief = brief(rules, &proposal, under(acceptance)).ok()?;
            let outcomes = outcomes(rules, &sheet, acceptance);
            Some(Judged { brief, outcomes })
        });
        Some(Self {
            judged: [guarded?, simple?],
            proposal,
            tree,
            sheet,
        })
    }

    pub(super) fn under(&self, acceptance: Acceptance) -> &Judged {
        let [guarded, simple] = &self.judged;
        match acceptance {
            Acceptance::Guarded => guarded,
            Acceptance::Simple => simple,
        }
    }

    /// The same in full.
    pub(super) fn report(&self, rules: &Rules, acceptance: Acceptance) -> Option<Report> {
        check(rules, &self.proposal, under(acceptance)).ok()
    }
}

fn outcomes(rules: &Rules, sheet: &Sheet, acceptance: Acceptance) -> Vec<Vec<Outcome>> {
    let simple = acceptance == Acceptance::Simple;
    let evaluator = Evaluator::new(rules.catalogue(), rules.program(), sheet, simple);
    let cautions = rules.cautions().iter();
    let of_each = cautions.map(|caution| {
        let each = evaluator.each(caution.about).iter();
        each.map(|bound| {
            let judged = judge(caution, &evaluator, bound);
            Outcome {
                verdict: judged.verdict,
                best: judged.best,
                worst: judged.worst,
            }
        })
        .collect()
    });
    of_each.collect()
}

impl Judged {
    /// What came of the whole.
    pub(super) const fn whole(&self) -> Outcome {
        Outcome {
            verdict: self.brief.verdict,
            best: self.brief.best,
            worst: self.brief.worst,
        }
    }

    /// What came of a caution for one of its subject.
    pub(super) fn get(&self, caution: usize, position: usize) -> Option<Outcome> {
        self.outcomes.get(caution)?.get(position).copied()
    }
}

impl Outcome {
    /// The graver of two.
    pub(super) fn or_graver(self, other: Self) -> Self {
        Self {
            verdict: self.verdict.max(other.verdict),
            best: self.best.max(other.best),
            worst: self.worst.max(other.worst),
        }
    }
}
