//! Which parts of a condition decided, on which facts, against which limits.

use crate::formula::bound::Bound;
use crate::formula::clause::{Clause, ComparedSide};
use crate::formula::context::Context;
use crate::formula::evaluate::Evaluator;
use crate::formula::fact_at::RestsOn;
use crate::formula::involved::Involved;
use crate::formula::tree::Comparison;
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, Number, Operand, Sort, Test};

impl Evaluator<'_> {
    /// What a number rests on.
    #[must_use]
    pub fn number_rests_on(&self, number: &Number, bound: &Bound) -> RestsOn {
        let mut involved = Involved::default();
        self.involve_number(number, bound, &mut involved);
        self.listed(&involved)
    }

    /// What a condition rests on, whatever its result.
    #[must_use]
    pub fn condition_rests_on(&self, condition: &Condition, bound: &Bound) -> RestsOn {
        let mut involved = Involved::default();
        self.involve_counted(condition, bound, &mut involved);
        self.listed(&involved)
    }

    /// The parts that keep a condition from being surely met; empty if it is.
    #[must_use]
    pub fn unmet(&self, condition: &Condition, bound: &Bound) -> Vec<Clause> {
        let mut clauses = Vec::new();
        self.collect(condition, bound, Truth::Yes, Context::Top, &mut clauses);
        clauses
    }

    /// The parts that leave a condition undecided; empty if it is decided.
    #[must_use]
    pub fn undecided(&self, condition: &Condition, bound: &Bound) -> Vec<Clause> {
        let mut clauses = Vec::new();
        self.collect(condition, bound, Truth::Yes, Context::Open, &mut clauses);
        clauses
    }

    /// Adds the parts that do not have the wanted result. Inside a joined part that is settled the
    /// other way, an undecided part cannot matter and is left out. At the top it is named all the
    /// same, so that everything missing is reported.
    fn collect(
        &self,
        condition: &Condition,
        bound: &Bound,
        wanted: Truth,
        within: Context,
        clauses: &mut Vec<Clause>,
    ) {
        let truth = self.condition(condition, bound);
        if truth == wanted || within.leaves_out(truth) {
            return;
        }
        match &condition.form {
            Test::And(parts) | Test::Or(parts) => {
                let inner = within.inside(truth);
                parts
                    .iter()
                    .for_each(|part| self.collect(part, bound, wanted, inner, clauses));
            }
            Test::Not(inner) => self.collect(inner, bound, wanted.negated(), within, clauses),
            _ => clauses.push(self.clause((condition, truth), bound, wanted, within)),
        }
    }

    fn clause(
        &self,
        (condition, truth): (&Condition, Truth),
        bound: &Bound,
        wanted: Truth,
        within: Context,
    ) -> Clause {
        let mut involved = Involved::default();
        self.involve_judged((condition, truth), bound, (wanted, within), &mut involved);
        let involved = involved.settled();
        let RestsOn { facts, more_facts } = self.listed(&involved);
        Clause {
            span: condition.span.clone(),
            truth,
            negated: wanted == Truth::No,
            compared: self.compared(condition, bound),
            facts,
            more_facts,
            missing: involved.missing,
            limits: involved.limits,
            figures: involved.figures,
        }
    }

    fn compared(
        &self,
        condition: &Condition,
        bound: &Bound,
    ) -> Option<(Comparison, ComparedSide, ComparedSide, Sort)> {
        let Test::Compare {
            comparison,
            left,
            right,
            sort,
        } = &condition.form
        else {
            return None;
        };
        Some((
            *comparison,
            self.side(left, bound),
            self.side(right, bound),
            *sort,
        ))
    }

    fn side(&self, operand: &Operand, bound: &Bound) -> ComparedSide {
        let limit = match operand.number {
            Number::Limit(id) => Some(id),
            _ => None,
        };
        ComparedSide {
            span: operand.span.clone(),
            value: self.number(&operand.number, bound),
            limit,
        }
    }
}
