//! Which of a subject plainly meet a condition: in one pass over all of them, by their intervals
//! alone.
//!
//! What is plain here is what evaluation gives too: it takes the same intervals, or narrower ones.
//! Of what is not plain nothing is said, and it is evaluated.

use super::condition::compared;
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

    /// Whether the one at a place is left.
    pub(crate) const fn has(&self, place: usize) -> bool {
        self.left & (1 << place) != 0
    }

    /// Keeps none.
    pub(crate) const fn keep_none(&mut self) {
        self.left = 0;
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
        let Some((left, right)) = side(left).zip(side(right)) else {
            return block.keep_none();
        };
        match (left, right) {
            (Side::Own(slot), Side::Same(right)) => block.keep(|one, _| {
                let left = self.own_range(one, slot);
                left.is_some_and(|left| plainly(comparison, left, right))
            }),
            (left, right) => block.keep(|one, bound| {
                let range = |side: &Side<'_>| match side {
                    Side::Same(range) => Some(*range),
                    Side::Own(slot) => self.own_range(one, *slot),
                    Side::Each(number) => self.wide_range(number, bound),
                };
                let sides = range(&left).zip(range(&right));
                sides.is_some_and(|(left, right)| plainly(comparison, left, right))
            }),
        }
    }

    /// A side of a comparison; none where nothing is known of it.
    fn side_of<'n>(&self, operand: &'n Operand, subject: SubjectId) -> Option<Side<'n>> {
        match &operand.number {
            number @ (Number::Constant(_) | Number::Limit(_)) => {
                self.wide_range(number, &Bound::default()).map(Side::Same)
            }
            Number::Fact(fact) if self.sheet.is_unsettled(fact.subject) => None,
            Number::Fact(fact) if fact.subject == subject => Some(Side::Own(fact.slot)),
            number @ Number::Fact(fact) if !self.catalogue.is_many(fact.subject) => {
                self.wide_range(number, &Bound::default()).map(Side::Same)
            }
            number => Some(Side::Each(number)),
        }
    }

    fn own_range(&self, one: &Instance, slot: usize) -> Option<Interval> {
        self.range_of(&one.given(slot)?.value)
    }

    fn range_of(&self, value: &Value) -> Option<Interval> {
        match value {
            Value::Number(value) if self.simple => Some(value.to_nominal().range()),
            Value::Number(value) => Some(value.range()),
            _ => None,
        }
    }

    /// An interval that holds that of a number; none where something is missing.
    fn wide_range(&self, number: &Number, bound: &Bound) -> Option<Interval> {
        let exact = || {
            let (range, missing) = self.range(number, bound);
            (!missing).then_some(range)
        };
        match number {
            Number::Fact(fact) => self.range_of(self.given(*fact, bound)?),
            Number::Product(factors) => {
                let wide = self.wide_product(factors, bound);
                wide.or_else(exact)
            }
            _ => exact(),
        }
    }

    /// The product of positive numbers by bounds that are easily had; none where it is no such.
    fn wide_product(&self, factors: &[(bool, Number)], bound: &Bound) -> Option<Interval> {
        let positive = |number: &Number| {
            let range = self.wide_range(number, bound)?;
            (range.lo() > 0.0).then_some(range)
        };
        let ((_, first), others) = factors.split_first()?;
        let mut so_far = positive(first)?;
        for (by, factor) in others {
            let factor = positive(factor)?;
            let (low, high) = match by {
                false => (so_far.lo() * factor.lo(), so_far.hi() * factor.hi()),
                true => (so_far.lo() / factor.hi(), so_far.hi() / factor.lo()),
            };
            let is_plain = low.is_normal() && high.is_normal();
            so_far = Interval::new(low.next_down(), high.next_up()).filter(|_| is_plain)?;
        }
        Some(so_far)
    }
}

/// Whether two sides surely compare so, without the tolerance that what is nearly equal has.
fn plainly(comparison: Comparison, left: Interval, right: Interval) -> bool {
    match comparison {
        Comparison::AtMost => left.hi() <= right.lo(),
        Comparison::AtLeast => left.lo() >= right.hi(),
        _ => compared(comparison, (left, false), (right, false)) == Truth::Yes,
    }
}
