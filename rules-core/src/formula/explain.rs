//! Which parts of a condition decided, on which facts, against which limits.

use std::ops::Range;

use super::evaluate::{Bound, Evaluated, Evaluator};
use super::program::FigureCode;
use super::tree::Comparison;
use super::truth::Truth;
use super::typed::{Condition, FactRef, FigureId, LimitId, Number, Operand, Over, Sort, Test};
use crate::facts::{FactId, SubjectId, WorkedId};

/// The most facts one clause lists; a fold over thousands of cells names the first.
const MOST_FACTS: usize = 24;

/// A fact of one of its subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FactAt {
    /// The fact.
    pub id: FactId,
    /// The subject.
    pub subject: SubjectId,
    /// Which one of the subject.
    pub position: usize,
    /// The slot of the fact.
    pub slot: usize,
    /// Whether nothing was given.
    pub missing: bool,
}

/// One side of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Bytes of the formula's text.
    pub span: Range<usize>,
    /// What it came to.
    pub value: Evaluated,
    /// The limit, where the side is nothing else.
    pub limit: Option<LimitId>,
}

/// A part of a condition that is not met, or not surely met.
#[derive(Debug, Clone, PartialEq)]
pub struct Clause {
    /// Bytes of the formula's text.
    pub span: Range<usize>,
    /// What the part came to, as it stands there.
    pub truth: Truth,
    /// Whether the part had to come out `no` (it stands under a `not`).
    pub negated: bool,
    /// For a comparison of numbers: how, the two sides, and what kind of numbers they are.
    pub compared: Option<(Comparison, Side, Side, Sort)>,
    /// The facts that take part, each once.
    pub facts: Vec<FactAt>,
    /// How many more facts take part than are listed.
    pub more_facts: usize,
    /// The limits that take part.
    pub limits: Vec<LimitId>,
}

/// Facts and limits being collected.
#[derive(Default)]
struct Parts {
    facts: Vec<FactAt>,
    more: usize,
    limits: Vec<LimitId>,
}

impl Parts {
    fn fact(&mut self, fact: FactAt) {
        if self.facts.contains(&fact) {
            return;
        }
        if self.facts.len() < MOST_FACTS { self.facts.push(fact) } else { self.more += 1 }
    }

    fn limit(&mut self, limit: LimitId) {
        if !self.limits.contains(&limit) {
            self.limits.push(limit);
        }
    }
}

/// Where a walk over a condition is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Walk {
    /// At the top.
    Top,
    /// Inside a joined condition that is still open, or at the top.
    Joined,
    /// Inside a part that is settled the other way.
    Settled,
}

impl Evaluator<'_> {
    /// The parts that keep a condition from being surely met; empty if it is.
    #[must_use]
    pub fn unmet(&self, condition: &Condition, bound: Bound) -> Vec<Clause> {
        let mut clauses = Vec::new();
        self.collect(condition, bound, Truth::Yes, Walk::Top, &mut clauses);
        clauses
    }

    /// The parts that leave a condition undecided; empty if it is decided.
    #[must_use]
    pub fn undecided(&self, condition: &Condition, bound: Bound) -> Vec<Clause> {
        let mut clauses = self.unmet(condition, bound);
        clauses.retain(|clause| clause.truth.is_undecided());
        clauses
    }

    /// Adds the parts that do not come out as wanted. Inside a joined part that is settled the other way, what is still undecided
    /// cannot matter and is left out; at the top it is named all the same, so that nothing missing goes unsaid.
    fn collect(&self, condition: &Condition, bound: Bound, wanted: Truth, within: Walk, clauses: &mut Vec<Clause>) {
        let truth = self.condition(condition, bound);
        if truth == wanted || (within == Walk::Settled && truth.is_undecided()) {
            return;
        }
        match &condition.form {
            Test::And(parts) | Test::Or(parts) => {
                let inner = if within != Walk::Top && !truth.is_undecided() { Walk::Settled } else { Walk::Joined };
                parts.iter().for_each(|part| self.collect(part, bound, wanted, inner, clauses));
            }
            Test::Not(inner) => self.collect(inner, bound, wanted.negated(), within, clauses),
            _ => clauses.push(self.clause(condition, bound, wanted)),
        }
    }

    fn clause(&self, condition: &Condition, bound: Bound, wanted: Truth) -> Clause {
        let mut parts = Parts::default();
        self.condition_parts(condition, bound, wanted, &mut parts);
        Clause {
            span: condition.span.clone(),
            truth: self.condition(condition, bound),
            negated: wanted == Truth::No,
            compared: self.compared(condition, bound),
            facts: parts.facts,
            more_facts: parts.more,
            limits: parts.limits,
        }
    }

    fn compared(&self, condition: &Condition, bound: Bound) -> Option<(Comparison, Side, Side, Sort)> {
        let Test::Compare { comparison, left, right, sort } = &condition.form else { return None };
        Some((*comparison, self.side(left, bound), self.side(right, bound), *sort))
    }

    fn side(&self, operand: &Operand, bound: Bound) -> Side {
        let limit = match operand.number {
            Number::Limit(id) => Some(id),
            _ => None,
        };
        Side { span: operand.span.clone(), value: self.number(&operand.number, bound), limit }
    }

    /// The facts of a condition; of what is joined or gone over, only those of parts that do not come out as wanted.
    fn condition_parts(&self, condition: &Condition, bound: Bound, wanted: Truth, parts: &mut Parts) {
        if self.condition(condition, bound) == wanted {
            return;
        }
        match &condition.form {
            Test::Constant(_) => {}
            Test::Fact(fact) | Test::In(fact, _) | Test::Known(fact) => self.fact_part(*fact, bound, parts),
            Test::SameOption(a, b) | Test::SameText(a, b) => {
                self.fact_part(*a, bound, parts);
                self.fact_part(*b, bound, parts);
            }
            Test::Figure(id, _) => {
                if let Some(FigureCode::Condition(inner)) = self.program().figures.get(id.0) {
                    self.condition_parts(inner, bound, wanted, parts);
                }
            }
            Test::And(list) | Test::Or(list) => list.iter().for_each(|part| self.condition_parts(part, bound, wanted, parts)),
            Test::Not(inner) => self.condition_parts(inner, bound, wanted.negated(), parts),
            Test::Compare { left, right, .. } => {
                self.number_parts(&left.number, bound, parts);
                self.number_parts(&right.number, bound, parts);
            }
            Test::Every(over, body) | Test::Any(over, body) => {
                self.go_over(*over, bound, parts, |inner, parts| self.condition_parts(body, inner, wanted, parts));
            }
        }
    }

    fn number_parts(&self, number: &Number, bound: Bound, parts: &mut Parts) {
        match number {
            Number::Constant(_) => {}
            Number::Limit(id) => parts.limit(*id),
            Number::Fact(fact) => self.fact_part(*fact, bound, parts),
            Number::Worked(id, _) => self.worked_parts(*id, bound, parts),
            Number::Figure(id, _) => self.figure_parts(*id, bound, parts),
            Number::Sum(list) | Number::Product(list) => list.iter().for_each(|(_, part)| self.number_parts(part, bound, parts)),
            Number::Least(list) | Number::Greatest(list) => list.iter().for_each(|part| self.number_parts(part, bound, parts)),
            Number::Negative(inner) | Number::Abs(inner) => self.number_parts(inner, bound, parts),
            Number::Fold(_, over, body) => self.go_over(*over, bound, parts, |inner, parts| self.number_parts(body, inner, parts)),
            Number::Distinct(over, fact) => self.go_over(*over, bound, parts, |inner, parts| self.fact_part(*fact, inner, parts)),
            Number::Count(over, body) => self.go_over(*over, bound, parts, |inner, parts| self.all_condition_parts(body, inner, parts)),
        }
    }

    fn figure_parts(&self, id: FigureId, bound: Bound, parts: &mut Parts) {
        match self.program().figures.get(id.0) {
            Some(FigureCode::Number(number, _)) => self.number_parts(number, bound, parts),
            Some(FigureCode::Condition(condition)) => self.all_condition_parts(condition, bound, parts),
            None => {}
        }
    }

    /// The facts of a condition that is counted: whichever way it came out, they took part.
    fn all_condition_parts(&self, condition: &Condition, bound: Bound, parts: &mut Parts) {
        self.condition_parts(condition, bound, Truth::Yes, parts);
        self.condition_parts(condition, bound, Truth::No, parts);
    }

    fn worked_parts(&self, id: WorkedId, bound: Bound, parts: &mut Parts) {
        let (Some(def), Some(worked)) = (self.catalogue().worked_def(id), self.work(id, bound)) else { return };
        for need in (0..def.needs.len()).filter(|need| worked.used & (1 << need) != 0) {
            if let Some(fact) = self.need(def, need) {
                self.fact_part(fact, bound, parts);
            }
        }
    }

    fn go_over(&self, over: Over, bound: Bound, parts: &mut Parts, each: impl Fn(Bound, &mut Parts)) {
        match self.positions(over, bound) {
            Some(positions) => positions.iter().for_each(|at| each(self.bind(bound, over.subject, *at), parts)),
            None => self.unsettled_part(over.within.unwrap_or(over.subject), parts),
        }
    }

    fn fact_part(&self, fact: FactRef, bound: Bound, parts: &mut Parts) {
        if self.sheet().is_unsettled(fact.subject) {
            return self.unsettled_part(fact.subject, parts);
        }
        let position = bound.position(fact.subject);
        let missing = self.sheet().given(fact.subject, position, fact.slot).is_none();
        parts.fact(FactAt { id: fact.id, subject: fact.subject, position, slot: fact.slot, missing });
    }

    /// Where members are unsettled, what is missing is the fact by which they would say where they belong: `cell.group` for groups.
    fn unsettled_part(&self, container: SubjectId, parts: &mut Parts) {
        let name = self.catalogue().subject_name(container);
        let belongs =
            self.catalogue().facts().find(|(_, def)| def.name == name && self.catalogue().container(def.subject) == Some(container));
        let Some((id, def)) = belongs else { return };
        let slot = self.catalogue().slot(id);
        for position in 0..self.sheet().count(def.subject) {
            if self.sheet().given(def.subject, position, slot).is_none() {
                return parts.fact(FactAt { id, subject: def.subject, position, slot, missing: true });
            }
        }
        parts.fact(FactAt { id, subject: def.subject, position: 0, slot, missing: true });
    }
}
