//! A plan judged: what came of every caution for every subject.

use rules_core::check::{Brief, Judgement, Options, Report, Verdict, brief, check, given, judge};
use rules_core::document::Syntax;
use rules_core::facts::Sheet;
use rules_core::formula::Evaluator;
use rules_core::ruleset::{Acceptance, Rules};
use rulesets::proposal::Proposal;

use super::tree::Tree;

/// What came of a caution for a subject, or of the whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Outcome {
    pub(super) verdict: Verdict,
    pub(super) best: Verdict,
    pub(super) worst: Verdict,
}

/// A plan judged under one acceptance: by the positions of the caution and of what it is about.
pub(super) struct Judged(Vec<Vec<Outcome>>);

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

fn under(acceptance: Acceptance) -> Options<'static> {
    Options {
        acceptance: Some(acceptance),
        ..Options::default()
    }
}

impl Checked {
    /// None for a plan that is an error, which has no verdict.
    pub(super) fn of(rules: &Rules, tree: Tree) -> Option<Self> {
        let proposal = read(&tree)?;
        let sheet = given(rules, &proposal).ok()?.into_owned();
        Some(Self {
            judged: BOTH.map(|acceptance| Judged::of(rules, &sheet, acceptance)),
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
    pub(super) fn full(&self, rules: &Rules, acceptance: Acceptance) -> Option<Report> {
        check(rules, &self.proposal, under(acceptance)).ok()
    }

    /// The same in brief.
    pub(super) fn brief(&self, rules: &Rules, acceptance: Acceptance) -> Option<Brief> {
        brief(rules, &self.proposal, under(acceptance)).ok()
    }
}

impl Judged {
    fn of(rules: &Rules, sheet: &Sheet, acceptance: Acceptance) -> Self {
        let simple = acceptance == Acceptance::Simple;
        let evaluator = Evaluator::new(rules.catalogue(), rules.program(), sheet, simple);
        let of_each = rules.cautions().iter().map(|caution| {
            let each = evaluator.each(caution.about);
            each.map(|bound| Outcome::of(judge(caution, &evaluator, &bound)))
                .collect()
        });
        Self(of_each.collect())
    }

    /// What came of the whole: the gravest of all.
    pub(super) fn whole(&self) -> Outcome {
        let all = self.0.iter().flatten().copied();
        all.fold(Outcome::PASSED, Outcome::or_graver)
    }

    /// What came of a caution for one of its subject.
    pub(super) fn get(&self, caution: usize, position: usize) -> Option<Outcome> {
        self.0.get(caution)?.get(position).copied()
    }
}

impl Outcome {
    const PASSED: Self = Self {
        verdict: Verdict::Pass,
        best: Verdict::Pass,
        worst: Verdict::Pass,
    };

    const fn of(judged: Judgement) -> Self {
        Self {
            verdict: judged.verdict,
            best: judged.best,
            worst: judged.worst,
        }
    }

    /// The graver of two.
    pub(super) fn or_graver(self, other: Self) -> Self {
        Self {
            verdict: self.verdict.max(other.verdict),
            best: self.best.max(other.best),
            worst: self.worst.max(other.worst),
        }
    }
}
