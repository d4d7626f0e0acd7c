//! What a check comes to with the margins of what passes: for comparing proposals with each other.

use super::judge::{Judgement, judge};
use super::stages::{Asked, Outcome, Parts, gravest};
use super::steps;
use super::verdict::Verdict;
use crate::document::ProblemList;
use crate::facts::Sheet;
use crate::formula::{Amid, Bound, Evaluator, Leeway, Truth};
use crate::ruleset::{Acceptance, Caution, CautionCondition, IfUnmeasured, Rules};

use super::run::Options;

/// What a caution came to for one of its subject.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighed {
    /// The caution, by its position among those of the rules.
    pub caution: usize,
    /// The one of its subject, by its position.
    pub position: usize,
    /// The judgement.
    pub judged: Judgement,
    /// The verdict; of a part that others may join, the least that can still come of it.
    pub least: Verdict,
    /// By how much what must hold does, if the judgement is a pass and an amount decides it.
    pub leeway: Option<Leeway>,
}

/// Judges cautions and says by how much they pass.
///
/// The margin of a caution for one of its subject is that of its conditions, `refuse_unless` and
/// `warn_unless`, the narrower of both. That of a comparison by order is the distance of its sides at
/// the worst, as a share of the right side. Of conditions joined by `and`, and of `every`, it is the
/// narrowest; of those joined by `or`, and of `any`, the widest of those that hold. Counts, choices,
/// temperatures on a scale and comparisons with nothing have none. Nor has a caution that does not
/// apply, or that does not pass.
#[derive(Debug)]
pub struct Scales<'r> {
    rules: &'r Rules,
    asked: Asked,
    simple: bool,
}

impl<'r> Scales<'r> {
    /// Scales for these rules.
    ///
    /// # Errors
    ///
    /// Stages that the rules do not have.
    pub fn of(rules: &'r Rules, options: Options<'_>) -> Result<Self, ProblemList> {
        let acceptance = options.acceptance.unwrap_or_else(|| rules.acceptance());
        Ok(Self {
            rules,
            asked: Asked::of(rules, options.stages)?,
            simple: acceptance == Acceptance::Simple,
        })
    }

    /// Whether what must hold has to hold for whole intervals.
    #[must_use]
    pub const fn is_guarded(&self) -> bool {
        !self.simple
    }

    /// The cautions that are asked for, by their positions among those of the rules.
    #[must_use]
    pub fn cautions(&self) -> Vec<usize> {
        let all = self.rules.cautions().iter().enumerate();
        all.filter(|(_, caution)| self.asked.holds_caution(caution))
            .map(|(at, _)| at)
            .collect()
    }

    /// The facts given of a whole proposal by all cautions that are asked for: what a check of it
    /// comes to, and each judgement.
    ///
    /// # Errors
    ///
    /// More steps than [`crate::bounds`] allow.
    pub fn whole(&self, sheet: &Sheet) -> Result<(Outcome, Vec<Weighed>), ProblemList> {
        let each = self.each(sheet, &self.cautions(), Amid::All)?;
        let mut parts = Parts::of(self.rules);
        for one in &each {
            if let Some(caution) = self.rules.cautions().get(one.caution) {
                parts.add(caution, &one.judged);
            }
        }
        let (whole, stages) = (
            parts.whole(&self.asked),
            parts.stages(self.rules, &self.asked),
        );
        Ok((gravest(whole, &stages), each))
    }

    /// The facts given of a part, by some cautions: where others may still join, no other makes a
    /// margin wider.
    ///
    /// # Errors
    ///
    /// More steps than [`crate::bounds`] allow.
    pub fn part(&self, sheet: &Sheet, cautions: &[usize]) -> Result<Vec<Weighed>, ProblemList> {
        self.each(sheet, cautions, Amid::Some)
    }

    fn each(
        &self,
        sheet: &Sheet,
        cautions: &[usize],
        amid: Amid,
    ) -> Result<Vec<Weighed>, ProblemList> {
        steps::within_bounds(self.rules, sheet)?;
        let (catalogue, program) = (self.rules.catalogue(), self.rules.program());
        let evaluator = Evaluator::new(catalogue, program, sheet, self.simple);
        let mut found = Vec::new();
        for at in cautions {
            let Some(caution) = self.rules.cautions().get(*at) else {
                continue;
            };
            for (position, bound) in evaluator.each(caution.about).enumerate() {
                let weighing = Weighing {
                    caution,
                    evaluator: &evaluator,
                    amid,
                    bound: &bound,
                };
                let judged = judge(caution, &evaluator, &bound);
                found.push(weighing.weighed(*at, position, judged));
            }
        }
        Ok(found)
    }
}

/// One caution for one of its subject.
struct Weighing<'w, 'e> {
    caution: &'w Caution,
    evaluator: &'w Evaluator<'e>,
    amid: Amid,
    bound: &'w Bound,
}

impl Weighing<'_, '_> {
    fn weighed(&self, caution: usize, position: usize, judged: Judgement) -> Weighed {
        let refuse = self.rung(self.caution.refuse_unless.as_ref());
        let warn = self.rung(self.caution.warn_unless.as_ref());
        let least = match self.amid {
            Amid::All => judged.verdict,
            Amid::Some => self.least(&judged, refuse.is_some(), warn.is_some()),
        };
        let applies = judged.applies != Truth::No && least == Verdict::Pass;
        let narrowest = refuse.zip(warn).map(|(one, other)| one.narrower(other));
        Weighed {
            caution,
            position,
            judged,
            least,
            leeway: narrowest.filter(|narrowest| applies && narrowest.share.is_finite()),
        }
    }

    fn rung(&self, rung: Option<&CautionCondition>) -> Option<Leeway> {
        rung.map_or(Some(Leeway::FREE), |rung| {
            self.evaluator
                .leeway(&rung.condition, self.amid, self.bound)
        })
    }

    /// What does not surely hold never will, and is at least a warning.
    fn least(&self, judged: &Judgement, refuse: bool, warn: bool) -> Verdict {
        let softened = self.caution.if_unmeasured == Some(IfUnmeasured::Warn);
        match (refuse, warn) {
            _ if judged.applies == Truth::No => Verdict::Pass,
            (true, true) => Verdict::Pass,
            (false, _) if !softened => Verdict::Refuse,
            _ => Verdict::Warn,
        }
    }
}
