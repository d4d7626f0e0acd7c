//! A new sheet for a catalogue, and on it the links from each to what it came out of.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::catalogue::Catalogue;
use super::sheet::{Instance, Roster, Sheet};
use super::subject::SubjectId;

impl Sheet {
    /// A sheet with one unnamed instance of every single subject and none of the many.
    #[must_use]
    pub fn new(catalogue: &Catalogue) -> Self {
        let roster = |single: bool| Roster {
            instances: if single {
                vec![Instance::default()]
            } else {
                Vec::new()
            },
            unsettled: false,
            open: false,
        };
        let subjects = catalogue.subjects().iter();
        let rosters = subjects.map(|subject| roster(subject.plural.is_none()));
        Self::of(rosters.collect())
    }

    /// Joins each of a subject to the one that it says it came out of.
    pub fn join_to_origin(&mut self, catalogue: &Catalogue, subject: SubjectId) {
        let Some(origin) = catalogue.origin(subject) else {
            return;
        };
        let Some(((naming, _), id)) = catalogue.belonging(origin).zip(catalogue.id_of(origin))
        else {
            return;
        };
        let (naming, id) = (catalogue.slot(naming), catalogue.slot(id));
        let named: BTreeMap<Arc<str>, usize> = (0..self.count(origin))
            .filter_map(|at| Some((Arc::clone(self.text(origin, at, id)?), at)))
            .collect();
        for at in 0..self.count(subject) {
            let found = self.text(subject, at, naming);
            let found = found.and_then(|name| named.get(name)).copied();
            if let Some(instance) = self.instance_mut(subject, at) {
                instance.origin = found;
            }
        }
    }
}
