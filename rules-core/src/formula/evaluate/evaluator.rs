//! The evaluator of formulas: a program, a sheet, and the results so far.

use std::cell::{OnceCell, RefCell};

use super::kept::KeptResults;
use super::opened::OpenedLibrary;
use crate::facts::{Catalogue, MOST_SUBJECTS, Sheet, SubjectId, Value, ranked};
use crate::formula::bound::Bound;
use crate::formula::fact_at::FactAt;
use crate::formula::involved::KeptInvolved;
use crate::formula::program::Program;
use crate::formula::typed::FactRef;

/// Evaluates formulas of one program on one sheet. Figures and folds over all are worked out once
/// and kept.
#[derive(Debug)]
pub struct Evaluator<'e> {
    pub(super) catalogue: &'e Catalogue,
    pub(super) program: &'e Program,
    pub(super) sheet: &'e Sheet,
    pub(super) simple: bool,
    pub(super) results: RefCell<KeptResults>,
    involved: RefCell<KeptInvolved>,
    pub(super) library: OpenedLibrary<'e>,
    /// Of each of a subject, how many names come before its own.
    ranks: [OnceCell<Box<[usize]>>; MOST_SUBJECTS],
}

impl<'e> Evaluator<'e> {
    /// An evaluator; with `simple`, every number that is given is its nominal value. What the library
    /// works out is an interval all the same.
    #[must_use]
    pub fn new(
        catalogue: &'e Catalogue,
        program: &'e Program,
        sheet: &'e Sheet,
        simple: bool,
    ) -> Self {
        let results = RefCell::new(KeptResults::new(program.figures.len(), program.folds));
        Self {
            catalogue,
            program,
            sheet,
            simple,
            results,
            involved: RefCell::default(),
            library: OpenedLibrary::of(catalogue.worked().len()),
            ranks: Default::default(),
        }
    }

    /// The catalogue of the sheet.
    #[must_use]
    pub fn catalogue(&self) -> &'e Catalogue {
        self.catalogue
    }

    /// The program.
    #[must_use]
    pub fn program(&self) -> &'e Program {
        self.program
    }

    /// The sheet.
    #[must_use]
    pub fn sheet(&self) -> &'e Sheet {
        self.sheet
    }

    /// What explanations have summed up so far.
    pub(in crate::formula) fn kept_involved(&self) -> &RefCell<KeptInvolved> {
        &self.involved
    }

    /// Binds one of a subject, and what contains it, alone.
    #[must_use]
    #[inline]
    pub fn one(&self, subject: SubjectId, position: usize) -> Bound {
        self.bind(&Bound::default(), subject, position)
    }

    /// Each one of a subject bound alone, in order.
    pub fn each(&self, subject: SubjectId) -> impl ExactSizeIterator<Item = Bound> {
        (0..self.sheet.count(subject)).map(move |position| self.one(subject, position))
    }

    /// Where the name of a fact stands among those of the catalogue, and that of the one it is of
    /// among those of its subject. Equal names have one rank.
    pub(crate) fn ranks(&self, fact: FactAt) -> (usize, usize) {
        let ranks = self.ranks.get(fact.subject.position());
        let of_subject = ranks.map(|ranks| ranks.get_or_init(|| self.ranks_of(fact.subject)));
        let own = of_subject.and_then(|ranks| ranks.get(fact.position));
        (self.catalogue.rank(fact.id), own.copied().unwrap_or(0))
    }

    fn ranks_of(&self, subject: SubjectId) -> Box<[usize]> {
        let all = self.sheet.roster(subject);
        let all = all.map_or(&[][..], |roster| &roster.instances);
        ranked(all.iter().map(|one| one.name.as_str()))
    }

    /// Binds one of a subject, and what contains it, beside what is bound.
    #[must_use]
    #[inline]
    pub fn bind(&self, bound: &Bound, subject: SubjectId, position: usize) -> Bound {
        let mut bound = *bound;
        bound.set(subject, position);
        let instance = self.sheet.instance(subject, position);
        if let Some(container) = instance.and_then(|one| one.container)
            && let Some(subject) = self.catalogue.container(subject)
        {
            bound.set(subject, container);
        }
        bound
    }

    /// The value given of a fact. If the members of its subject are not settled, nothing is known
    /// of it.
    pub(super) fn given(&self, fact: FactRef, bound: &Bound) -> Option<&'e Value> {
        self.given_at(fact, bound.position(fact.subject))
    }

    /// The same of the one at a position of the fact's subject.
    pub(super) fn given_at(&self, fact: FactRef, position: usize) -> Option<&'e Value> {
        let known = self.sheet.known(fact.subject, position, fact.slot);
        known.map(|given| &given.value)
    }
}
