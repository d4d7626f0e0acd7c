//! Which numbers are never negative, by the domains of facts and by the form.

use super::numbers::Joining;
use crate::formula::program::FigureCode;
use crate::formula::tree::Folding;
use crate::formula::typed::Number;

impl Joining<'_> {
    /// Whether no value of a number is negative, whatever the facts.
    pub(super) fn never_negative(&self, number: &Number) -> bool {
        let at_least_zero = |low: f64| low >= 0.0;
        match number {
            Number::Constant(value) => at_least_zero(value.range().lo()),
            Number::Limit(id) => {
                let limit = self.program.limits.get(id.0);
                limit.is_some_and(|limit| at_least_zero(limit.value.range().lo()))
            }
            Number::Fact(fact) => {
                let def = self.catalogue.fact(fact.id);
                def.is_some_and(|def| at_least_zero(def.domain.lo()))
            }
            Number::Figure(id, _) => match self.program.figures.get(id.0) {
                Some(FigureCode::Number(number, _)) => self.never_negative(number),
                _ => false,
            },
            Number::Sum(terms) => terms
                .iter()
                .all(|(less, term)| !less && self.never_negative(term)),
            Number::Product(factors) => factors.iter().all(|(_, one)| self.never_negative(one)),
            Number::Least(all) => all.iter().all(|one| self.never_negative(one)),
            Number::Greatest(all) => all.iter().any(|one| self.never_negative(one)),
            Number::Fold(Folding::Spread, ..) | Number::Abs(_) => true,
            Number::Fold(_, _, body) => self.never_negative(body),
            Number::Distinct(..) | Number::Count(..) => true,
            Number::Worked(id, _) => {
                let def = self.catalogue.worked_def(*id);
                def.is_some_and(|def| def.never_negative)
            }
            Number::Negative(_) => false,
        }
    }
}
