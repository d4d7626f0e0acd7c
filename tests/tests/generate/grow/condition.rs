//! Conditions, as they grow.

use rules_core::quantity::Kind::{
    self, Charge, Count, Current, Drift, Energy, Power, Rate, Ratio, Resistance, Temperature,
    TemperatureDifference, Time, Voltage,
};

use super::Grower;
use crate::generate::formula::{Comparison, Condition, Number, options};
use crate::generate::ruleset::Body;
use crate::generate::vocabulary::{FACTS, FactAt, Values};

impl<'g, 'c, 'w> Grower<'g, 'c, 'w> {
    /// A condition. With `wanted`, yes is better for the proposal.
    pub(crate) fn condition(&mut self, wanted: bool) -> Condition {
        if !self.spend() {
            return self.compare(wanted);
        }
        match self.choices.weighted(&[8, 3, 3, 2, 6, 3]) {
            1 => Condition::And(self.several(|grower| grower.condition(wanted))),
            2 => Condition::Or(self.several(|grower| grower.condition(wanted))),
            3 => Condition::Not(Box::new(self.condition(!wanted))),
            4 => self.of_words(),
            5 if self.inside.is_none() => {
                let many = self.many();
                let body = Box::new(self.within(many, |grower| grower.condition(wanted)));
                if self.choices.one_in(2) {
                    Condition::Any(many, body)
                } else {
                    Condition::Every(many, body)
                }
            }
            _ => self.compare(wanted),
        }
    }

    fn compare(&mut self, wanted: bool) -> Condition {
        let kind = *self.choices.pick(&[
            Voltage,
            Charge,
            Current,
            Temperature,
            Resistance,
            Time,
            Count,
            Power,
            Energy,
            TemperatureDifference,
            Kind::Length,
            Ratio,
            Rate,
            Drift,
            Voltage,
            Charge,
        ]);
        let limit = if self.ground.directed && !self.counting && self.choices.below(3) > 0 {
            self.limit(kind)
        } else {
            None
        };
        if let Some(at) = limit {
            return self.with_limit(kind, at, wanted);
        }
        Condition::Compare(
            kind,
            *self.choices.pick(&Comparison::ALL),
            self.number(kind),
            self.number(kind),
        )
    }

    /// A comparison in which a stricter limit makes the wanted result harder.
    fn with_limit(&mut self, kind: Kind, at: usize, wanted: bool) -> Condition {
        let (number, limit) = (self.number(kind), Number::Limit(at));
        let (above, strict) = (
            self.ground.limits[at].higher == wanted,
            self.choices.one_in(3),
        );
        if self.choices.one_in(3) {
            let comparison = match (above, strict) {
                (true, false) => Comparison::AtMost,
                (true, true) => Comparison::Below,
                (false, false) => Comparison::AtLeast,
                (false, true) => Comparison::Above,
            };
            return Condition::Compare(kind, comparison, limit, number);
        }
        let comparison = match (above, strict) {
            (true, false) => Comparison::AtLeast,
            (true, true) => Comparison::Above,
            (false, false) => Comparison::AtMost,
            (false, true) => Comparison::Below,
        };
        Condition::Compare(kind, comparison, number, limit)
    }

    /// A condition about words: choices, texts, yes and no.
    fn of_words(&mut self) -> Condition {
        let different = self.choices.one_in(3);
        let grown = match self.choices.below(9) {
            0 | 1 => self
                .fact(|values| *values == Values::YesNo, None)
                .map(|fact| match self.choices.below(3) {
                    0 => Condition::FactIs(fact, different, self.choices.one_in(2)),
                    _ => Condition::Fact(fact),
                }),
            2 | 3 => self.choice().map(|fact| {
                Condition::Option(fact, different, self.choices.below(options(fact).len()))
            }),
            4 => self.choice().map(|fact| {
                let some: Vec<usize> = (0..options(fact).len())
                    .filter(|_| self.choices.one_in(2))
                    .collect();
                Condition::In(fact, if some.is_empty() { vec![0] } else { some })
            }),
            5 => self.choice().and_then(|fact| {
                let alike = |values: &Values| *values == FACTS[fact].values;
                self.fact(alike, None)
                    .map(|other| Condition::Same(fact, different, other))
            }),
            6 => {
                let text = |values: &Values| *values == Values::Text;
                self.fact(text, None).and_then(|one| {
                    self.fact(text, None)
                        .map(|other| Condition::Same(one, different, other))
                })
            }
            7 => self.fact(|_| true, None).map(Condition::Known),
            _ => self
                .figure(|body| matches!(body, Body::Condition(_)), None)
                .map(|(at, about)| Condition::Figure(at, about)),
        };
        grown.unwrap_or(Condition::YesNo(!different))
    }

    fn choice(&mut self) -> Option<FactAt> {
        self.fact(|values| matches!(values, Values::Choice(_)), None)
    }
}
