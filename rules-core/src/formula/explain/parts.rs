//! The facts and limits that take part in a condition.
//!
//! Figures and folds over all come out the same wherever they are named, so their parts are summed up once and kept. That also keeps
//! the work linear where figures rest on one another many times over, or where thousands of findings name one fold.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::{FactAt, Walk};
use crate::facts::{FactId, SubjectId, WorkedId};
use crate::formula::evaluate::{Bound, Evaluator};
use crate::formula::program::FigureCode;
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, FactRef, FigureId, LimitId, Number, Over, Test};

/// The most facts one clause lists. Missing ones come first.
const MOST_FACTS: usize = 24;

/// What a part is wanted to come to, and where the walk is.
type Wanted = (Truth, Walk);

/// What is summed up once: a figure of one of its subject, or a fold over all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Figure(FigureId, usize, bool, Walk),
    Fold(usize, bool, Walk),
}

/// Sums kept for one sheet.
#[derive(Debug, Default)]
pub(in crate::formula) struct Kept(BTreeMap<Key, Rc<Parts>>);

/// Facts and limits being collected.
#[derive(Debug, Clone, Default)]
pub(super) struct Parts {
    /// Facts, missing ones first, then by name of fact and of subject: so that no order of files or cells shows.
    facts: BTreeMap<(bool, String, String), FactAt>,
    /// How many are left out of what was summed up.
    hidden: usize,
    pub missing: BTreeSet<FactId>,
    pub limits: BTreeSet<LimitId>,
    summed: BTreeSet<Key>,
}

impl Parts {
    fn fact(&mut self, fact: FactAt, name: String, subject: String) {
        if fact.missing {
            self.missing.insert(fact.id);
        }
        self.facts.insert((!fact.missing, name, subject), fact);
    }

    /// The facts to list, and how many more there are.
    pub(super) fn listed(&self) -> (Vec<FactAt>, usize) {
        let listed: Vec<FactAt> = self.facts.values().take(MOST_FACTS).copied().collect();
        let more = self.facts.len() - listed.len() + self.hidden;
        (listed, more)
    }

    /// Adds what was summed up under a key, once.
    fn add(&mut self, key: Key, sum: &Self) {
        if !self.summed.insert(key) {
            return;
        }
        self.facts.extend(sum.facts.iter().take(MOST_FACTS).map(|(key, fact)| (key.clone(), *fact)));
        self.hidden += sum.hidden + sum.facts.len().saturating_sub(MOST_FACTS);
        self.missing.extend(&sum.missing);
        self.limits.extend(&sum.limits);
    }
}

impl Evaluator<'_> {
    /// The facts of a condition; of what is joined or gone over, only those of parts that do not come out as wanted.
    pub(super) fn condition_parts(&self, condition: &Condition, bound: Bound, (wanted, within): Wanted, parts: &mut Parts) {
        let truth = self.condition(condition, bound);
        if truth == wanted || within.leaves_out(truth) {
            return;
        }
        let inner = (wanted, within.inside(truth));
        match &condition.form {
            Test::Constant(_) => {}
            Test::Fact(fact) | Test::In(fact, _) | Test::Known(fact) => self.fact_part(*fact, bound, parts),
            Test::SameOption(a, b) | Test::SameText(a, b) => {
                self.fact_part(*a, bound, parts);
                self.fact_part(*b, bound, parts);
            }
            Test::Figure(id, subject) => self.figure_parts(*id, *subject, bound, (wanted, within), parts),
            Test::And(list) | Test::Or(list) => list.iter().for_each(|part| self.condition_parts(part, bound, inner, parts)),
            Test::Not(part) => self.condition_parts(part, bound, (wanted.negated(), within), parts),
            Test::Compare { left, right, .. } => {
                self.number_parts(&left.number, bound, parts);
                self.number_parts(&right.number, bound, parts);
            }
            Test::Every(over, body) | Test::Any(over, body) => {
                self.go_over(*over, bound, inner, parts, |bound, parts| self.condition_parts(body, bound, inner, parts));
            }
        }
    }

    fn number_parts(&self, number: &Number, bound: Bound, parts: &mut Parts) {
        let plain = (Truth::Yes, Walk::Top);
        match number {
            Number::Constant(_) => {}
            Number::Limit(id) => drop(parts.limits.insert(*id)),
            Number::Fact(fact) => self.fact_part(*fact, bound, parts),
            Number::Worked(id, subject) => self.worked_parts(*id, *subject, bound, parts),
            Number::Figure(id, subject) => self.figure_parts(*id, *subject, bound, plain, parts),
            Number::Sum(list) | Number::Product(list) => list.iter().for_each(|(_, part)| self.number_parts(part, bound, parts)),
            Number::Least(list) | Number::Greatest(list) => list.iter().for_each(|part| self.number_parts(part, bound, parts)),
            Number::Negative(inner) | Number::Abs(inner) => self.number_parts(inner, bound, parts),
            Number::Fold(_, over, body) => self.go_over(*over, bound, plain, parts, |bound, parts| self.number_parts(body, bound, parts)),
            Number::Distinct(over, fact) => self.go_over(*over, bound, plain, parts, |bound, parts| self.fact_part(*fact, bound, parts)),
            Number::Count(over, body) => self.go_over(*over, bound, plain, parts, |bound, parts| self.counted_parts(body, bound, parts)),
        }
    }

    /// The facts of a condition that is counted: whichever way it came out, they took part.
    fn counted_parts(&self, condition: &Condition, bound: Bound, parts: &mut Parts) {
        self.condition_parts(condition, bound, (Truth::Yes, Walk::Top), parts);
        self.condition_parts(condition, bound, (Truth::No, Walk::Top), parts);
    }

    fn figure_parts(&self, id: FigureId, subject: SubjectId, bound: Bound, wanted: Wanted, parts: &mut Parts) {
        if self.sheet().is_unsettled(subject) {
            return self.unsettled_part(subject, parts);
        }
        let key = Key::Figure(id, bound.position(subject), wanted.0 == Truth::Yes, wanted.1);
        self.summed_up(key, parts, |sum| match self.program().figures.get(id.0) {
            Some(FigureCode::Number(number, _)) => self.number_parts(number, bound, sum),
            Some(FigureCode::Condition(condition)) => self.condition_parts(condition, bound, wanted, sum),
            None => {}
        });
    }

    fn worked_parts(&self, id: WorkedId, subject: SubjectId, bound: Bound, parts: &mut Parts) {
        if self.sheet().is_unsettled(subject) {
            return self.unsettled_part(subject, parts);
        }
        let (Some(def), Some(worked)) = (self.catalogue().worked_def(id), self.work(id, bound)) else { return };
        for need in (0..def.needs.len()).filter(|need| worked.used & (1 << need) != 0) {
            if let Some(fact) = self.need(def, need) {
                self.fact_part(fact, bound, parts);
            }
        }
    }

    fn go_over(&self, over: Over, bound: Bound, wanted: Wanted, parts: &mut Parts, each: impl Fn(Bound, &mut Parts)) {
        let Some(positions) = self.positions(over, bound) else { return self.unsettled_part(over.within.unwrap_or(over.subject), parts) };
        let all = |parts: &mut Parts| positions.iter().for_each(|at| each(self.bind(bound, over.subject, *at), parts));
        match over.within {
            Some(_) => all(parts),
            None => self.summed_up(Key::Fold(over.number, wanted.0 == Truth::Yes, wanted.1), parts, all),
        }
    }

    fn summed_up(&self, key: Key, parts: &mut Parts, sum: impl FnOnce(&mut Parts)) {
        if let Some(kept) = self.kept_parts().borrow().0.get(&key) {
            return parts.add(key, kept);
        }
        let mut fresh = Parts::default();
        sum(&mut fresh);
        let fresh = Rc::new(fresh);
        parts.add(key, &fresh);
        self.kept_parts().borrow_mut().0.insert(key, fresh);
    }

    fn fact_part(&self, fact: FactRef, bound: Bound, parts: &mut Parts) {
        if self.sheet().is_unsettled(fact.subject) {
            return self.unsettled_part(fact.subject, parts);
        }
        let position = bound.position(fact.subject);
        let missing = self.sheet().given(fact.subject, position, fact.slot).is_none();
        self.add_fact(FactAt { id: fact.id, subject: fact.subject, position, slot: fact.slot, missing }, parts);
    }

    fn add_fact(&self, fact: FactAt, parts: &mut Parts) {
        let subject = self.sheet().instance(fact.subject, fact.position).map(|one| one.name.clone()).unwrap_or_default();
        parts.fact(fact, self.catalogue().fact_name(fact.id), subject);
    }

    /// Where members are unsettled, what is missing is the fact by which they would say where they belong.
    fn unsettled_part(&self, container: SubjectId, parts: &mut Parts) {
        let Some((id, def)) = self.catalogue().belonging(container) else { return };
        let slot = self.catalogue().slot(id);
        let silent = |position: &usize| self.sheet().given(def.subject, *position, slot).is_none();
        // The first by name, so that the order of the members plays no part.
        let name = |position: &usize| self.sheet().instance(def.subject, *position).map(|one| one.name.as_str());
        let position = (0..self.sheet().count(def.subject)).filter(silent).min_by_key(name).unwrap_or(0);
        self.add_fact(FactAt { id, subject: def.subject, position, slot, missing: true }, parts);
    }
}
