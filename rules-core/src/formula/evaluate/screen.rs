//! Which of a subject plainly meet a condition: in one pass over all of them, by their intervals
//! alone.
//!
//! What is plain here is what evaluation gives too: it takes the same intervals, or narrower ones.
//! Of what is not plain nothing is said, and it is evaluated.

use super::condition::plainly;
use super::evaluator::Evaluator;
use crate::facts::{Instance, SubjectId, Value};
use crate::formula::bound::Bound;
use crate::formula::tree::Comparison;
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, FactRef, Number, Operand, Test};
use crate::quantity::Interval;

/// How many of a subject are looked at together.
pub(crate) const BLOCK: usize = 64;

/// Some of a subject that stand together, and which of them are left.
#[derive(Debug)]
pub(crate) struct Block<'b> {
    subject: SubjectId,
    instances: &'b [Instance],
    bounds: &'b [Bound],
    left: u64,
}

impl<'b> Block<'b> {
    /// These of a subject, of which as many are left as can be: at most [`BLOCK`].
    pub(crate) fn of(subject: SubjectId, instances: &'b [Instance], bounds: &'b [Bound]) -> Self {
        let count = instances.len().min(bounds.len()).min(BLOCK);
        let left = u64::MAX.checked_shr(u32::try_from(BLOCK - count).unwrap_or(0));
        Self {
            subject,
            instances,
            bounds,
            left: left.unwrap_or(0),
        }
    }

    /// How many are left.
    pub(crate) const fn count(&self) -> usize {
        self.left.count_ones() as usize
    }

    /// Those that are not left, with their places.
    pub(crate) fn others(&self) -> impl Iterator<Item = (usize, &'b Bound)> + use<'b> {
        let left = self.left;
        let all = self.bounds.iter().enumerate();
        all.filter(move |(place, _)| left & (1 << place) == 0)
    }

    /// Keeps those of which this is so.
    fn keep(&mut self, is_so: impl Fn(&Instance, &Bound) -> bool) {
        let all = self.instances.iter().zip(self.bounds).enumerate();
        let mut kept = 0;
        for (place, (instance, bound)) in all.take(BLOCK) {
            let is_left = self.left & (1 << place) != 0;
            kept |= u64::from(is_left && is_so(instance, bound)) << place;
        }
        self.left = kept;
    }
}

/// One side of a comparison.
enum Side<'n> {
    /// The same for all of the subject.
    Same(Interval),
    /// A fact of each.
    Own(usize),
    /// Something to be worked out for each.
    Each(&'n Number),
}

impl Evaluator<'_> {
    /// Keeps of a block those that plainly meet a condition.
    pub(crate) fn keep_plainly_met(&self, condition: &Condition, block: &mut Block<'_>) {
        match &condition.form {
            Test::And(parts) => {
                for part in parts {
                    self.keep_plainly_met(part, block);
                }
            }
            Test::In(fact, set) => self.keep_given(
                *fact,
                block,
                |value| matches!(value, Value::Choice(possible) if possible.within(*set)),
            ),
            Test::Fact(fact) => {
                self.keep_given(*fact, block, |value| matches!(value, Value::YesNo(true)));
            }
            Test::Compare {
                comparison,
                left,
                right,
                ..
            } => self.keep_compared(*comparison, (left, right), block),
            _ => block.keep(|_, bound| self.condition(condition, bound) == Truth::Yes),
        }
    }

    fn keep_given(&self, fact: FactRef, block: &mut Block<'_>, is_so: impl Fn(&Value) -> bool) {
        if fact.subject == block.subject && !self.sheet.is_unsettled(fact.subject) {
            let own = |one: &Instance| one.given(fact.slot).is_some_and(|own| is_so(&own.value));
            block.keep(|one, _| own(one));
        } else {
            block.keep(|_, bound| self.given(fact, bound).is_some_and(&is_so));
        }
    }

    fn keep_compared(
        &self,
        comparison: Comparison,
        (left, right): (&Operand, &Operand),
        block: &mut Block<'_>,
    ) {
        let side = |operand| self.side_of(operand, block.subject);
        match (side(left), side(right)) {
            (Side::Own(slot), Side::Same(right)) => block.keep(|one, _| {
                let left = self.own_range(one, slot);
                left.is_some_and(|left| plainly(comparison, left, right) == Some(true))
            }),
            (left, right) => block.keep(|one, bound| {
                let range = |side: &Side<'_>| match side {
                    Side::Same(range) => Some(*range),
                    Side::Own(slot) => self.own_range(one, *slot),
                    Side::Each(number) => Some(self.wide(number, bound).range),
                };
                let sides = range(&left).zip(range(&right));
                sides.is_some_and(|(left, right)| plainly(comparison, left, right) == Some(true))
            }),
        }
    }

    /// A side of a comparison.
    fn side_of<'n>(&self, operand: &'n Operand, subject: SubjectId) -> Side<'n> {
        match &operand.number {
            Number::Fact(fact) if self.sheet.is_unsettled(fact.subject) => {
                Side::Same(self.domain(*fact))
            }
            Number::Fact(fact) if fact.subject == subject => Side::Own(fact.slot),
            Number::Fact(fact) if self.catalogue.is_many(fact.subject) => {
                Side::Each(&operand.number)
            }
            number @ (Number::Constant(_) | Number::Limit(_) | Number::Fact(_)) => {
                Side::Same(self.wide(number, &Bound::default()).range)
            }
            number => Side::Each(number),
        }
    }

    fn own_range(&self, one: &Instance, slot: usize) -> Option<Interval> {
        match &one.given(slot)?.value {
            Value::Number(value) => Some(self.accepted(value).range()),
            _ => None,
        }
    }
}
