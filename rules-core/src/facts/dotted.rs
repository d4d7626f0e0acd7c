//! Dotted names, and what each stands for.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use super::fact::FactId;
use super::worked::WorkedId;
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored, stored};

/// What a dotted name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FactOrFigure {
    /// A fact.
    Fact(FactId),
    /// A figure of the library.
    Worked(WorkedId),
}

stored!(
    enum FactOrFigure {
        Fact(id),
        Worked(id),
    }
);

/// Dotted names. A copy shares them.
#[derive(Clone, Default)]
pub(super) struct DottedNames {
    /// Those that were kept in the program, in order.
    kept: Arc<[(Cow<'static, str>, FactOrFigure)]>,
    /// Those that were added.
    added: Arc<BTreeMap<Cow<'static, str>, FactOrFigure>>,
}

impl DottedNames {
    /// Adds a name; one that is taken keeps its first meaning.
    pub(super) fn add(&mut self, name: String, what: FactOrFigure) {
        if self.kept(&name).is_none() {
            let added = Arc::make_mut(&mut self.added);
            added.entry(name.into()).or_insert(what);
        }
    }

    pub(super) fn find(&self, name: &str) -> Option<FactOrFigure> {
        self.kept(name).or_else(|| self.added.get(name).copied())
    }

    fn kept(&self, name: &str) -> Option<FactOrFigure> {
        let place = self.kept.binary_search_by(|(one, _)| (**one).cmp(name));
        self.kept.get(place.ok()?).map(|(_, what)| *what)
    }

    /// All of them, in order.
    pub(super) fn all(&self) -> BTreeMap<&str, FactOrFigure> {
        let kept = self.kept.iter().map(|(name, what)| (&**name, *what));
        let added = self.added.iter().map(|(name, what)| (&**name, *what));
        kept.chain(added).collect()
    }
}

/// Where a name is kept makes no difference.
impl fmt::Debug for DottedNames {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.all().fmt(f)
    }
}

impl Stored for DottedNames {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        let all = self.all();
        to.number(all.len());
        for (name, what) in all {
            to.text(name);
            what.write(to);
        }
    }

    fn read(from: &mut Reader) -> Option<Self> {
        let kept = Stored::read(from)?;
        let added = Arc::default();
        Some(Self { kept, added })
    }
}
