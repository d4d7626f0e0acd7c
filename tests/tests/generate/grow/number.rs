//! Numbers of a kind, as they grow.

use rules_core::quantity::Kind::{
    self, Charge, Count, Current, Drift, Energy, Power, Rate, Ratio, Resistance, Temperature,
    TemperatureDifference, Time, Voltage,
};

use super::Grower;
use crate::generate::amount::{Amount, amount, usual};
use crate::generate::formula::Number;
use crate::generate::ruleset::Body;
use crate::generate::vocabulary::Values;

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

impl<'g, 'c, 'w> Grower<'g, 'c, 'w> {
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

    pub(super) fn leaf(&mut self, kind: Kind) -> Number {
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

    fn constant(&mut self, kind: Kind) -> Amount {
        let usual = usual(kind);
        amount(self.choices, kind, usual.low, usual.high * 50.0)
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
}

/// The first term of a sum has no sign.
fn first_is_plain((at, (minus, number)): (usize, (bool, Number))) -> (bool, Number) {
    (minus && at > 0, number)
}
