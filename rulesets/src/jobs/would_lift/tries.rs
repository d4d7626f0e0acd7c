//! Checks of a plan with answers, counted.

use rules_core::check::{Brief, BriefFinding, Report, Verdict};
use rules_core::document::ProblemList;
use rules_core::ruleset::Rules;

use crate::jobs::Trial;
use crate::proposal::{Draft, Proposal};

/// An answer, at its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Answer {
    pub place: String,
    pub value: String,
}

/// How far a plan is from its aim, the nearest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Score {
    /// How many findings have the verdict whatever else is answered.
    surely: usize,
    /// How many have it.
    holding: usize,
    /// How many speak against the plan more mildly, whatever else is answered.
    mildly: usize,
}

/// The checks that are made, within a bound.
pub(super) struct Tries<'t, 'r> {
    plain: &'t Trial<'r>,
    aim: Verdict,
    made: usize,
    most: usize,
}

impl<'t, 'r> Tries<'t, 'r> {
    /// Of a plan that is written out.
    pub(super) const fn of(plain: &'t Trial<'r>, aim: Verdict, most: usize) -> Self {
        let made = 0;
        Self {
            plain,
            aim,
            made,
            most,
        }
    }

    pub(super) const fn rules(&self) -> &'r Rules {
        self.plain.rules()
    }

    /// The verdict that is to be lifted.
    pub(super) const fn aim(&self) -> Verdict {
        self.aim
    }

    /// How many checks were made.
    pub(super) const fn made(&self) -> usize {
        self.made
    }

    /// Whether so many more checks may be made.
    pub(super) const fn has_left(&self, checks: usize) -> bool {
        self.made + checks <= self.most
    }

    /// What the plan comes to with answers. Nothing where the bound is reached, or where they contradict
    /// the plan or each other.
    pub(super) fn with<'a>(
        &mut self,
        answers: impl IntoIterator<Item = &'a Answer>,
    ) -> Option<Brief> {
        self.answered(answers)?.brief().ok()
    }

    /// The same as a report.
    pub(super) fn report<'a>(
        &mut self,
        answers: impl IntoIterator<Item = &'a Answer>,
    ) -> Option<Report> {
        self.answered(answers)?.report().ok()
    }

    /// The proposal with answers, which is not checked.
    pub(super) fn proposal(&self, answers: &[Answer]) -> Option<Proposal> {
        let answered = self.plain.with(|draft| write(draft, answers)).ok()?;
        answered.proposal().ok()
    }

    /// The verdict that a plan is lifted to by answers; none if it is not.
    pub(super) fn lifted<'a>(
        &mut self,
        answers: impl IntoIterator<Item = &'a Answer>,
    ) -> Option<Verdict> {
        let came = self.with(answers)?.gravest().verdict;
        (came < self.aim).then_some(came)
    }

    fn answered<'a>(&mut self, answers: impl IntoIterator<Item = &'a Answer>) -> Option<Trial<'r>> {
        if !self.has_left(1) {
            return None;
        }
        self.made += 1;
        self.plain.with(|draft| write(draft, answers)).ok()
    }

    /// Whether a finding stands in the way.
    pub(super) fn holds(&self, finding: &BriefFinding) -> bool {
        finding.verdict >= self.aim
    }

    pub(super) fn score<'b>(&self, findings: impl Iterator<Item = &'b BriefFinding>) -> Score {
        let nothing = Score {
            surely: 0,
            holding: 0,
            mildly: 0,
        };
        findings.fold(nothing, |score, one| Score {
            surely: score.surely + usize::from(one.best >= self.aim),
            holding: score.holding + usize::from(self.holds(one)),
            mildly: score.mildly + usize::from(one.best > Verdict::Pass),
        })
    }
}

fn write<'a>(
    draft: &mut Draft,
    answers: impl IntoIterator<Item = &'a Answer>,
) -> Result<(), ProblemList> {
    let mut all = answers.into_iter();
    all.try_for_each(|answer| draft.set(&answer.place, answer.value.as_str()))
}
