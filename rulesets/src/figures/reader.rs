//! Reads facts for a figure, and notes what it looked at on its way.
//!
//! A figure can look at no fact that it does not declare: such a one is missing to it, and is noted
//! as looked at, which a test of all figures finds.

use super::assumed::{Answer, Assumed};
use super::needs::{Need, set};
use rules_core::facts::{FactId, Facts, Needs, OptionSet, Reach, SubjectId, Worked};
use rules_core::quantity::{Interval, Measure};

/// What a figure may look at, and what has been looked at on the way to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Notes {
    declared: Needs,
    used: Needs,
    missing: Needs,
    pub reach: Reach,
}

impl Notes {
    /// Notes of something that declares what it may look at.
    pub(super) const fn of(declared: Needs) -> Self {
        Self {
            declared,
            used: Needs::NONE,
            missing: Needs::NONE,
            reach: Reach::Own,
        }
    }

    /// Fresh notes for a part of the work that may come to nothing.
    pub(super) const fn apart(&self) -> Self {
        Self::of(self.declared)
    }

    /// Leaves out what was looked at in a part that came to nothing, but for what it was refused.
    pub(super) fn leave(&mut self, tried: Self) {
        for need in tried.used.positions().map(Needs::one) {
            self.allow(need);
        }
    }

    /// Whether all of these facts may be looked at. What may not is noted as looked at and missing.
    pub(super) fn allow(&mut self, needs: Needs) -> bool {
        let allowed = self.declared.with(needs) == self.declared;
        if !allowed {
            self.used = self.used.with(needs);
            self.missing = self.missing.with(needs);
        }
        allowed
    }

    /// Adds what others looked at.
    pub(super) fn join(&mut self, other: Self) {
        self.used = self.used.with(other.used);
        self.missing = self.missing.with(other.missing);
        self.reach = self.reach.max(other.reach);
    }

    /// Marks that a fact took part.
    pub(super) fn uses(&mut self, need: Need) {
        self.used = self.used.with(Needs::one(need as usize));
    }

    /// Marks that a fact takes part and is missing.
    pub(super) fn lacks(&mut self, need: Need) {
        self.uses(need);
        self.missing = self.missing.with(Needs::one(need as usize));
    }

    /// The figure that was worked out on the way.
    pub(super) fn worked(self, value: Interval) -> Worked {
        Worked {
            value: Measure::of(value),
            used: self.used,
            missing: self.missing,
            reach: self.reach,
            open: None,
        }
    }
}

/// A thing with what was looked at to get it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Noted<T> {
    pub it: T,
    pub notes: Notes,
}

impl<T> Noted<T> {
    /// What is worked out of the facts declared, with what was looked at on the way.
    pub(super) fn of(declared: Needs, work: impl FnOnce(&mut Notes) -> T) -> Self {
        let mut notes = Notes::of(declared);
        let it = work(&mut notes);
        Self { it, notes }
    }
}

/// Reads facts and notes what it reads.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reader<'s> {
    facts: Facts<'s>,
    ids: &'s [FactId],
    /// Facts taken as answered, whatever is given.
    assumed: &'s [Assumed],
}

impl<'s> Reader<'s> {
    pub(super) const fn new(facts: Facts<'s>, ids: &'s [FactId]) -> Self {
        Self {
            facts,
            ids,
            assumed: &[],
        }
    }

    /// The same with some facts taken as answered.
    pub(super) const fn assuming<'t>(self, assumed: &'t [Assumed]) -> Reader<'t>
    where
        's: 't,
    {
        Reader {
            facts: self.facts,
            ids: self.ids,
            assumed,
        }
    }

    /// Whether a fact is given.
    pub(super) fn is_given(self, need: Need, position: usize) -> bool {
        self.id(need)
            .is_some_and(|id| self.facts.value(id, position).is_some())
    }

    /// Whether a fact is given, or taken as answered.
    pub(super) fn is_told(self, need: Need, position: usize) -> bool {
        self.assumed(need, position).is_some() || self.is_given(need, position)
    }

    /// What a fact is taken to be.
    fn assumed(self, need: Need, position: usize) -> Option<Answer> {
        let all = self.assumed.iter();
        let mut of = all.filter(|one| one.need == need && one.position == position);
        of.next().map(|one| one.answer)
    }

    /// How many there are of a subject.
    pub(super) fn count(self, subject: SubjectId) -> usize {
        self.facts.sheet().count(subject)
    }

    /// The one that contains one of a subject.
    pub(super) fn container(self, subject: SubjectId, position: usize) -> Option<usize> {
        let one = self.facts.sheet().instance(subject, position)?;
        one.container
    }

    /// How many members of one of a subject there are, those counted that one of them stands for.
    pub(super) fn size(self, members: &[usize], of: SubjectId, within: SubjectId) -> usize {
        let sheet = self.facts.sheet();
        let stands_for = |member: &usize| sheet.stands_for(of, *member, Some(within));
        members.iter().map(stands_for).sum()
    }

    /// Whether there is one of a subject and no other.
    pub(super) fn is_one(self, subject: SubjectId) -> bool {
        self.facts.sheet().count_in_all(subject) == 1
    }

    /// What one of a subject came out of: where it names it, by a fact that the other has as well.
    pub(super) fn origin(
        self,
        (names, is): (Need, Need),
        subject: SubjectId,
        position: usize,
        notes: &mut Notes,
    ) -> Option<usize> {
        if !notes.allow(set(&[names, is])) {
            return None;
        }
        let origin = self.facts.sheet().instance(subject, position)?.origin?;
        notes.uses(is);
        Some(origin)
    }

    /// Whether it is not settled which members the ones of a subject have.
    pub(super) fn is_unsettled(self, subject: SubjectId) -> bool {
        self.facts.sheet().is_unsettled(subject)
    }

    /// The positions of the members of one of a subject, which a need tells; none where it is not
    /// settled which they are.
    pub(super) fn members(
        self,
        told_by: Need,
        subject: SubjectId,
        position: usize,
        notes: &mut Notes,
    ) -> Option<&'s [usize]> {
        if !notes.allow(set(&[told_by])) || self.is_unsettled(subject) {
            return None;
        }
        let one = self.facts.sheet().instance(subject, position)?;
        Some(&one.members)
    }

    /// The fact of a need.
    pub(super) fn id(self, need: Need) -> Option<FactId> {
        self.ids.get(need as usize).copied()
    }

    /// The fact of a need, if it may be looked at.
    fn open(self, need: Need, notes: &mut Notes) -> Option<FactId> {
        self.id(need).filter(|_| notes.allow(set(&[need])))
    }

    /// A number that the figure cannot do without.
    pub(super) fn must(self, need: Need, position: usize, notes: &mut Notes) -> Option<Interval> {
        self.must_measure(need, position, notes)
            .map(|measure| measure.range())
    }

    /// The same with what it shares of its meter's error.
    pub(super) fn must_measure(
        self,
        need: Need,
        position: usize,
        notes: &mut Notes,
    ) -> Option<Measure> {
        let found = self.may_measure(need, position, notes);
        if found.is_none() {
            notes.lacks(need);
        }
        found
    }

    /// A number that only takes part if it is given.
    pub(super) fn may(self, need: Need, position: usize, notes: &mut Notes) -> Option<Interval> {
        self.may_measure(need, position, notes)
            .map(|measure| measure.range())
    }

    /// The same with what it shares of its meter's error.
    pub(super) fn may_measure(
        self,
        need: Need,
        position: usize,
        notes: &mut Notes,
    ) -> Option<Measure> {
        let id = self.open(need, notes)?;
        let assumed = self.assumed(need, position).and_then(Answer::number);
        let found = match assumed {
            Some(answer) => Measure::of(answer),
            None => self.facts.number(id, position)?,
        };
        notes.uses(need);
        Some(found)
    }

    /// The options of a choice that the figure cannot do without.
    pub(super) fn choice(
        self,
        need: Need,
        position: usize,
        notes: &mut Notes,
    ) -> Option<OptionSet> {
        notes.uses(need);
        let found = self
            .open(need, notes)
            .and_then(|id| self.chosen((need, id), position));
        if found.is_none() {
            notes.lacks(need);
        }
        found
    }

    fn chosen(self, (need, id): (Need, FactId), position: usize) -> Option<OptionSet> {
        self.assumed(need, position)
            .and_then(Answer::options)
            .or_else(|| self.facts.choice(id, position))
    }

    /// A text that only takes part if it is given.
    pub(super) fn text(self, need: Need, position: usize, notes: &mut Notes) -> Option<&'s str> {
        let id = self.open(need, notes)?;
        let found = self.facts.text(id, position)?;
        notes.uses(need);
        Some(found)
    }
}
