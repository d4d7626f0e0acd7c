//! Folds: one number or condition made of many.

use std::collections::BTreeSet;

use super::evaluator::Evaluator;
use crate::facts::Value;
use crate::formula::bound::Bound;
use crate::formula::evaluated::Evaluated;
use crate::formula::tree::Folding;
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, FactRef, Number, Over};
use crate::quantity::{Interval, Measure};

impl Evaluator<'_> {
    /// The positions a fold goes over; none if they are not settled. One position may [stand for
    /// several](Self::times).
    pub(in crate::formula) fn positions(
        &self,
        over: Over,
        bound: &Bound,
    ) -> Option<impl Iterator<Item = usize>> {
        if !self.sheet.are_known(over.subject) {
            return None;
        }
        let (all, inside): (usize, &[usize]) = match over.within {
            None => (self.sheet.count(over.subject), &[]),
            Some(container) if self.sheet.is_unsettled(container) => return None,
            Some(container) => (
                0,
                &self
                    .sheet
                    .instance(container, bound.position(container))?
                    .members,
            ),
        };
        Some((0..all).chain(inside.iter().copied()))
    }

    /// How many times a fold takes what is at a position.
    pub(super) fn times(&self, over: Over, position: usize) -> usize {
        self.sheet.stands_for(over.subject, position, over.within)
    }

    pub(super) fn fold(
        &self,
        folding: Folding,
        over: Over,
        body: &Number,
        bound: &Bound,
    ) -> Evaluated {
        self.once(over, || self.fold_anew(folding, over, body, bound))
    }

    pub(super) fn fold_anew(
        &self,
        folding: Folding,
        over: Over,
        body: &Number,
        bound: &Bound,
    ) -> Evaluated {
        let Some(positions) = self.positions(over, bound) else {
            return unsettled(folding);
        };
        let one = |at| match body {
            Number::Fact(fact) if fact.subject == over.subject => self.fact(*fact, at),
            _ => self.number(body, &self.bind(bound, over.subject, at)),
        };
        let mut missing = false;
        let values = positions.map(|at| {
            let one = one(at);
            missing |= one.missing;
            (one.value, self.times(over, at))
        });
        folded(folding, values).map_or(Evaluated::unknown(), |value| Evaluated { value, missing })
    }

    pub(super) fn distinct(&self, over: Over, fact: FactRef, bound: &Bound) -> Evaluated {
        self.once(over, || self.distinct_anew(over, fact, bound))
    }

    fn distinct_anew(&self, over: Over, fact: FactRef, bound: &Bound) -> Evaluated {
        let Some(positions) = self.positions(over, bound) else {
            return at_least(1.0);
        };
        let mut known = BTreeSet::new();
        let mut unknown = 0;
        for at in positions {
            match self.given(fact, &self.bind(bound, over.subject, at)) {
                Some(Value::Text(text)) => {
                    known.insert(text.to_string());
                }
                Some(Value::Choice(set)) if set.len() == 1 => {
                    known.insert(format!("{set:?}"));
                }
                _ => unknown += self.times(over, at),
            }
        }
        let options = self.all_options(fact);
        let most = if options.is_empty() {
            f64::INFINITY
        } else {
            f64::from(options.len())
        };
        let low = count_of(known.len()).max(if known.is_empty() && unknown == 0 {
            0.0
        } else {
            1.0
        });
        let high = count_of(known.len() + unknown).min(most).max(low);
        counted(low, high, unknown > 0)
    }

    pub(super) fn count(&self, over: Over, body: &Condition, bound: &Bound) -> Evaluated {
        self.once(over, || self.count_anew(over, body, bound))
    }

    fn count_anew(&self, over: Over, body: &Condition, bound: &Bound) -> Evaluated {
        let Some(truths) = self.truths(over, body, bound) else {
            return at_least(0.0);
        };
        let (mut sure, mut possible, mut missing) = (0, 0, false);
        for (truth, times) in truths {
            sure += if truth == Truth::Yes { times } else { 0 };
            possible += if truth == Truth::No { 0 } else { times };
            missing |= truth.needs_missing();
        }
        counted(count_of(sure), count_of(possible), missing)
    }

    pub(super) fn every(&self, over: Over, body: &Condition, bound: &Bound) -> Truth {
        self.once_truth(over, || {
            self.truths(over, body, bound)
                .map_or(Truth::Unmeasured, |each| {
                    Truth::all(each.map(|(truth, _)| truth))
                })
        })
    }

    pub(super) fn any(&self, over: Over, body: &Condition, bound: &Bound) -> Truth {
        self.once_truth(over, || {
            self.truths(over, body, bound)
                .map_or(Truth::Unmeasured, |each| {
                    Truth::any(each.map(|(truth, _)| truth))
                })
        })
    }

    /// The result of a condition for each, when it is asked for, and how many times.
    fn truths(
        &self,
        over: Over,
        body: &Condition,
        bound: &Bound,
    ) -> Option<impl Iterator<Item = (Truth, usize)>> {
        let truth = move |at| {
            let bound = self.bind(bound, over.subject, at);
            (self.condition(body, &bound), self.times(over, at))
        };
        Some(self.positions(over, bound)?.map(truth))
    }

    /// A fold over all has one result for the whole sheet; a fold within a container has one for
    /// each.
    fn once(&self, over: Over, work: impl FnOnce() -> Evaluated) -> Evaluated {
        if over.within.is_some() {
            return work();
        }
        if let Some(kept) = self.results.borrow().fold(over.number) {
            return kept;
        }
        let worked = work();
        self.results.borrow_mut().keep_fold(over.number, worked);
        worked
    }

    fn once_truth(&self, over: Over, work: impl FnOnce() -> Truth) -> Truth {
        if over.within.is_some() {
            return work();
        }
        if let Some(kept) = self.results.borrow().fold_truth(over.number) {
            return kept;
        }
        let truth = work();
        self.results
            .borrow_mut()
            .keep_fold_truth(over.number, truth);
        truth
    }
}

/// Many values, each so many times, folded to one.
fn folded(folding: Folding, values: impl Iterator<Item = (Measure, usize)>) -> Option<Measure> {
    let once = |(value, _): (Measure, usize)| value;
    match folding {
        Folding::Min => Measure::least(values.map(once)),
        Folding::Max => Measure::greatest(values.map(once)),
        Folding::Sum => Some(Measure::sum(
            values.map(|(value, times)| value.times(times)),
        )),
        Folding::Mean => Measure::mean_of(values),
        // Two already show how far apart they may be.
        Folding::Spread => Measure::spread(
            values.flat_map(|(value, times)| std::iter::repeat_n(value, times.min(2))),
        ),
        Folding::Distinct => None,
    }
}

/// Lists are bounded far below 2^53, so the count is exact.
#[allow(
    clippy::cast_precision_loss,
    reason = "lists are bounded far below 2^53"
)]
fn count_of(items: usize) -> f64 {
    items as f64
}

fn counted(low: f64, high: f64, missing: bool) -> Evaluated {
    let value = Interval::new(low, high).map_or(Measure::exact(low), Measure::of);
    Evaluated { value, missing }
}

fn at_least(low: f64) -> Evaluated {
    counted(low, f64::INFINITY, true)
}

fn unsettled(folding: Folding) -> Evaluated {
    match folding {
        Folding::Spread => at_least(0.0),
        _ => Evaluated::unknown(),
    }
}
