//! Brings the numbers of a grown ruleset near what they are compared with, where comparisons are in
//! doubt.

use rules_core::quantity::Kind;

use super::amount::{Amount, main_unit};
use super::choices::Choices;
use super::formula::{Condition, Number};
use super::ruleset::{Body, Ruleset};
use super::truth::Seat;
use super::vocabulary::{Many, Subject};
use super::world::World;

/// The ruleset with many constants and limits set to what the other side of their comparison comes
/// to in a world.
pub(crate) fn tuned(ruleset: &Ruleset, world: &World, choices: &mut Choices<'_>) -> Ruleset {
    let mut made = ruleset.clone();
    let mut tuner = Tuner {
        choices,
        limits: Vec::new(),
    };
    for caution in &mut made.cautions {
        let formulas = [
            &mut caution.applies_when,
            &mut caution.refuse_unless,
            &mut caution.warn_unless,
        ];
        for condition in formulas.into_iter().flatten() {
            if let Some(at) = tuner.position(world, caution.about) {
                let seat = Seat::new(world, ruleset, caution.about, at);
                tuner.condition(condition, seat);
            }
        }
    }
    for figure in &mut made.figures {
        let Some(at) = tuner.position(world, figure.about) else {
            continue;
        };
        let seat = Seat::new(world, ruleset, figure.about, at);
        match &mut figure.body {
            Body::Number(_, number) => tuner.number(number, seat),
            Body::Condition(condition) => tuner.condition(condition, seat),
        }
    }
    for (at, value) in tuner.limits {
        made.limits[at].set(value);
    }
    made
}

struct Tuner<'c, 'w> {
    choices: &'c mut Choices<'w>,
    limits: Vec<(usize, f64)>,
}

impl Tuner<'_, '_> {
    /// One of a subject; none where a world has none.
    fn position(&mut self, world: &World, about: Subject) -> Option<usize> {
        match about {
            Subject::Cell => Some(self.choices.below(world.cells.len())),
            Subject::Group => Some(self.choices.below(world.groups.len())),
            Subject::Pack if world.packs.is_empty() => None,
            Subject::Pack => Some(self.choices.below(world.packs.len())),
            _ => Some(0),
        }
    }

    fn condition(&mut self, condition: &mut Condition, seat: Seat<'_>) {
        match condition {
            Condition::Not(inner) => self.condition(inner, seat),
            Condition::And(parts) | Condition::Or(parts) => {
                parts.iter_mut().for_each(|part| self.condition(part, seat))
            }
            Condition::Every(many, inner) | Condition::Any(many, inner) => {
                if let Some(at) = self.one_of(*many, seat) {
                    self.condition(inner, at);
                }
            }
            Condition::Compare(kind, _, a, b) => {
                self.number(a, seat);
                self.number(b, seat);
                self.side(*kind, b, seat.number(a));
                self.side(*kind, a, seat.number(b));
            }
            _ => {}
        }
    }

    /// One of those that a fold goes over; none where a group has no cells in this world.
    fn one_of<'s>(&mut self, many: Many, seat: Seat<'s>) -> Option<Seat<'s>> {
        let each: Vec<Seat<'s>> = seat.over(many).collect();
        (!each.is_empty()).then(|| *self.choices.pick(&each))
    }

    /// The conditions inside a number.
    fn number(&mut self, number: &mut Number, seat: Seat<'_>) {
        match number {
            Number::Sum(parts) | Number::Product(parts) => parts
                .iter_mut()
                .for_each(|(_, part)| self.number(part, seat)),
            Number::Least(parts) | Number::Greatest(parts) => {
                parts.iter_mut().for_each(|part| self.number(part, seat))
            }
            Number::Negative(inner) | Number::Abs(inner) => self.number(inner, seat),
            Number::Count(many, body) => {
                if let Some(at) = self.one_of(*many, seat) {
                    self.condition(body, at);
                }
            }
            _ => {}
        }
    }

    fn side(&mut self, kind: Kind, side: &mut Number, other: f64) {
        // Three times of four, so that some comparisons stay as wild as they grew.
        if !other.is_finite() || self.choices.one_in(4) {
            return;
        }
        match side {
            Number::Constant(amount) => *amount = near(self.choices, kind, other),
            Number::Limit(at) if self.choices.one_in(2) => self.limits.push((*at, other)),
            _ => {}
        }
    }
}

/// The value to the last bit, or rounded to few digits.
fn near(choices: &mut Choices<'_>, kind: Kind, value: f64) -> Amount {
    let value = if kind == Kind::Count {
        value.round()
    } else {
        value
    };
    let number = match choices.below(4) {
        0 => format!("{value:.2e}"),
        1 => format!("{value:.4e}"),
        _ => format!("{value:e}"),
    };
    let (unit, gap) = (
        main_unit(kind),
        if main_unit(kind).is_empty() { "" } else { " " },
    );
    Amount {
        text: format!("{number}{gap}{unit}"),
        value: number.parse().unwrap(),
        place: 0.0,
    }
}
