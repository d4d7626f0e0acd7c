//! Relations between facts that hold of every thing there is, however bad: as a catalogue writes
//! them, before their formulas are understood.

use std::sync::Arc;

use super::subject::SubjectId;
use crate::document::{Node, Source};

/// A relation between facts. Facts that surely break it were not all written as they were read.
#[derive(Debug, Clone)]
pub struct RelationDef {
    /// Its name.
    pub id: String,
    /// The subject it is about; each of them, where there are many.
    pub about: SubjectId,
    /// The formula that holds, with its place.
    pub holds: Node<'static>,
    /// What is wrong where it does not, as a clause.
    pub says: String,
    /// The text that it stands in.
    pub source: Arc<Source>,
}

impl RelationDef {
    /// The formula as written.
    #[must_use]
    pub fn formula(&self) -> &str {
        self.holds.scalar().unwrap_or_default()
    }
}
