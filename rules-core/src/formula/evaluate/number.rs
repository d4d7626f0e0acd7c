//! The values of numbers.

use std::ops::Neg;

use super::evaluator::Evaluator;
use crate::facts::{SubjectId, Value};
use crate::formula::bound::Bound;
use crate::formula::evaluated::Evaluated;
use crate::formula::program::FigureCode;
use crate::formula::typed::{FactRef, FigureId, LimitId, Number};
use crate::quantity::{Interval, Measure};

impl<'e> Evaluator<'e> {
    /// The value of a number.
    #[must_use]
    pub fn number(&self, number: &Number, bound: &Bound) -> Evaluated {
        match number {
            Number::Constant(value) => Evaluated::known(*value),
            Number::Limit(id) => Evaluated::known(self.limit(*id)),
            Number::Fact(fact) => self.fact(*fact, bound.position(fact.subject)),
            Number::Worked(id, subject) => self.worked(*id, *subject, bound),
            Number::Figure(id, subject) => self.figure_number(*id, *subject, bound),
            Number::Sum(terms) => self.chain(
                terms,
                bound,
                |so_far, less, next| if less { so_far - next } else { so_far + next },
                0.0,
            ),
            Number::Product(factors) => self.chain(
                factors,
                bound,
                |so_far, by, next| if by { so_far / next } else { so_far * next },
                1.0,
            ),
            Number::Negative(inner) => self.number(inner, bound).map(Measure::neg),
            Number::Abs(inner) => self.number(inner, bound).map(Measure::abs),
            Number::Least(numbers) => self.fold_list(numbers, bound, Measure::min),
            Number::Greatest(numbers) => self.fold_list(numbers, bound, Measure::max),
            Number::Fold(folding, over, body) => self.fold(*folding, *over, body, bound),
            Number::Distinct(over, fact) => self.distinct(*over, *fact, bound),
            Number::Count(over, body) => self.count(*over, body, bound),
        }
    }

    pub(super) fn limit(&self, id: LimitId) -> Measure {
        let limit = self.program.limits.get(id.0);
        limit.map_or(Measure::of(Interval::WHOLE), |limit| {
            self.accepted(&limit.value)
        })
    }

    /// A number that is given as it is accepted: in simple acceptance its nominal value alone.
    pub(super) const fn accepted(&self, given: &Measure) -> Measure {
        if self.simple {
            given.to_nominal()
        } else {
            *given
        }
    }

    /// Terms or factors, the first as it is.
    fn chain(
        &self,
        parts: &[(bool, Number)],
        bound: &Bound,
        join: impl Fn(Measure, bool, Measure) -> Measure,
        neutral: f64,
    ) -> Evaluated {
        let Some(((_, first), others)) = parts.split_first() else {
            return Evaluated::known(Measure::exact(neutral));
        };
        others
            .iter()
            .fold(self.number(first, bound), |so_far, (inverse, part)| {
                so_far.join(self.number(part, bound), |so_far, next| {
                    join(so_far, *inverse, next)
                })
            })
    }

    fn fold_list(&self, numbers: &[Number], bound: &Bound, with: Joining) -> Evaluated {
        let evaluated = numbers.iter().map(|number| self.number(number, bound));
        evaluated
            .reduce(|a, b| a.join(b, with))
            .unwrap_or(Evaluated::unknown())
    }

    /// A fact of the one at a position of its subject.
    pub(super) fn fact(&self, fact: FactRef, position: usize) -> Evaluated {
        match self.given_at(fact, position) {
            Some(Value::Number(value)) => Evaluated::known(self.accepted(value)),
            _ => Evaluated {
                value: Measure::of(self.domain(fact)),
                missing: true,
            },
        }
    }

    /// All that a fact can be.
    pub(super) fn domain(&self, fact: FactRef) -> Interval {
        let def = self.catalogue.fact(fact.id);
        def.map_or(Interval::WHOLE, |def| def.domain)
    }

    /// The formula of a figure that is a number; none where the members of its subject are not settled,
    /// so that nothing is known of it.
    pub(super) fn figure_formula(&self, id: FigureId, subject: SubjectId) -> Option<&'e Number> {
        match self.program.figures.get(id.0)? {
            FigureCode::Number(number, _) if !self.sheet.is_unsettled(subject) => Some(number),
            _ => None,
        }
    }

    fn figure_number(&self, id: FigureId, subject: SubjectId, bound: &Bound) -> Evaluated {
        let position = bound.position(subject);
        if let Some(kept) = self.results.borrow().figure(id, position) {
            return kept;
        }
        let formula = self.figure_formula(id, subject);
        let worked = formula.map_or(Evaluated::unknown(), |number| self.number(number, bound));
        let at = (position, self.sheet.count(subject));
        self.results.borrow_mut().keep_figure(id, at, worked);
        worked
    }
}

type Joining = fn(Measure, Measure) -> Measure;
