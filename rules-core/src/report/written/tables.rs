//! What entries refer to by number: subjects, and sets of them.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use serde::Serialize;

use crate::check::Subject;
use crate::report::left_out::is_one;

/// A subject that a report speaks of.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Subject", deny_unknown_fields))]
pub(super) struct WrittenSubject<'w> {
    /// Its name: `cable K4`, `site`.
    name: &'w str,
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

/// The subjects in the order of their names, and the sets so far.
pub(super) struct Tables<'w> {
    subjects: BTreeMap<&'w str, (usize, usize)>,
    sets: Vec<Vec<usize>>,
    numbers: HashMap<Vec<usize>, usize>,
}

impl<'w> Tables<'w> {
    /// The tables of a report that speaks of these.
    pub(super) fn of(all: impl IntoIterator<Item = &'w Subject>) -> Self {
        let all: BTreeSet<(&str, usize)> = all
            .into_iter()
            .map(|subject| (subject.as_str(), subject.count()))
            .collect();
        let subjects = all
            .into_iter()
            .enumerate()
            .map(|(position, (name, count))| (name, (position, count)))
            .collect();
        Self {
            subjects,
            sets: Vec::new(),
            numbers: HashMap::new(),
        }
    }

    /// The position of a subject.
    pub(super) fn position(&self, subject: &Subject) -> usize {
        self.subjects
            .get(subject.as_str())
            .map_or(0, |(position, _)| *position)
    }

    /// The number of a set of positions, in the order in which values stand for them.
    pub(super) fn set(&mut self, positions: Vec<usize>) -> usize {
        if let Some(number) = self.numbers.get(&positions) {
            return *number;
        }
        let number = self.sets.len();
        self.sets.push(positions.clone());
        self.numbers.insert(positions, number);
        number
    }

    /// The number of a set of subjects.
    pub(super) fn set_of<'s>(&mut self, subjects: impl IntoIterator<Item = &'s Subject>) -> usize {
        let positions = subjects
            .into_iter()
            .map(|subject| self.position(subject))
            .collect();
        self.set(positions)
    }

    /// What is written: the subjects, and the sets.
    pub(super) fn finish(self) -> (Vec<WrittenSubject<'w>>, Vec<Vec<usize>>) {
        let subjects = self
            .subjects
            .into_iter()
            .map(|(name, (_, count))| WrittenSubject { name, count })
            .collect();
        (subjects, self.sets)
    }
}
