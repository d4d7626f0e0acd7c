//! One caution, one subject, one judgement.

use super::verdict::{RungName, Status, Verdict};
use crate::formula::{BLOCK, Block, Bound, Evaluator, Truth};
use crate::ruleset::{Caution, CautionCondition, IfUnmeasured};

/// The outcome of a caution for one subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Judgement {
    /// Whether the caution applies.
    pub applies: Truth,
    /// The verdict.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest.
    pub worst: Verdict,
    /// How sure it is.
    pub status: Status,
    /// The rung that gave the verdict; none for a pass.
    pub rung: Option<RungName>,
}

/// Judges a caution for the subject that is bound.
#[must_use]
pub fn judge(caution: &Caution, evaluator: &Evaluator<'_>, bound: &Bound) -> Judgement {
    judge_or_pass(caution, evaluator, bound).unwrap_or(Judgement::PASSED)
}

/// The same; none for a caution that surely applies and has no objection.
fn judge_or_pass(caution: &Caution, evaluator: &Evaluator<'_>, bound: &Bound) -> Option<Judgement> {
    let holds = |rung: &Option<CautionCondition>| {
        rung.as_ref().map_or(Truth::Yes, |rung| {
            evaluator.condition(&rung.condition, bound)
        })
    };
    let applies = holds(&caution.applies_when);
    if applies == Truth::No {
        return Some(Judgement::passed(applies));
    }
    let (refuse, warn) = (holds(&caution.refuse_unless), holds(&caution.warn_unless));
    if refuse == Truth::Yes && warn == Truth::Yes {
        return (applies != Truth::Yes).then(|| Judgement::passed(applies));
    }
    Some(decide(
        applies,
        applies.and(refuse.negated()),
        applies.and(warn.negated()),
        caution.if_unmeasured,
    ))
}

/// Judges a caution for each of its subject, in order, and tells of those that do not plainly pass.
/// Gives how many do: to each of these [`judge`] would give [`Judgement::PASSED`].
pub fn judge_each(
    caution: &Caution,
    evaluator: &Evaluator<'_>,
    mut tell: impl FnMut(usize, &Judgement),
) -> usize {
    let subject = caution.about;
    let mut passes = |position| {
        let bound = evaluator.one(subject, position);
        let judged = judge_or_pass(caution, evaluator, &bound);
        judged.inspect(|judged| tell(position, judged)).is_none()
    };
    let roster = evaluator.sheet().roster(subject);
    let all = roster.map_or(&[][..], |roster| &roster.instances);
    if all.len() == 1 {
        return usize::from(passes(0));
    }
    let (mut passed, mut first) = (0, 0);
    while let Some(block) = Block::from(first, subject, all) {
        let met = plainly_met(caution, evaluator, block);
        passed += met.count();
        passed += met.others().filter(|position| passes(*position)).count();
        first += BLOCK;
    }
    passed
}

/// Those of a block to which a caution surely applies and plainly has no objection. What it asks for
/// is looked at only of those to which it applies: figures may be dear.
fn plainly_met<'b>(
    caution: &Caution,
    evaluator: &Evaluator<'_>,
    mut block: Block<'b>,
) -> Block<'b> {
    let conditions = [
        &caution.applies_when,
        &caution.refuse_unless,
        &caution.warn_unless,
    ];
    for asked in conditions.into_iter().flatten() {
        evaluator.keep_plainly_met(&asked.condition, &mut block);
    }
    block
}

impl Judgement {
    /// Of a caution that surely applies and has no objection.
    pub const PASSED: Self = Self::passed(Truth::Yes);

    /// For a caution that does not apply, or has no objection.
    const fn passed(applies: Truth) -> Self {
        Self {
            applies,
            verdict: Verdict::Pass,
            best: Verdict::Pass,
            worst: Verdict::Pass,
            status: Status::Decided,
            rung: None,
        }
    }
}

/// The decision table. An undecided failure counts as a failure; only a failure that needs a
/// missing fact may be softened, and not below a warning.
fn decide(
    applies: Truth,
    refuse_fails: Truth,
    warn_fails: Truth,
    if_unmeasured: Option<IfUnmeasured>,
) -> Judgement {
    let lenient = if_unmeasured == Some(IfUnmeasured::Warn);
    let by_refuse = match refuse_fails {
        Truth::No => Verdict::Pass,
        fails if lenient && fails.is_undecided() && !fails.doubt_could_make_yes() => Verdict::Warn,
        _ => Verdict::Refuse,
    };
    let by_warn = if warn_fails == Truth::No {
        Verdict::Pass
    } else {
        Verdict::Warn
    };
    let verdict = by_refuse.max(by_warn);
    let fails = |truth: Truth, verdict: Verdict| {
        if truth == Truth::No {
            Verdict::Pass
        } else {
            verdict
        }
    };
    let surely = |truth: Truth, verdict: Verdict| {
        if truth == Truth::Yes {
            verdict
        } else {
            Verdict::Pass
        }
    };
    let worst = verdict
        .max(fails(refuse_fails, Verdict::Refuse))
        .max(fails(warn_fails, Verdict::Warn));
    let best = surely(refuse_fails, Verdict::Refuse).max(surely(warn_fails, Verdict::Warn));
    let status = if best == worst {
        Status::Decided
    } else if refuse_fails.doubt_could_make_yes() || warn_fails.doubt_could_make_yes() {
        Status::InDoubt
    } else {
        Status::Unmeasured
    };
    let rung = match verdict {
        Verdict::Pass => None,
        _ if by_refuse == verdict => Some(RungName::RefuseUnless),
        _ => Some(RungName::WarnUnless),
    };
    Judgement {
        applies,
        verdict,
        best,
        worst,
        status,
        rung,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Truth::{Doubt, No, Unmeasured, Yes};
    use Verdict::{Pass, Refuse, Warn};

    fn outcome(
        refuse: Truth,
        warn: Truth,
        if_unmeasured: Option<IfUnmeasured>,
    ) -> (Verdict, Verdict, Verdict, Status) {
        let judged = decide(Yes, refuse, warn, if_unmeasured);
        (judged.verdict, judged.best, judged.worst, judged.status)
    }

    #[test]
    fn decided_failures() {
        assert_eq!(outcome(No, No, None), (Pass, Pass, Pass, Status::Decided));
        assert_eq!(outcome(No, Yes, None), (Warn, Warn, Warn, Status::Decided));
        assert_eq!(
            outcome(Yes, No, None),
            (Refuse, Refuse, Refuse, Status::Decided)
        );
        assert_eq!(
            outcome(Yes, Unmeasured, None),
            (Refuse, Refuse, Refuse, Status::Decided)
        );
    }

    #[test]
    fn doubt_fails_and_nothing_softens_it() {
        for soft in [None, Some(IfUnmeasured::Warn), Some(IfUnmeasured::Refuse)] {
            assert_eq!(
                outcome(Doubt, No, soft),
                (Refuse, Pass, Refuse, Status::InDoubt)
            );
            assert_eq!(
                outcome(No, Doubt, soft),
                (Warn, Pass, Warn, Status::InDoubt)
            );
            assert_eq!(
                outcome(Doubt, Yes, soft),
                (Refuse, Warn, Refuse, Status::InDoubt)
            );
        }
    }

    #[test]
    fn a_missing_measurement_may_be_softened_to_a_warning() {
        assert_eq!(
            outcome(Unmeasured, No, None),
            (Refuse, Pass, Refuse, Status::Unmeasured)
        );
        assert_eq!(
            outcome(Unmeasured, No, Some(IfUnmeasured::Warn)),
            (Warn, Pass, Refuse, Status::Unmeasured)
        );
        assert_eq!(
            outcome(No, Unmeasured, None),
            (Warn, Pass, Warn, Status::Unmeasured)
        );
        assert_eq!(
            outcome(No, Unmeasured, Some(IfUnmeasured::Refuse)),
            (Warn, Pass, Warn, Status::Unmeasured)
        );
        assert_eq!(
            outcome(Unmeasured, Yes, Some(IfUnmeasured::Warn)),
            (Warn, Warn, Refuse, Status::Unmeasured)
        );
        assert_eq!(
            outcome(Unmeasured, Doubt, Some(IfUnmeasured::Warn)),
            (Warn, Pass, Refuse, Status::InDoubt)
        );
    }

    #[test]
    fn only_what_needs_a_missing_fact_to_fail_is_softened() {
        let soft = Some(IfUnmeasured::Warn);
        // a and b, with a in doubt and b missing: a alone could fail. a or b: only both together.
        let (both, either) = (
            Doubt.and(Unmeasured).negated(),
            Doubt.or(Unmeasured).negated(),
        );
        assert_eq!(outcome(both, No, soft).0, Refuse);
        assert_eq!(outcome(either, No, soft).0, Warn);
        assert_eq!(outcome(either, No, soft).3, Status::Unmeasured);
    }

    #[test]
    fn the_rung_that_gave_the_verdict_is_named() {
        assert_eq!(decide(Yes, No, No, None).rung, None);
        assert_eq!(decide(Yes, No, Yes, None).rung, Some(RungName::WarnUnless));
        assert_eq!(
            decide(Yes, Yes, Yes, None).rung,
            Some(RungName::RefuseUnless)
        );
        assert_eq!(
            decide(Yes, No, Unmeasured, None).rung,
            Some(RungName::WarnUnless)
        );
    }
}
