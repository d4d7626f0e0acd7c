//! Wide intervals of numbers: each holds the interval that the number has, and costs less.
//!
//! They leave out what only narrows: that readings of one meter share its error, and on which side a
//! result was rounded. Most comparisons are settled by them.

use super::evaluator::Evaluator;
use crate::facts::{SubjectId, Value};
use crate::formula::bound::Bound;
use crate::formula::evaluated::Evaluated;
use crate::formula::program::FigureCode;
use crate::formula::tree::Folding;
use crate::formula::typed::{FactRef, FigureId, Number, Over};
use crate::quantity::{Interval, Measure, Meters, spread_of};

/// An interval that holds that of a number, and what else a comparison needs to know.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wide {
    pub(super) range: Interval,
    /// Whether a missing fact takes part.
    pub(super) missing: bool,
    /// The meters whose readings take part, and whether two are by the same. Where none are, the number
    /// is no narrower than this but for the last digits.
    meters: Meters,
}

impl Wide {
    const fn of(value: &Measure, missing: bool) -> Self {
        Self {
            range: value.range(),
            missing,
            meters: Meters::of(value),
        }
    }

    const fn known(value: &Measure) -> Self {
        Self::of(value, false)
    }

    pub(super) const fn evaluated(worked: &Evaluated) -> Self {
        Self::of(&worked.value, worked.missing)
    }

    /// Whether nothing but the last digits of the number can be narrower.
    pub(super) const fn is_nearly_all(&self) -> bool {
        !self.meters.are_shared()
    }

    fn join(self, other: Self, with: impl FnOnce(Interval, Interval) -> Interval) -> Self {
        Self {
            range: with(self.range, other.range),
            missing: self.missing || other.missing,
            meters: self.meters.and(other.meters),
        }
    }

    fn map(self, with: impl FnOnce(Interval) -> Interval) -> Self {
        Self {
            range: with(self.range),
            ..self
        }
    }
}

impl Evaluator<'_> {
    /// A wide interval of a number.
    #[inline]
    pub(super) fn wide(&self, number: &Number, bound: &Bound) -> Wide {
        match number {
            Number::Constant(value) => Wide::known(value),
            Number::Fact(fact) => self.wide_fact(*fact, bound.position(fact.subject)),
            _ => self.wide_of_several(number, bound),
        }
    }

    /// The same of a number that is made of others. Most are not: for them a call would cost more than
    /// the work.
    #[inline(never)]
    fn wide_of_several(&self, number: &Number, bound: &Bound) -> Wide {
        match number {
            Number::Constant(_) | Number::Fact(_) => self.wide(number, bound),
            Number::Limit(id) => Wide::known(&self.limit(*id)),
            Number::Sum(terms) => self.wide_chain(terms, bound, |so_far, less, next| {
                so_far.wide_sum(if less { -next } else { next })
            }),
            Number::Product(factors) => self.wide_chain(factors, bound, |so_far, by, next| {
                if by {
                    so_far.wide_quotient(next)
                } else {
                    so_far.wide_product(next)
                }
            }),
            Number::Negative(inner) => self.wide(inner, bound).map(|inner| -inner),
            Number::Abs(inner) => self.wide(inner, bound).map(Interval::abs),
            Number::Least(all) => self.wide_list(all, bound, Interval::min),
            Number::Greatest(all) => self.wide_list(all, bound, Interval::max),
            Number::Fold(folding, over, body) => self.wide_fold(*folding, *over, body, bound),
            Number::Figure(id, subject) => self.wide_figure(*id, *subject, bound),
            Number::Worked(..) | Number::Distinct(..) | Number::Count(..) => {
                Wide::evaluated(&self.number(number, bound))
            }
        }
    }

    /// A figure of the ruleset is kept, as many ask for it.
    fn wide_figure(&self, id: FigureId, subject: SubjectId, bound: &Bound) -> Wide {
        let position = bound.position(subject);
        if let Some(kept) = self.results.borrow().wide_figure(id, position) {
            return kept;
        }
        let wide = match self.program.figures.get(id.0) {
            Some(FigureCode::Number(number, _)) if !self.sheet.is_unsettled(subject) => {
                self.wide(number, bound)
            }
            _ => Wide::evaluated(&Evaluated::unknown()),
        };
        let at = (position, self.sheet.count(subject));
        self.results.borrow_mut().keep_wide_figure(id, at, wide);
        wide
    }

    fn wide_chain(
        &self,
        parts: &[(bool, Number)],
        bound: &Bound,
        join: impl Fn(Interval, bool, Interval) -> Interval,
    ) -> Wide {
        let Some(((_, first), others)) = parts.split_first() else {
            return Wide::evaluated(&Evaluated::unknown());
        };
        let mut so_far = self.wide(first, bound);
        for (inverse, part) in others {
            let next = self.wide(part, bound);
            so_far = so_far.join(next, |so_far, next| join(so_far, *inverse, next));
        }
        so_far
    }

    fn wide_list(
        &self,
        all: &[Number],
        bound: &Bound,
        pick: fn(Interval, Interval) -> Interval,
    ) -> Wide {
        let each = all.iter().map(|number| self.wide(number, bound));
        let picked = each.reduce(|one, other| one.join(other, pick));
        picked.unwrap_or(Wide::evaluated(&Evaluated::unknown()))
    }

    /// A fold over all is kept: cautions about each of many may ask for the same.
    fn wide_fold(&self, folding: Folding, over: Over, body: &Number, bound: &Bound) -> Wide {
        if over.within.is_some() {
            return self.wide_fold_anew(folding, over, body, bound);
        }
        if let Some(kept) = self.results.borrow().wide_fold(over.number) {
            return kept;
        }
        let wide = self.wide_fold_anew(folding, over, body, bound);
        self.results.borrow_mut().keep_wide_fold(over.number, wide);
        wide
    }

    fn wide_fold_anew(&self, folding: Folding, over: Over, body: &Number, bound: &Bound) -> Wide {
        let one = |at| match body {
            Number::Fact(fact) if fact.subject == over.subject => self.wide_fact(*fact, at),
            _ => self.wide(body, &self.bind(bound, over.subject, at)),
        };
        let each = self.positions(over, bound);
        let each = each.map(|each| each.map(|at| (one(at), self.times(over, at))));
        let folded = each.and_then(|each| wide_folded(folding, each));
        folded.unwrap_or_else(|| Wide::evaluated(&self.fold_anew(folding, over, body, bound)))
    }

    /// A fact of the one at a position of its subject: where nothing is given, all that there can be.
    fn wide_fact(&self, fact: FactRef, position: usize) -> Wide {
        match self.given_at(fact, position) {
            Some(Value::Number(value)) if self.simple => Wide::known(&value.to_nominal()),
            Some(Value::Number(value)) => Wide::known(value),
            _ => Wide::of(&Measure::of(self.domain(fact)), true),
        }
    }
}

/// Values, each so many times, folded; none where that is not had more cheaply than the number.
fn wide_folded(folding: Folding, mut each: impl Iterator<Item = (Wide, usize)>) -> Option<Wide> {
    let once = |(value, _): (Wide, usize)| value;
    match folding {
        Folding::Min => each
            .map(once)
            .reduce(|one, two| one.join(two, Interval::min)),
        Folding::Max => each
            .map(once)
            .reduce(|one, two| one.join(two, Interval::max)),
        Folding::Spread => wide_spread(each),
        Folding::Sum => {
            let first = times(each.next()?)?;
            each.try_fold(first, |so_far, next| {
                Some(so_far.join(times(next)?, Interval::wide_sum))
            })
        }
        Folding::Mean | Folding::Distinct => None,
    }
}

fn wide_spread(each: impl Iterator<Item = (Wide, usize)>) -> Option<Wide> {
    let mut all: Option<Wide> = None;
    let range = spread_of(each.flat_map(|(value, times)| {
        all = Some(all.map_or(value, |all| all.join(value, Interval::hull)));
        // Two already show how far apart they may be.
        std::iter::repeat_n(value.range, times.min(2))
    }))?;
    all.map(|all| Wide { range, ..all })
}

fn times((value, times): (Wide, usize)) -> Option<Wide> {
    if times == 1 {
        return Some(value);
    }
    let times = Interval::point(u32::try_from(times).ok()?.into());
    Some(value.map(|value| value.wide_product(times)))
}
