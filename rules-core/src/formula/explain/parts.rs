//! The facts and limits that take part in a condition.
//!
//! Figures and folds over all come out the same wherever they are named, so their parts are summed
//! up once and kept. That also keeps the work linear where figures rest on one another many times
//! over, or where thousands of findings name one fold.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::{FactAt, Rest, Walk};
use crate::facts::{FactId, Needs, Reach, SubjectId, Worked, WorkedId};
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
    Worked(WorkedId, Shared),
    Fold(usize, bool, Walk),
}

/// For whom a sum of a library figure holds: with the facts used and missed, for they may have used
/// different ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Shared {
    One(usize),
    In(usize, Needs, Needs),
    All(Needs, Needs),
}

/// Sums kept for one sheet.
#[derive(Debug, Default)]
pub(in crate::formula) struct Kept(BTreeMap<Key, Rc<Parts>>);

/// Facts and limits being collected; of what was summed up, only the facts to list.
#[derive(Debug, Clone, Default)]
pub(super) struct Parts {
    facts: BTreeSet<FactAt>,
    /// How many are left out of what was summed up.
    hidden: usize,
    pub missing: BTreeSet<FactId>,
    pub limits: BTreeSet<LimitId>,
    /// Figures of the library, and which one of their subject they are of.
    pub figures: BTreeSet<(WorkedId, usize)>,
    summed: BTreeSet<Key>,
}

impl Parts {
    fn fact(&mut self, fact: FactAt) {
        if fact.missing {
            self.missing.insert(fact.id);
        }
        self.facts.insert(fact);
    }

    /// Adds what was summed up under a key, once.
    fn add(&mut self, key: Key, sum: &Self) {
        if !self.summed.insert(key) {
            return;
        }
        self.facts.extend(&sum.facts);
        self.hidden += sum.hidden;
        self.missing.extend(&sum.missing);
        self.limits.extend(&sum.limits);
        self.figures.extend(&sum.figures);
    }
}

impl Evaluator<'_> {
    /// The facts to list: missing ones first, then by name of fact and of subject, so that no order
    /// of files or members shows; and how many more there are.
    pub(super) fn listed(&self, parts: &Parts) -> Rest {
        let mut facts: Vec<FactAt> = parts.facts.iter().copied().collect();
        facts.sort_by_cached_key(|fact| (!fact.missing, self.names(*fact)));
        let more_facts = facts.len().saturating_sub(MOST_FACTS) + parts.hidden;
        facts.truncate(MOST_FACTS);
        Rest { facts, more_facts }
    }

    /// The names of a fact and of the one it is of.
    #[must_use]
    pub fn names(&self, fact: FactAt) -> (&str, &str) {
        let subject = self
            .sheet()
            .instance(fact.subject, fact.position)
            .map_or("", |one| one.name.as_str());
        (self.catalogue().fact_name(fact.id), subject)
    }

    /// The facts of a condition; of what is joined or gone over, only those of parts that do not
    /// come out as wanted.
    pub(super) fn condition_parts(
        &self,
        condition: &Condition,
        bound: &Bound,
        (wanted, within): Wanted,
        parts: &mut Parts,
    ) {
        let truth = self.condition(condition, bound);
        if within != Walk::All && (truth == wanted || within.leaves_out(truth)) {
            return;
        }
        let inner = (wanted, within.inside(truth));
        match &condition.form {
            Test::Constant(_) => {}
            Test::Fact(fact) | Test::In(fact, _) | Test::Known(fact) => {
                self.fact_part(*fact, bound, parts)
            }
            Test::SameOption(a, b) | Test::SameText(a, b) => {
                self.fact_part(*a, bound, parts);
                self.fact_part(*b, bound, parts);
            }
            Test::Figure(id, subject) => {
                self.figure_parts(*id, *subject, bound, (wanted, within), parts)
            }
            Test::And(list) | Test::Or(list) => list
                .iter()
                .for_each(|part| self.condition_parts(part, bound, inner, parts)),
            Test::Not(part) => self.condition_parts(part, bound, (wanted.negated(), within), parts),
            Test::Compare { left, right, .. } => {
                self.number_parts(&left.number, bound, parts);
                self.number_parts(&right.number, bound, parts);
            }
            Test::Every(over, body) | Test::Any(over, body) => {
                self.go_over(*over, bound, inner, parts, |bound, parts| {
                    self.condition_parts(body, bound, inner, parts)
                });
            }
        }
    }

    pub(super) fn number_parts(&self, number: &Number, bound: &Bound, parts: &mut Parts) {
        let plain = (Truth::Yes, Walk::Top);
        match number {
            Number::Constant(_) => {}
            Number::Limit(id) => drop(parts.limits.insert(*id)),
            Number::Fact(fact) => self.fact_part(*fact, bound, parts),
            Number::Worked(id, subject) => self.worked_parts(*id, *subject, bound, parts),
            Number::Figure(id, subject) => self.figure_parts(*id, *subject, bound, plain, parts),
            Number::Sum(list) | Number::Product(list) => list
                .iter()
                .for_each(|(_, part)| self.number_parts(part, bound, parts)),
            Number::Least(list) | Number::Greatest(list) => list
                .iter()
                .for_each(|part| self.number_parts(part, bound, parts)),
            Number::Negative(inner) | Number::Abs(inner) => self.number_parts(inner, bound, parts),
            Number::Fold(_, over, body) => {
                self.go_over(*over, bound, plain, parts, |bound, parts| {
                    self.number_parts(body, bound, parts)
                })
            }
            Number::Distinct(over, fact) => {
                self.go_over(*over, bound, plain, parts, |bound, parts| {
                    self.fact_part(*fact, bound, parts)
                })
            }
            Number::Count(over, body) => {
                self.go_over(*over, bound, plain, parts, |bound, parts| {
                    self.counted_parts(body, bound, parts)
                })
            }
        }
    }

    /// The facts of a condition that is counted: whichever way its parts came out, they took part.
    pub(super) fn counted_parts(&self, condition: &Condition, bound: &Bound, parts: &mut Parts) {
        self.condition_parts(condition, bound, (Truth::Yes, Walk::All), parts);
    }

    fn figure_parts(
        &self,
        id: FigureId,
        subject: SubjectId,
        bound: &Bound,
        wanted: Wanted,
        parts: &mut Parts,
    ) {
        if self.sheet().is_unsettled(subject) {
            return self.unsettled_part(subject, parts);
        }
        let key = Key::Figure(
            id,
            bound.position(subject),
            wanted.0 == Truth::Yes,
            wanted.1,
        );
        self.summed_up(key, parts, |sum| match self.program().figures.get(id.0) {
            Some(FigureCode::Number(number, _)) => self.number_parts(number, bound, sum),
            Some(FigureCode::Condition(condition)) => {
                self.condition_parts(condition, bound, wanted, sum)
            }
            None => {}
        });
    }

    /// The facts that a library figure used, of those whom it looked at.
    fn worked_parts(&self, id: WorkedId, subject: SubjectId, bound: &Bound, parts: &mut Parts) {
        if self.sheet().is_unsettled(subject) {
            return self.unsettled_part(subject, parts);
        }
        let position = bound.position(subject);
        parts.figures.insert((id, position));
        let worked = self.work(id, position);
        self.summed_up(
            Key::Worked(id, self.shared(subject, position, &worked)),
            parts,
            |sum| {
                let missed: Vec<FactId> = self.catalogue().needed(worked.missing).collect();
                for fact in self.catalogue().needed(worked.used) {
                    self.needed_parts(
                        fact,
                        (subject, position, worked.reach),
                        missed.contains(&fact),
                        sum,
                    );
                }
            },
        );
    }

    /// What all share for whom a figure looked at the same facts, so that these are summed up once
    /// and not for each of them.
    fn shared(&self, subject: SubjectId, position: usize, worked: &Worked) -> Shared {
        let container = self
            .sheet()
            .instance(subject, position)
            .and_then(|one| one.container);
        match (worked.reach, container) {
            (Reach::All, _) => Shared::All(worked.used, worked.missing),
            (Reach::Together, Some(container)) => {
                Shared::In(container, worked.used, worked.missing)
            }
            (Reach::Own | Reach::Together, _) => Shared::One(position),
        }
    }

    /// A fact that a figure used, of each that it looked at. Where it missed none, those that are
    /// not given played no part.
    fn needed_parts(
        &self,
        id: FactId,
        (subject, position, reach): (SubjectId, usize, Reach),
        missed: bool,
        parts: &mut Parts,
    ) {
        let Some(def) = self.catalogue().fact(id) else {
            return;
        };
        let fact = FactRef {
            id,
            subject: def.subject,
            slot: self.catalogue().slot(id),
        };
        for at in self.looked_at(def.subject, subject, position, reach) {
            if missed || self.sheet().given(fact.subject, at, fact.slot).is_some() {
                self.fact_part(fact, &self.one(fact.subject, at), parts);
            }
        }
    }

    /// Which of a subject a figure looked at.
    fn looked_at(
        &self,
        of: SubjectId,
        subject: SubjectId,
        position: usize,
        reach: Reach,
    ) -> Vec<usize> {
        let instance = self.sheet().instance(subject, position);
        let members = |container: SubjectId, at: usize| {
            self.sheet()
                .instance(container, at)
                .map(|one| one.members.clone())
                .unwrap_or_default()
        };
        let container = self
            .catalogue()
            .container(subject)
            .zip(instance.and_then(|one| one.container));
        match (reach, container) {
            _ if !self.catalogue().is_many(of) => vec![0],
            (Reach::Together, Some((container, at))) if of == subject => members(container, at),
            (Reach::Own | Reach::Together, _) if of == subject => vec![position],
            (Reach::Own | Reach::Together, Some((container, at))) if of == container => vec![at],
            (Reach::Own | Reach::Together, _)
                if self.catalogue().container(of) == Some(subject) =>
            {
                members(subject, position)
            }
            (Reach::Own, _) if self.catalogue().origin(subject) == Some(of) => instance
                .and_then(|one| one.origin)
                .map_or_else(|| (0..self.sheet().count(of)).collect(), |at| vec![at]),
            _ => (0..self.sheet().count(of)).collect(),
        }
    }

    fn go_over(
        &self,
        over: Over,
        bound: &Bound,
        wanted: Wanted,
        parts: &mut Parts,
        each: impl Fn(&Bound, &mut Parts),
    ) {
        let Some(positions) = self.positions(over, bound) else {
            return self.unsettled_part(over.within.unwrap_or(over.subject), parts);
        };
        let all = |parts: &mut Parts| {
            positions.for_each(|at| each(&self.bind(bound, over.subject, at), parts))
        };
        match over.within {
            Some(_) => all(parts),
            None => self.summed_up(
                Key::Fold(over.number, wanted.0 == Truth::Yes, wanted.1),
                parts,
                all,
            ),
        }
    }

    fn summed_up(&self, key: Key, parts: &mut Parts, sum: impl FnOnce(&mut Parts)) {
        if let Some(kept) = self.kept_parts().borrow().0.get(&key) {
            return parts.add(key, kept);
        }
        let mut fresh = Parts::default();
        sum(&mut fresh);
        let Rest { facts, more_facts } = self.listed(&fresh);
        (fresh.facts, fresh.hidden) = (facts.into_iter().collect(), more_facts);
        let fresh = Rc::new(fresh);
        parts.add(key, &fresh);
        self.kept_parts().borrow_mut().0.insert(key, fresh);
    }

    fn fact_part(&self, fact: FactRef, bound: &Bound, parts: &mut Parts) {
        let position = bound.position(fact.subject);
        if self.sheet().is_nobody(fact.subject, position) {
            return self.unsettled_part(fact.subject, parts);
        }
        let missing = self
            .sheet()
            .given(fact.subject, position, fact.slot)
            .is_none();
        parts.fact(FactAt {
            id: fact.id,
            subject: fact.subject,
            position,
            slot: fact.slot,
            missing,
        });
    }

    /// Where it is not known which of a subject there are, or which members they have, what is
    /// missing is the fact by which others would say where they belong.
    fn unsettled_part(&self, subject: SubjectId, parts: &mut Parts) {
        let Some((id, def)) = self.catalogue().belonging(subject) else {
            return;
        };
        let slot = self.catalogue().slot(id);
        let silent = |position: &usize| self.sheet().given(def.subject, *position, slot).is_none();
        // The first by name, so that the order of the members plays no part.
        let name = |position: &usize| {
            self.sheet()
                .instance(def.subject, *position)
                .map(|one| one.name.as_str())
        };
        let position = (0..self.sheet().count(def.subject))
            .filter(silent)
            .min_by_key(name)
            .unwrap_or(0);
        parts.fact(FactAt {
            id,
            subject: def.subject,
            position,
            slot,
            missing: true,
        });
    }
}
