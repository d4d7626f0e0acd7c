//! Where the facts of a subject are in its section of a proposal.

use std::borrow::Cow;

use super::fact::{FactDef, FactId};
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored, stored};

/// What a key of a section holds.
#[derive(Debug, Clone)]
pub enum Key {
    /// The value of a fact.
    Fact(FactId),
    /// A map of further keys.
    Map(Keys<FactId>),
    /// A word that says several facts: the summary of this number.
    Summary(SummaryId),
}

/// A summary by its number in the catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SummaryId(pub(super) usize);

/// Keys of one map, and what each holds.
#[derive(Debug, Clone)]
pub struct Keys<T> {
    /// In the order of their lengths, then of their letters: most keys differ in length from most
    /// others, which is seen at once.
    named: Vec<(Cow<'static, str>, T)>,
}

impl<T> Keys<T> {
    const NONE: Self = Self { named: Vec::new() };

    /// What a key holds.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<&T> {
        self.named.get(self.place(key).ok()?).map(|(_, held)| held)
    }

    /// What a key holds; this, if it is new.
    fn get_or_add(&mut self, key: &str, held: T) -> Option<&mut T> {
        let place = self.place(key).unwrap_or_else(|place| {
            self.named.insert(place, (Cow::Owned(key.to_owned()), held));
            place
        });
        self.named.get_mut(place).map(|(_, held)| held)
    }

    fn place(&self, key: &str) -> Result<usize, usize> {
        self.named.binary_search_by(|(name, _)| {
            let shorter = name.len().cmp(&key.len());
            shorter.then_with(|| (**name).cmp(key))
        })
    }
}

/// The facts of a subject, and their keys.
#[derive(Debug, Clone)]
pub(super) struct Section {
    pub facts: usize,
    pub keys: Keys<Key>,
}

impl Section {
    pub(super) const EMPTY: Self = Self {
        facts: 0,
        keys: Keys::NONE,
    };

    /// Adds a summary. A key already taken keeps its first meaning.
    pub(super) fn add_summary(&mut self, key: &str, id: SummaryId) {
        self.keys.get_or_add(key, Key::Summary(id));
    }

    /// Adds a fact. A key already taken keeps its first meaning.
    pub(super) fn add(&mut self, fact: &FactDef, id: FactId) {
        self.facts += 1;
        let Some(key) = &fact.key else { return };
        match key.split_once('.') {
            None => drop(self.keys.get_or_add(key, Key::Fact(id))),
            Some((outer, inner)) => {
                if let Some(Key::Map(keys)) = self.keys.get_or_add(outer, Key::Map(Keys::NONE)) {
                    keys.get_or_add(inner, id);
                }
            }
        }
    }
}

stored!(struct SummaryId(at));
stored!(
    enum Key {
        Fact(id),
        Map(keys),
        Summary(id),
    }
);
stored!(struct Section { facts, keys });

impl<T: Stored> Stored for Keys<T> {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.named.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        Vec::read(from).map(|named| Self { named })
    }
}
