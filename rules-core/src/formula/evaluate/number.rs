//! The values of numbers.

use std::ops::Neg;

use super::evaluator::Evaluator;
use crate::facts::{SubjectId, Value};
use crate::formula::bound::Bound;
use crate::formula::evaluated::Evaluated;
use crate::formula::program::FigureCode;
use crate::formula::typed::{FactRef, FigureId, LimitId, Number};
use crate::quantity::{Interval, Measure};

impl Evaluator<'_> {
    /// The value of a number.
    #[must_use]
    pub fn number(&self, number: &Number, bound: &Bound) -> Evaluated {
        match number {
            Number::Constant(value) => Evaluated::known(*value),
            Number::Limit(id) => self.limit(*id),
            Number::Fact(fact) => self.fact(*fact, bound),
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

    fn limit(&self, id: LimitId) -> Evaluated {
        let value = self
            .program
            .limits
            .get(id.0)
            .map_or(Measure::of(Interval::WHOLE), |limit| limit.value);
        Evaluated::known(if self.simple {
            value.to_nominal()
        } else {
            value
        })
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

    fn fact(&self, fact: FactRef, bound: &Bound) -> Evaluated {
        match self.given(fact, bound) {
            Some(Value::Number(value)) if self.simple => Evaluated::known(value.to_nominal()),
            Some(Value::Number(value)) => Evaluated::known(*value),
            _ => {
                let domain = self
                    .catalogue
                    .fact(fact.id)
                    .map_or(Interval::WHOLE, |def| def.domain);
                Evaluated {
                    value: Measure::of(domain),
                    missing: true,
                }
            }
        }
    }

    fn figure_number(&self, id: FigureId, subject: SubjectId, bound: &Bound) -> Evaluated {
        let position = bound.position(subject);
        if let Some(kept) = self.results.borrow().figure(id, position) {
            return kept;
        }
        let worked = match self.program.figures.get(id.0) {
            Some(FigureCode::Number(number, _)) if !self.sheet.is_unsettled(subject) => {
                self.number(number, bound)
            }
            _ => Evaluated::unknown(),
        };
        self.results.borrow_mut().keep_figure(id, position, worked);
        worked
    }
}

type Joining = fn(Measure, Measure) -> Measure;
