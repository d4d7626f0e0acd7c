//! Folds over cells, groups and packs, as they grow.

use rules_core::quantity::Kind::{self, Count, Ratio, Temperature, TemperatureDifference};

use super::Grower;
use crate::generate::formula::{Folding, Number};
use crate::generate::ruleset::Body;
use crate::generate::vocabulary::{Many, Values};

impl<'g, 'c, 'w> Grower<'g, 'c, 'w> {
    pub(super) fn fold(&mut self, kind: Kind) -> Number {
        if self.inside.is_some() {
            return self.leaf(kind);
        }
        if kind == Count {
            return self.counted();
        }
        let many = self.many();
        let foldings: &[Folding] = match kind {
            Temperature => &[Folding::Min, Folding::Max, Folding::Mean],
            _ => &Folding::ALL,
        };
        let folding = *self.choices.pick(foldings);
        let inner = if folding == Folding::Spread
            && kind == TemperatureDifference
            && self.choices.one_in(2)
        {
            Temperature
        } else {
            kind
        };
        let body = self.within(many, |grower| grower.fold_body(inner, many));
        body.map_or_else(
            || self.leaf(kind),
            |body| Number::Fold(folding, many, Box::new(body)),
        )
    }

    /// A body that names a fact or figure of the many.
    fn fold_body(&mut self, kind: Kind, many: Many) -> Option<Number> {
        let figure = |body: &Body| matches!(body, Body::Number(of, _) if *of == kind);
        let of_figure = self
            .figure(figure, Some(many.subject()))
            .map(|(at, about)| Number::Figure(at, about));
        let of_fact = self
            .fact(
                |values| *values == Values::Number(kind),
                Some(many.subject()),
            )
            .map(Number::Fact);
        let named = if self.choices.one_in(3) {
            of_figure.or(of_fact)
        } else {
            of_fact.or(of_figure)
        }?;
        Some(match self.choices.below(5) {
            0 if kind != Temperature => Number::Sum(vec![
                (false, named),
                (self.choices.one_in(2), self.number(kind)),
            ]),
            1 if kind != Temperature => Number::Product(vec![
                (false, named),
                (self.choices.one_in(2), self.number(Ratio)),
            ]),
            2 => Number::Greatest(vec![named, self.number(kind)]),
            _ => named,
        })
    }

    fn counted(&mut self) -> Number {
        let many = self.many();
        if self.choices.one_in(3) {
            let named = self.within(many, |grower| {
                grower.fact(
                    |values| matches!(values, Values::Text | Values::Choice(_)),
                    Some(many.subject()),
                )
            });
            return named.map_or_else(|| self.leaf(Count), |fact| Number::Distinct(many, fact));
        }
        let counting = std::mem::replace(&mut self.counting, true);
        let body = self.within(many, |grower| grower.condition(true));
        self.counting = counting;
        Number::Count(many, Box::new(body))
    }

    pub(super) fn within<T>(&mut self, many: Many, grow: impl FnOnce(&mut Self) -> T) -> T {
        self.inside = Some(many);
        let grown = grow(self);
        self.inside = None;
        grown
    }
}
