//! What one finding rests on, as it is brought together clause by clause.

use super::finding::ClauseReport;
use crate::facts::{FactId, WorkedId};
use crate::formula::{Clause, FactAt};

/// What a finding rests on. Until all of it is there, facts and figures stand as they were met, some
/// many times.
#[derive(Debug, Default)]
pub(super) struct Grounds {
    pub clauses: Vec<ClauseReport>,
    pub facts: Vec<FactAt>,
    pub more_facts: usize,
    pub figures: Vec<(WorkedId, usize)>,
    pub missing: Vec<FactId>,
    /// The facts that leave it open.
    pub open: Vec<FactAt>,
}

impl Grounds {
    /// Adds a clause, as it is and as it is reported.
    pub(super) fn add(&mut self, clause: &Clause<'_>, reported: ClauseReport) {
        self.clauses.push(reported);
        self.facts.extend_from_slice(clause.facts);
        self.more_facts += clause.more_facts;
        self.figures.extend_from_slice(clause.figures);
        self.missing.extend_from_slice(clause.missing);
    }
}
