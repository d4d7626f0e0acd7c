//! What takes part in a number or a condition.

use std::rc::Rc;

use crate::facts::{FactId, Reach, SubjectId, Worked, WorkedId};
use crate::formula::bound::Bound;
use crate::formula::context::Context;
use crate::formula::evaluate::Evaluator;
use crate::formula::fact_at::FactAt;
use crate::formula::involved::{Involved, SumFor, SumKey};
use crate::formula::program::FigureCode;
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, FactRef, FigureId, Number, Over, Test};

/// The most facts one clause lists. Missing ones come first.
const MOST_FACTS: usize = 24;

/// The result that a part should have, and where it is.
type Wanted = (Truth, Context);

impl Evaluator<'_> {
    /// Leaves of the facts those to list: missing ones first, then by name of fact and of subject, so
    /// that no order of files or members shows. How many more there are is kept.
    pub(super) fn settle(&self, involved: &mut Involved) {
        let missing_first = |fact: &FactAt| self.rank(*fact) | u64::from(!fact.missing) << 63;
        let mut kept = self.kept_involved().borrow_mut();
        kept.order(&mut involved.facts, missing_first);
        involved.hidden += involved.facts.len().saturating_sub(MOST_FACTS);
        involved.facts.truncate(MOST_FACTS);
        involved.settle();
    }

    /// Puts facts in the order of their names and of those whom they are of, each once.
    pub fn put_by_name(&self, facts: &mut Vec<FactAt>) {
        let mut kept = self.kept_involved().borrow_mut();
        kept.order(facts, |fact| self.rank(*fact));
    }

    /// The ranks of a fact as one number below 2^63.
    fn rank(&self, fact: FactAt) -> u64 {
        let small = |rank: usize| u64::from(u32::try_from(rank).unwrap_or(u32::MAX));
        let (name, own) = self.ranks(fact);
        (small(name) & (u64::MAX >> 33)) << 32 | small(own)
    }

    /// The facts of a condition; of what is joined or gone over, only those of the parts involved
    /// that do not have the wanted result.
    pub(super) fn involve_condition(
        &self,
        condition: &Condition,
        bound: &Bound,
        (wanted, within): Wanted,
        involved: &mut Involved,
    ) {
        let truth = self.condition(condition, bound);
        if within != Context::All && (truth == wanted || within.leaves_out(truth)) {
            return;
        }
        self.involve_judged((condition, truth), bound, (wanted, within), involved);
    }

    /// The same of a condition whose result is known, and which takes part.
    pub(super) fn involve_judged(
        &self,
        (condition, truth): (&Condition, Truth),
        bound: &Bound,
        (wanted, within): Wanted,
        involved: &mut Involved,
    ) {
        let inner = (wanted, within.inside(truth));
        match &condition.form {
            Test::Constant(_) => {}
            Test::Fact(fact) | Test::In(fact, _) | Test::Known(fact) => {
                self.involve_fact(*fact, bound, involved)
            }
            Test::SameOption(a, b) | Test::SameText(a, b) => {
                self.involve_fact(*a, bound, involved);
                self.involve_fact(*b, bound, involved);
            }
            Test::Figure(id, subject) => {
                self.involve_figure(*id, *subject, bound, (wanted, within), involved)
            }
            Test::And(list) | Test::Or(list) => list
                .iter()
                .for_each(|part| self.involve_condition(part, bound, inner, involved)),
            Test::Not(part) => {
                self.involve_condition(part, bound, (wanted.negated(), within), involved)
            }
            Test::Compare { left, right, .. } => {
                self.involve_number(&left.number, bound, involved);
                self.involve_number(&right.number, bound, involved);
            }
            Test::Every(over, body) | Test::Any(over, body) => {
                self.go_over(*over, bound, inner, involved, |bound, involved| {
                    self.involve_condition(body, bound, inner, involved)
                });
            }
        }
    }

    pub(super) fn involve_number(&self, number: &Number, bound: &Bound, involved: &mut Involved) {
        let plain = (Truth::Yes, Context::Top);
        match number {
            Number::Constant(_) => {}
            Number::Limit(id) => involved.limits.push(*id),
            Number::Fact(fact) => self.involve_fact(*fact, bound, involved),
            Number::Worked(id, subject) => self.involve_worked(*id, *subject, bound, involved),
            Number::Figure(id, subject) => {
                self.involve_figure(*id, *subject, bound, plain, involved)
            }
            Number::Sum(list) | Number::Product(list) => list
                .iter()
                .for_each(|(_, part)| self.involve_number(part, bound, involved)),
            Number::Least(list) | Number::Greatest(list) => list
                .iter()
                .for_each(|part| self.involve_number(part, bound, involved)),
            Number::Negative(inner) | Number::Abs(inner) => {
                self.involve_number(inner, bound, involved)
            }
            Number::Fold(_, over, body) => {
                self.go_over(*over, bound, plain, involved, |bound, involved| {
                    self.involve_number(body, bound, involved)
                })
            }
            Number::Distinct(over, fact) => {
                self.go_over(*over, bound, plain, involved, |bound, involved| {
                    self.involve_fact(*fact, bound, involved)
                })
            }
            Number::Count(over, body) => {
                self.go_over(*over, bound, plain, involved, |bound, involved| {
                    self.involve_counted(body, bound, involved)
                })
            }
        }
    }

    /// The facts of a condition that is counted: they took part, whatever the result of the parts
    /// involved.
    pub(super) fn involve_counted(
        &self,
        condition: &Condition,
        bound: &Bound,
        involved: &mut Involved,
    ) {
        self.involve_condition(condition, bound, (Truth::Yes, Context::All), involved);
    }

    fn involve_figure(
        &self,
        id: FigureId,
        subject: SubjectId,
        bound: &Bound,
        wanted: Wanted,
        involved: &mut Involved,
    ) {
        if self.sheet().is_unsettled(subject) {
            return self.involve_unsettled(subject, involved);
        }
        let key = SumKey::Figure(
            id,
            bound.position(subject),
            wanted.0 == Truth::Yes,
            wanted.1,
        );
        self.summed_up(key, involved, |sum| {
            match self.program().figures.get(id.0) {
                Some(FigureCode::Number(number, _)) => self.involve_number(number, bound, sum),
                Some(FigureCode::Condition(condition)) => {
                    self.involve_condition(condition, bound, wanted, sum)
                }
                None => {}
            }
        });
    }

    /// The facts that a library figure used, of those whom it looked at.
    fn involve_worked(
        &self,
        id: WorkedId,
        subject: SubjectId,
        bound: &Bound,
        involved: &mut Involved,
    ) {
        if self.sheet().is_unsettled(subject) {
            return self.involve_unsettled(subject, involved);
        }
        let position = bound.position(subject);
        involved.figures.push((id, position));
        let worked = self.work(id, position);
        self.summed_up(
            SumKey::Worked(id, self.shared(subject, position, &worked)),
            involved,
            |sum| {
                let missed: Vec<FactId> = self.catalogue().needed(worked.missing).collect();
                for fact in self.catalogue().needed(worked.used) {
                    self.involve_needed(
                        fact,
                        (subject, position, worked.reach),
                        missed.contains(&fact),
                        sum,
                    );
                }
            },
        );
    }

    /// The key for all whose figure looked at the same facts, so that these are summed up once and
    /// not for each.
    fn shared(&self, subject: SubjectId, position: usize, worked: &Worked) -> SumFor {
        let container = self
            .sheet()
            .instance(subject, position)
            .and_then(|one| one.container);
        match (worked.reach, container) {
            (Reach::All, _) => SumFor::All(worked.used, worked.missing),
            (Reach::Together, Some(container)) => {
                SumFor::In(container, worked.used, worked.missing)
            }
            (Reach::Own | Reach::Together, _) => SumFor::One(position),
        }
    }

    /// A fact that a figure used, of each that it looked at. If it missed none, facts that are not
    /// given took no part.
    fn involve_needed(
        &self,
        id: FactId,
        (subject, position, reach): (SubjectId, usize, Reach),
        missed: bool,
        involved: &mut Involved,
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
                self.involve_fact(fact, &self.one(fact.subject, at), involved);
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
        involved: &mut Involved,
        each: impl Fn(&Bound, &mut Involved),
    ) {
        let Some(positions) = self.positions(over, bound) else {
            return self.involve_unsettled(over.within.unwrap_or(over.subject), involved);
        };
        let all = |involved: &mut Involved| {
            positions.for_each(|at| each(&self.bind(bound, over.subject, at), involved))
        };
        match over.within {
            Some(_) => all(involved),
            None => self.summed_up(
                SumKey::Fold(over.number, wanted.0 == Truth::Yes, wanted.1),
                involved,
                all,
            ),
        }
    }

    fn summed_up(&self, key: SumKey, involved: &mut Involved, sum: impl FnOnce(&mut Involved)) {
        if let Some(kept) = self.kept_involved().borrow().get(key) {
            return involved.add(key, kept);
        }
        let mut fresh = Involved::default();
        sum(&mut fresh);
        self.settle(&mut fresh);
        let fresh = Rc::new(fresh);
        involved.add(key, &fresh);
        self.kept_involved().borrow_mut().keep(key, fresh);
    }

    fn involve_fact(&self, fact: FactRef, bound: &Bound, involved: &mut Involved) {
        let position = bound.position(fact.subject);
        if self.sheet().is_nobody(fact.subject, position) {
            return self.involve_unsettled(fact.subject, involved);
        }
        let missing = self
            .sheet()
            .given(fact.subject, position, fact.slot)
            .is_none();
        involved.fact(FactAt {
            id: fact.id,
            subject: fact.subject,
            position,
            slot: fact.slot,
            missing,
        });
    }

    /// If it is not known which ones of a subject there are, or which members they have, the
    /// missing fact is the one by which others say where they belong.
    fn involve_unsettled(&self, subject: SubjectId, involved: &mut Involved) {
        let Some((id, def)) = self.catalogue().belonging(subject) else {
            return;
        };
        let slot = self.catalogue().slot(id);
        let silent = |position: &usize| self.sheet().given(def.subject, *position, slot).is_none();
        // The first by name, so that the order of the members does not matter.
        let name = |position: &usize| {
            self.sheet()
                .instance(def.subject, *position)
                .map(|one| one.name.as_str())
        };
        let position = (0..self.sheet().count(def.subject))
            .filter(silent)
            .min_by_key(name)
            .unwrap_or(0);
        involved.fact(FactAt {
            id,
            subject: def.subject,
            position,
            slot,
            missing: true,
        });
    }
}
