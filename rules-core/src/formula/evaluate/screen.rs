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
    /// The position of the first.
    first: usize,
    instances: &'b [Instance],
    left: u64,
}

impl<'b> Block<'b> {
    /// Those of a subject from a position on, at most [`BLOCK`], all of them left; none where there
    /// are no more.
    pub(crate) fn from(first: usize, subject: SubjectId, all: &'b [Instance]) -> Option<Self> {
        let rest = all.get(first..)?;
        let count = rest.len().min(BLOCK);
        let left = u64::MAX.checked_shr(u32::try_from(BLOCK - count).ok()?)?;
        Some(Self {
            subject,
            first,
            instances: rest.get(..count)?,
            left,
        })
    }

    /// How many are left.
    pub(crate) const fn count(&self) -> usize {
        self.left.count_ones() as usize
    }

    /// The positions of those that are not left.
    pub(crate) fn others(&self) -> impl Iterator<Item = usize> + use<> {
        let (left, first) = (self.left, self.first);
        let all = 0..self.instances.len();
        let others = all.filter(move |place| left & (1 << place) == 0);
        others.map(move |place| first + place)
    }

    /// Keeps those, of one and its position, of which this is so.
    #[inline]
    fn keep(&mut self, is_so: impl Fn(&Instance, usize) -> bool) {
        let mut bit = 1;
        for (position, instance) in (self.first..).zip(self.instances) {
            if self.left & bit != 0 && !is_so(instance, position) {
                self.left &= !bit;
            }
            bit <<= 1;
        }
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
            _ => {
                let subject = block.subject;
                block.keep(|_, position| {
                    self.condition(condition, &self.one(subject, position)) == Truth::Yes
                });
            }
        }
    }

    fn keep_given(&self, fact: FactRef, block: &mut Block<'_>, is_so: impl Fn(&Value) -> bool) {
        let subject = block.subject;
        if fact.subject == subject && !self.sheet.is_unsettled(subject) {
            let own = |one: &Instance| one.given(fact.slot).is_some_and(|own| is_so(&own.value));
            block.keep(|one, _| own(one));
        } else {
            let given = |position| self.given(fact, &self.one(subject, position));
            block.keep(|_, position| given(position).is_some_and(&is_so));
        }
    }

    fn keep_compared(
        &self,
        comparison: Comparison,
        (left, right): (&Operand, &Operand),
        block: &mut Block<'_>,
    ) {
        let subject = block.subject;
        let is_so = |left, right| plainly(comparison, left, right) == Some(true);
        match (self.side_of(left, subject), self.side_of(right, subject)) {
            (Side::Own(slot), Side::Same(right)) => block.keep(|one, _| {
                let left = self.own_range(one, slot);
                left.is_some_and(|left| is_so(left, right))
            }),
            (left, right) => block.keep(|one, position| {
                let range = |side: &Side<'_>| match side {
                    Side::Same(range) => Some(*range),
                    Side::Own(slot) => self.own_range(one, *slot),
                    Side::Each(number) => {
                        Some(self.wide(number, &self.one(subject, position)).range)
                    }
                };
                let sides = range(&left).zip(range(&right));
                sides.is_some_and(|(left, right)| is_so(left, right))
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
