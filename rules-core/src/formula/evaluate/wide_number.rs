//! The wide intervals of numbers.

use super::evaluator::Evaluator;
use super::wide::{Wide, wide_folded};
use crate::facts::{Given, Instance, SubjectId, Value};
use crate::formula::bound::Bound;
use crate::formula::evaluated::Evaluated;
use crate::formula::tree::Folding;
use crate::formula::typed::{FactRef, FigureId, Number, Over};
use crate::quantity::{Interval, Measure};

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
        let wide = match self.figure_formula(id, subject) {
            Some(number) => self.wide(number, bound),
            None => Wide::evaluated(&Evaluated::unknown()),
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
        let folded = match body {
            Number::Fact(fact) if over.is_of_all(fact.subject) => {
                self.wide_fold_of_all(folding, *fact)
            }
            _ => self.wide_fold_of_each(folding, over, body, bound),
        };
        folded.unwrap_or_else(|| Wide::evaluated(&self.fold_anew(folding, over, body, bound)))
    }

    /// A fold of a fact of all of its subject: most are that.
    fn wide_fold_of_all(&self, folding: Folding, fact: FactRef) -> Option<Wide> {
        let roster = self.sheet.roster(fact.subject);
        let roster = roster.filter(|roster| roster.is_known())?;
        let one = |one: &Instance| {
            (
                self.wide_given(fact, one.given(fact.slot)),
                one.stands_for(),
            )
        };
        wide_folded(folding, roster.instances.iter().map(one))
    }

    fn wide_fold_of_each(
        &self,
        folding: Folding,
        over: Over,
        body: &Number,
        bound: &Bound,
    ) -> Option<Wide> {
        let one = |at| self.wide(body, &self.bind(bound, over.subject, at));
        let each = self.positions(over, bound)?;
        wide_folded(folding, each.map(|at| (one(at), self.times(over, at))))
    }

    /// A fact of the one at a position of its subject.
    fn wide_fact(&self, fact: FactRef, position: usize) -> Wide {
        self.wide_given(fact, self.sheet.known(fact.subject, position, fact.slot))
    }

    /// What is given of a fact: where nothing is, all that there can be.
    fn wide_given(&self, fact: FactRef, given: Option<&Given>) -> Wide {
        match given.map(|given| &given.value) {
            Some(Value::Number(value)) => Wide::known(&self.accepted(value)),
            _ => Wide::of(&Measure::of(self.domain(fact)), true),
        }
    }
}
