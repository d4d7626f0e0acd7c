//! Where the facts of a subject are in its section of a proposal.

use std::borrow::Cow;
use std::ops::Range;

use super::fact::{FactDef, FactId};
use crate::document::key_number;
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored, stored};

/// What a key of a section holds.
#[derive(Debug, Clone)]
pub enum Key {
    /// The value of a fact.
    Fact(FactId),
    /// A map of further keys.
    Map(InnerKeys),
    /// A word that says several facts: the summary of this number.
    Summary(SummaryId),
}

/// A summary by its number in the catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SummaryId(pub(super) usize);

/// Keys of a map inside a section, and the fact of each. They are few.
#[derive(Debug, Clone)]
pub struct InnerKeys {
    named: Vec<(Cow<'static, str>, FactId)>,
}

impl InnerKeys {
    const NONE: Self = Self { named: Vec::new() };

    /// The fact of a key.
    #[must_use]
    pub fn get(&self, key: &str) -> Option<FactId> {
        let mut named = self.named.iter();
        named.find(|(name, _)| name == key).map(|(_, fact)| *fact)
    }

    fn add(&mut self, key: &str, fact: FactId) {
        if self.get(key).is_none() {
            self.named.push((Cow::Owned(key.to_owned()), fact));
        }
    }
}

/// Rows of keys: more than most sections have keys, so that few stand in one row.
const ROWS: usize = 64;

/// Keys of a section, and what each holds.
#[derive(Debug, Clone)]
pub(super) struct Keys {
    /// Row by row: a row has the keys whose numbers leave the same rest.
    named: Vec<(Cow<'static, str>, Key)>,
    /// Where each row begins, and where the last one ends.
    begins: [usize; ROWS + 1],
}

impl Keys {
    const NONE: Self = Self {
        named: Vec::new(),
        begins: [0; ROWS + 1],
    };

    /// What a key holds.
    pub(super) fn get(&self, key: &str) -> Option<&Key> {
        let row = self.row(key)?;
        let mut named = self.named.get(row)?.iter();
        named.find(|(name, _)| name == key).map(|(_, held)| held)
    }

    /// What a key holds; this, if it is new.
    fn get_or_add(&mut self, key: &str, held: Key) -> Option<&mut Key> {
        let row = self.row(key)?;
        let mut named = self.named.iter().enumerate();
        let found = named.find(|(_, (name, _))| name == key).map(|(at, _)| at);
        let at = found.unwrap_or(row.end);
        if found.is_none() {
            self.named.insert(at, (Cow::Owned(key.to_owned()), held));
            self.begins = begins(&self.named);
        }
        self.named.get_mut(at).map(|(_, held)| held)
    }

    /// The places of the keys that are in one row with this.
    fn row(&self, key: &str) -> Option<Range<usize>> {
        let row = key_number(key) % ROWS;
        let (begin, end) = (self.begins.get(row)?, self.begins.get(row + 1)?);
        Some(*begin..*end)
    }
}

/// Where each row of keys begins, and where the last one ends.
fn begins(named: &[(Cow<'static, str>, Key)]) -> [usize; ROWS + 1] {
    let mut begins = [0; ROWS + 1];
    for (key, _) in named {
        if let Some(many) = begins.get_mut(key_number(key) % ROWS + 1) {
            *many += 1;
        }
    }
    let mut before = 0;
    for begin in &mut begins {
        before += *begin;
        *begin = before;
    }
    begins
}

/// The facts of a subject, and their keys.
#[derive(Debug, Clone)]
pub(super) struct Section {
    pub facts: usize,
    pub keys: Keys,
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
                let map = Key::Map(InnerKeys::NONE);
                if let Some(Key::Map(keys)) = self.keys.get_or_add(outer, map) {
                    keys.add(inner, id);
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

stored!(struct InnerKeys { named });

impl Stored for Keys {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        self.named.write(to);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let named: Vec<(Cow<'static, str>, Key)> = Vec::read(from)?;
        let begins = begins(&named);
        Some(Self { named, begins })
    }
}
