//! Relations between facts that hold for everything, however bad it is: as a catalogue writes them,
//! before their formulas are resolved.

use std::borrow::Cow;
use std::sync::Arc;

use super::subject::SubjectId;
use crate::document::{Node, Source};

/// A relation between facts. If facts surely break it, at least one of them was written wrong.
#[derive(Debug, Clone)]
pub struct RelationDef {
    /// Its name.
    pub id: Cow<'static, str>,
    /// The subject it is about; each of them, where there are many.
    pub about: SubjectId,
    /// The formula that holds, with its place.
    pub holds: Node<'static>,
    /// What is wrong if it does not hold, as a clause.
    pub says: Cow<'static, str>,
    /// The text that it is in.
    pub source: Arc<Source>,
}

impl RelationDef {
    /// The formula as written.
    #[must_use]
    pub fn formula(&self) -> &str {
        self.holds.scalar().unwrap_or_default()
    }
}
