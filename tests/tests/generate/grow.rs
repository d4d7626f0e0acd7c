//! Growing formulas that fit: every operator, fold, unit and kind, with the names that can be seen
//! from where they stand.

use rules_core::quantity::Kind::{
    self, Charge, Count, Current, Drift, Energy, Power, Rate, Ratio, Resistance, Temperature,
    TemperatureDifference, Time, Voltage,
};

use super::amount::amount;
use super::choices::Choices;
use super::formula::{Comparison, Condition, Folding, Number, options};
use super::ruleset::{Body, Figure, Limit};
use super::vocabulary::{FACTS, FactAt, Many, Subject, Values};

/// Two kinds that multiply (or divide, if true) to a third.
const PRODUCTS: [(Kind, Kind, bool, Kind); 21] = [
    (Power, Voltage, false, Current),
    (Energy, Power, false, Time),
    (Energy, Voltage, false, Charge),
    (Charge, Current, false, Time),
    (Charge, Energy, true, Voltage),
    (Resistance, Voltage, true, Current),
    (Voltage, Current, false, Resistance),
    (Voltage, Power, true, Current),
    (Voltage, Energy, true, Charge),
    (Voltage, Drift, false, Time),
    (Current, Power, true, Voltage),
    (Current, Voltage, true, Resistance),
    (Current, Charge, true, Time),
    (Current, Rate, false, Charge),
    (Time, Charge, true, Current),
    (Time, Energy, true, Power),
    (Rate, Current, true, Charge),
    (Rate, Ratio, true, Time),
    (Drift, Voltage, true, Time),
    (Drift, Voltage, false, Rate),
    (Ratio, Voltage, true, Voltage),
];

/// What a formula may be made of.
pub(crate) struct Ground<'g> {
    pub(crate) limits: &'g [Limit],
    pub(crate) figures: &'g [Figure],
    /// Facts that formulas keep away from.
    pub(crate) shunned: &'g [FactAt],
    /// Limits stand only in comparisons in which a stricter limit is harder to keep.
    pub(crate) directed: bool,
}

/// Grows one formula.
pub(crate) struct Grower<'g, 'c, 'w> {
    ground: &'g Ground<'g>,
    choices: &'c mut Choices<'w>,
    about: Subject,
    inside: Option<Many>,
    /// Inside something that is counted, where a limit has no direction.
    counting: bool,
    /// How much more may grow.
    left: usize,
}

impl<'g, 'c, 'w> Grower<'g, 'c, 'w> {
    pub(crate) fn new(
        ground: &'g Ground<'g>,
        choices: &'c mut Choices<'w>,
        about: Subject,
    ) -> Self {
        let left = [4, 9, 24][choices.weighted(&[3, 3, 2])];
        Self {
            ground,
            choices,
            about,
            inside: None,
            counting: false,
            left,
        }
    }

    /// What a formula, or the inside of a fold, is about sees itself, what contains it, and what there
    /// is one of.
    fn sees(&self, subject: Subject) -> bool {
        let from = self.inside.map_or(self.about, Many::subject);
        match subject {
            Subject::Group => matches!(from, Subject::Cell | Subject::Group),
            Subject::Cell | Subject::Pack => from == subject,
            _ => true,
        }
    }

    /// What a fold goes over.
    fn many(&mut self) -> Many {
        [Many::Cells, Many::Groups, Many::Packs][self.choices.weighted(&[6, 2, 1])]
    }

    /// A fact that can be seen and fits, of the cells and groups more often than of the single
    /// subjects.
    fn fact(&mut self, fits: impl Fn(&Values) -> bool, wanted: Option<Subject>) -> Option<FactAt> {
        let seen = |at: &FactAt| {
            let fact = &FACTS[*at];
            fits(&fact.values)
                && self.sees(fact.subject)
                && wanted.is_none_or(|subject| subject == fact.subject)
                && !self.ground.shunned.contains(at)
        };
        let found: Vec<FactAt> = (0..FACTS.len()).filter(seen).collect();
        let close: Vec<FactAt> = found
            .iter()
            .copied()
            .filter(|at| FACTS[*at].subject.many().is_some())
            .collect();
        let from = if close.is_empty() || self.choices.one_in(3) {
            &found
        } else {
            &close
        };
        (!from.is_empty()).then(|| *self.choices.pick(from))
    }

    fn figure(
        &mut self,
        fits: impl Fn(&Body) -> bool,
        wanted: Option<Subject>,
    ) -> Option<(usize, Subject)> {
        let figures = self.ground.figures.iter().enumerate();
        let seen = figures.filter(|(_, figure)| {
            fits(&figure.body)
                && self.sees(figure.about)
                && wanted.is_none_or(|subject| subject == figure.about)
        });
        let found: Vec<(usize, Subject)> = seen.map(|(at, figure)| (at, figure.about)).collect();
        (!found.is_empty()).then(|| *self.choices.pick(&found))
    }

    fn spend(&mut self) -> bool {
        self.left = self.left.saturating_sub(1);
        self.left > 0
    }

    /// A number of a kind.
    pub(crate) fn number(&mut self, kind: Kind) -> Number {
        if !self.spend() || self.choices.one_in(2) {
            return self.leaf(kind);
        }
        match self.choices.below(8) {
            0 | 1 => self.sum(kind),
            2 => self.product(kind),
            3 if kind != Temperature => Number::Negative(Box::new(self.number(kind))),
            4 if kind != Temperature => Number::Abs(Box::new(self.number(kind))),
            5 => Number::Least(self.several(|grower| grower.number(kind))),
            6 => Number::Greatest(self.several(|grower| grower.number(kind))),
            _ => self.fold(kind),
        }
    }

    fn several<T>(&mut self, mut grow: impl FnMut(&mut Self) -> T) -> Vec<T> {
        (0..2 + self.choices.below(2)).map(|_| grow(self)).collect()
    }

    fn leaf(&mut self, kind: Kind) -> Number {
        let number = |values: &Values| *values == Values::Number(kind);
        let figure = |body: &Body| matches!(body, Body::Number(of, _) if *of == kind);
        match self.choices.weighted(&[6, 2, 2, 2, 1]) {
            1 => Number::Constant(self.constant(kind)),
            2 if !self.ground.directed => self
                .limit(kind)
                .map_or_else(|| Number::Constant(self.constant(kind)), Number::Limit),
            3 => self.figure(figure, None).map_or_else(
                || Number::Constant(self.constant(kind)),
                |(at, about)| Number::Figure(at, about),
            ),
            4 if kind == Current => Number::Current,
            _ => self
                .fact(number, None)
                .map_or_else(|| Number::Constant(self.constant(kind)), Number::Fact),
        }
    }

    fn constant(&mut self, kind: Kind) -> super::amount::Amount {
        let usual = super::amount::usual(kind);
        amount(self.choices, kind, usual.low, usual.high * 50.0)
    }

    fn limit(&mut self, kind: Kind) -> Option<usize> {
        let found: Vec<usize> = (0..self.ground.limits.len())
            .filter(|at| self.ground.limits[*at].kind == kind)
            .collect();
        (!found.is_empty()).then(|| *self.choices.pick(&found))
    }

    fn sum(&mut self, kind: Kind) -> Number {
        match kind {
            Temperature => {
                let minus = self.choices.one_in(2);
                Number::Sum(vec![
                    (false, self.number(Temperature)),
                    (minus, self.number(TemperatureDifference)),
                ])
            }
            TemperatureDifference if self.choices.one_in(2) => Number::Sum(vec![
                (false, self.number(Temperature)),
                (true, self.number(Temperature)),
            ]),
            _ => Number::Sum(
                self.several(|grower| (grower.choices.one_in(2), grower.number(kind)))
                    .into_iter()
                    .enumerate()
                    .map(first_is_plain)
                    .collect(),
            ),
        }
    }

    fn product(&mut self, kind: Kind) -> Number {
        if kind == Temperature {
            return self.leaf(kind);
        }
        let ways: Vec<(Kind, bool, Kind)> = PRODUCTS
            .iter()
            .filter(|way| way.0 == kind)
            .map(|way| (way.1, way.2, way.3))
            .collect();
        match self.choices.below(4) {
            0 | 1 if !ways.is_empty() => {
                let (one, divides, other) = *self.choices.pick(&ways);
                Number::Product(vec![
                    (false, self.number(one)),
                    (divides, self.number(other)),
                ])
            }
            // Through a kind without a name and back.
            2 => {
                let other = *self.choices.pick(&[
                    Current,
                    Time,
                    Kind::Length,
                    Voltage,
                    TemperatureDifference,
                ]);
                Number::Product(vec![
                    (false, self.number(kind)),
                    (false, self.number(other)),
                    (true, self.number(other)),
                ])
            }
            _ => {
                let (divides, plain) =
                    (self.choices.one_in(2), *self.choices.pick(&[Ratio, Count]));
                Number::Product(vec![
                    (false, self.number(kind)),
                    (divides, self.number(plain)),
                ])
            }
        }
    }

    fn fold(&mut self, kind: Kind) -> Number {
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

    fn within<T>(&mut self, many: Many, grow: impl FnOnce(&mut Self) -> T) -> T {
        self.inside = Some(many);
        let grown = grow(self);
        self.inside = None;
        grown
    }

    /// A condition. With `wanted` it should come out yes for the proposal's good.
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

    /// A comparison in which the stricter limit makes it harder to come out as wanted.
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

/// The first term of a sum has no sign.
fn first_is_plain((at, (minus, number)): (usize, (bool, Number))) -> (bool, Number) {
    (minus && at > 0, number)
}
