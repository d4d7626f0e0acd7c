//! What happens to conditions when more join.

use super::numbers::{Growth, Joining};
use super::trend::{Ends, Trend, Trends};
use crate::formula::tree::Comparison;
use crate::formula::typed::{Condition, Number, Operand, Over, Test};
use crate::quantity::Interval;

impl Joining<'_> {
    /// What happens to a condition.
    #[must_use]
    pub fn condition(&self, condition: &Condition) -> Trends {
        let of = |condition: &Condition| self.condition(condition);
        match &condition.form {
            Test::Constant(_) => Trends::SAME,
            Test::Fact(fact) | Test::In(fact, _) | Test::Known(fact) => self.of_facts(&[*fact]),
            Test::SameOption(a, b) | Test::SameText(a, b) => self.of_facts(&[*a, *b]),
            Test::Figure(id, _) => self.figure_condition(*id),
            Test::And(parts) | Test::Or(parts) => {
                parts.iter().map(of).fold(Trends::SAME, Trends::and)
            }
            Test::Not(inner) => of(inner).negated(),
            Test::Compare {
                comparison,
                left,
                right,
                ..
            } => self.comparison(*comparison, left, right),
            Test::Every(over, body) => self.every(*over, of(body)),
            Test::Any(over, body) => self.every(*over, of(body).negated()).negated(),
        }
    }

    fn of_facts(&self, facts: &[crate::formula::typed::FactRef]) -> Trends {
        if facts.iter().any(|fact| self.is_changing(*fact)) {
            Trends::UNKNOWN
        } else {
            Trends::SAME
        }
    }

    fn every(&self, over: Over, body: Trends) -> Trends {
        match self.grows(over) {
            Growth::Stays => body,
            Growth::Grows | Growth::FromNone => body.and(Trends {
                yes: Trend::Falls,
                no: Trend::Rises,
            }),
            Growth::Unknown => Trends::UNKNOWN,
        }
    }

    fn comparison(&self, comparison: Comparison, left: &Operand, right: &Operand) -> Trends {
        let (a, b) = (self.number(&left.number), self.number(&right.number));
        // The less is at most the more as long as its upper end is not above the lower end of that.
        let at_most = |less: Ends, more: Ends| Trends {
            yes: less.high.turned().and(more.low),
            no: less.low.and(more.high.turned()),
        };
        match comparison {
            Comparison::Below | Comparison::AtMost => at_most(a, b),
            Comparison::Above | Comparison::AtLeast => at_most(b, a),
            Comparison::Equal if is_one_kind(left, right) => Trends {
                yes: a.high.turned(),
                no: a.low,
            },
            Comparison::Equal | Comparison::NotEqual if (a, b) == (Ends::SAME, Ends::SAME) => {
                Trends::SAME
            }
            Comparison::Equal | Comparison::NotEqual => Trends::UNKNOWN,
        }
    }
}

/// Whether what is compared is that there are no two kinds: of at least one there is at least one kind.
fn is_one_kind(left: &Operand, right: &Operand) -> bool {
    matches!(left.number, Number::Distinct(..))
        && matches!(&right.number, Number::Constant(one) if one.range() == Interval::point(1.0))
}
