//! Which parts of a condition decided, on which facts, against which limits.

use crate::formula::bound::Bound;
use crate::formula::clause::{Clause, Compared, ComparedSide};
use crate::formula::context::Context;
use crate::formula::evaluate::Evaluator;
use crate::formula::fact_at::RestsOn;
use crate::formula::involved::Involved;
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, Number, Operand, Test};

/// Who is told of parts, and the memory that they are told in.
struct Telling<'t> {
    tell: &'t mut dyn FnMut(Clause<'_>),
    involved: Involved,
}

impl Evaluator<'_> {
    /// What a number rests on.
    #[must_use]
    pub fn number_rests_on(&self, number: &Number, bound: &Bound) -> RestsOn {
        let mut involved = Involved::default();
        self.involve_number(number, bound, &mut involved);
        self.settle(&mut involved);
        involved.into()
    }

    /// What a condition rests on, whatever its result.
    #[must_use]
    pub fn condition_rests_on(&self, condition: &Condition, bound: &Bound) -> RestsOn {
        let mut involved = Involved::default();
        self.involve_counted(condition, bound, &mut involved);
        self.settle(&mut involved);
        involved.into()
    }

    /// Tells the parts that keep a condition from being surely met; none if it is.
    pub fn unmet(&self, condition: &Condition, bound: &Bound, tell: &mut dyn FnMut(Clause<'_>)) {
        self.tell_parts(condition, bound, Context::Top, tell);
    }

    /// Tells the parts that leave a condition undecided; none if it is decided.
    pub fn undecided(
        &self,
        condition: &Condition,
        bound: &Bound,
        tell: &mut dyn FnMut(Clause<'_>),
    ) {
        self.tell_parts(condition, bound, Context::Open, tell);
    }

    fn tell_parts(
        &self,
        condition: &Condition,
        bound: &Bound,
        within: Context,
        tell: &mut dyn FnMut(Clause<'_>),
    ) {
        let involved = self.kept_involved().borrow_mut().take_spare();
        let mut telling = Telling { tell, involved };
        self.collect(condition, bound, (Truth::Yes, within), &mut telling);
        self.kept_involved()
            .borrow_mut()
            .give_back(telling.involved);
    }

    /// Tells the parts that do not have the wanted result. Inside a joined part that is settled the
    /// other way, an undecided part cannot matter and is left out. At the top it is named all the
    /// same, so that everything missing is reported.
    fn collect(
        &self,
        condition: &Condition,
        bound: &Bound,
        (wanted, within): (Truth, Context),
        telling: &mut Telling<'_>,
    ) {
        let (truth, compared) = self.outcome(condition, bound);
        if truth == wanted || within.leaves_out(truth) {
            return;
        }
        match &condition.form {
            Test::And(parts) | Test::Or(parts) => {
                let inner = (wanted, within.inside(truth));
                parts
                    .iter()
                    .for_each(|part| self.collect(part, bound, inner, telling));
            }
            Test::Not(inner) => self.collect(inner, bound, (wanted.negated(), within), telling),
            _ => {
                let involved = &mut telling.involved;
                involved.clear();
                self.involve_judged((condition, truth), bound, (wanted, within), involved);
                self.settle(involved);
                (telling.tell)(Clause {
                    span: &condition.span,
                    truth,
                    negated: wanted == Truth::No,
                    compared,
                    facts: &involved.facts,
                    more_facts: involved.hidden,
                    missing: &involved.missing,
                    limits: &involved.limits,
                    figures: &involved.figures,
                });
            }
        }
    }

    /// Whether a condition holds; of a comparison also what it compares.
    fn outcome(&self, condition: &Condition, bound: &Bound) -> (Truth, Option<Compared>) {
        let Test::Compare {
            comparison,
            left,
            right,
            sort,
        } = &condition.form
        else {
            return (self.condition(condition, bound), None);
        };
        let compared = Compared {
            comparison: *comparison,
            left: self.side(left, bound),
            right: self.side(right, bound),
            sort: *sort,
        };
        (compared.truth(), Some(compared))
    }

    fn side(&self, operand: &Operand, bound: &Bound) -> ComparedSide {
        let limit = match operand.number {
            Number::Limit(id) => Some(id),
            _ => None,
        };
        ComparedSide {
            value: self.number(&operand.number, bound),
            limit,
        }
    }
}
