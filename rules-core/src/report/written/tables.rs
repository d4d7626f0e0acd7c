//! What entries refer to by number: subjects, and sets of them.

use std::collections::BTreeMap;

use serde::Serialize;

use super::texts::Texts;
use crate::check::{ByAddress, Subject};
use crate::report::left_out::{is_one, is_yes};

/// A subject that a report speaks of.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Subject", deny_unknown_fields))]
pub(in crate::report) struct WrittenSubject<'w> {
    /// Its kind: `cable`, `site`.
    kind: &'w str,
    /// Its name: `K4`. None of the only one of its kind, and of what stands for others.
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<&'w str>,
    /// What reports call it, if it stands for others and has no name: `(not listed)`.
    #[serde(skip_serializing_if = "Option::is_none")]
    called: Option<&'w str>,
    /// False for what the proposal calls for and does not list.
    #[serde(skip_serializing_if = "is_yes")]
    #[cfg_attr(feature = "schema", schemars(default = "yes"))]
    listed: bool,
    /// How many it stands for, where these are several of which nothing is known: cables that are
    /// called for and not listed, or groups of such cables.
    #[serde(skip_serializing_if = "is_one")]
    #[cfg_attr(feature = "schema", schemars(default = "one"))]
    count: usize,
}

#[cfg(feature = "schema")]
const fn one() -> usize {
    1
}

#[cfg(feature = "schema")]
const fn yes() -> bool {
    true
}

impl<'w> From<&'w Subject> for WrittenSubject<'w> {
    fn from(subject: &'w Subject) -> Self {
        Self {
            kind: subject.kind(),
            name: subject.name(),
            called: subject.called(),
            listed: subject.is_listed(),
            count: subject.count(),
        }
    }
}

/// The subjects in the order of their names, and the sets so far.
pub(super) struct Tables<'w> {
    /// The texts of numbers so far.
    pub texts: Texts,
    subjects: Vec<&'w Subject>,
    positions: ByAddress<usize>,
    sets: Vec<Vec<usize>>,
    numbers: BTreeMap<Vec<usize>, usize>,
    /// The set that is asked for.
    set: Vec<usize>,
}

impl<'w> Tables<'w> {
    /// The tables of a report that speaks of these.
    pub(super) fn of(all: impl IntoIterator<Item = &'w Subject>) -> Self {
        let mut made: Vec<&Subject> = Vec::new();
        let mut positions = ByAddress::default();
        for subject in all {
            positions.entry(subject.address()).or_insert_with(|| {
                made.push(subject);
                0
            });
        }
        made.sort_unstable();
        let mut subjects: Vec<&Subject> = Vec::new();
        for alike in made.chunk_by(|one, next| one == next) {
            let position = subjects.len();
            subjects.extend(alike.first());
            positions.extend(alike.iter().map(|one| (one.address(), position)));
        }
        Self {
            texts: Texts::default(),
            subjects,
            positions,
            sets: Vec::new(),
            numbers: BTreeMap::new(),
            set: Vec::new(),
        }
    }

    /// The position of a subject.
    pub(super) fn position(&self, subject: &Subject) -> usize {
        let by_address = self.positions.get(&subject.address()).copied();
        by_address.unwrap_or_else(|| self.subjects.binary_search(&subject).unwrap_or(0))
    }

    /// The number of a set of positions, in the order in which values stand for them.
    pub(super) fn set(&mut self, positions: impl IntoIterator<Item = usize>) -> usize {
        self.set.clear();
        self.set.extend(positions);
        self.number()
    }

    /// The number of a set of subjects.
    pub(super) fn set_of<'s>(&mut self, subjects: impl IntoIterator<Item = &'s Subject>) -> usize {
        self.ask_for(subjects);
        self.number()
    }

    /// The number of a set of subjects, in the order of their positions.
    pub(super) fn set_in_order<'s>(
        &mut self,
        subjects: impl IntoIterator<Item = &'s Subject>,
    ) -> usize {
        self.ask_for(subjects);
        self.set.sort_unstable();
        self.number()
    }

    fn ask_for<'s>(&mut self, subjects: impl IntoIterator<Item = &'s Subject>) {
        let mut set = std::mem::take(&mut self.set);
        set.clear();
        set.extend(subjects.into_iter().map(|subject| self.position(subject)));
        self.set = set;
    }

    /// The number of the set that is asked for, which it gets if it has none yet.
    fn number(&mut self) -> usize {
        if let Some(number) = self.numbers.get(self.set.as_slice()) {
            return *number;
        }
        let number = self.sets.len();
        self.sets.push(self.set.clone());
        self.numbers.insert(self.set.clone(), number);
        number
    }

    /// What is written: the subjects, and the sets.
    pub(super) fn finish(self) -> (Vec<WrittenSubject<'w>>, Vec<Vec<usize>>) {
        let subjects = self.subjects.into_iter().map(Into::into).collect();
        (subjects, self.sets)
    }
}
