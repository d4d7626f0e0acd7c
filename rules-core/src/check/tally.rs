//! All cautions over all subjects: their outcomes, before anything is reported.

use std::sync::Arc;

use super::judge::{Judgement, judge_each};
use super::report::Counts;
use super::stages::{Asked, Parts};
use super::steps;
use super::verdict::{Status, Verdict};
use crate::document::ProblemList;
use crate::formula::{Evaluator, Truth};
use crate::ruleset::{Caution, Rules};

/// The objection of a caution to one of its subject.
pub(super) struct Against<'t> {
    pub caution: &'t Caution,
    /// Which of its subject.
    pub position: usize,
    pub judged: Judgement,
}

impl Against<'_> {
    fn weight(&self) -> (Verdict, bool, bool) {
        (
            self.judged.verdict,
            self.judged.status == Status::Decided,
            self.caution.fixed,
        )
    }
}

/// The outcome of all cautions.
#[derive(Default)]
pub(super) struct Tally<'t> {
    pub counts: Counts,
    pub passed: Vec<Arc<str>>,
    pub not_applicable: Vec<Arc<str>>,
    pub against: Vec<Against<'t>>,
    pub parts: Parts,
}

impl<'t> Tally<'t> {
    /// Judges every caution that is asked for, for each of its subject. What is gravest comes first,
    /// then what is settled, then what nobody may drop, then by name.
    pub(super) fn of(
        rules: &'t Rules,
        evaluator: &Evaluator<'_>,
        asked: &Asked,
    ) -> Result<Self, ProblemList> {
        let mut tally = Self {
            passed: Vec::with_capacity(rules.cautions().len()),
            parts: Parts::of(rules),
            ..Self::default()
        };
        let cautions = rules.cautions().iter();
        for caution in cautions.filter(|caution| asked.holds_caution(caution)) {
            tally.caution(caution, evaluator);
            steps::few_enough(tally.against.len())?;
        }
        let name = |one: &Against<'t>| {
            evaluator
                .sheet()
                .instance(one.caution.about, one.position)
                .map(|one| one.name.as_str())
        };
        tally.against.sort_by(|a, b| {
            b.weight()
                .cmp(&a.weight())
                .then_with(|| (&a.caution.id, name(a)).cmp(&(&b.caution.id, name(b))))
        });
        Ok(tally)
    }

    fn caution(&mut self, caution: &'t Caution, evaluator: &Evaluator<'_>) {
        let (mut applied, mut undecided, mut passed) = (false, false, true);
        let plainly_passed = judge_each(caution, evaluator, |position, judged| {
            self.counts.checks += 1;
            applied |= judged.applies != Truth::No;
            self.parts.add(caution, judged);
            undecided |= judged.status != Status::Decided;
            passed &= judged.verdict == Verdict::Pass;
            match judged.verdict {
                Verdict::Pass => return,
                Verdict::Warn => self.counts.warn += 1,
                Verdict::Refuse => self.counts.refuse += 1,
            }
            self.against.push(Against {
                caution,
                position,
                judged: *judged,
            });
        });
        if plainly_passed > 0 {
            applied = true;
            self.parts.add(caution, &Judgement::PASSED);
        }
        self.counts.checks += plainly_passed;
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
}
