//! The benches that proposals name, each read once, and which of their cells are in which proposal.

use std::collections::BTreeMap;
use std::sync::Arc;

use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::ruleset::{Library, Text};

use super::file::Bench;
use super::files;
use super::uses::Uses;

/// Benches by name, as a library finds them.
pub struct Benches<'l> {
    library: &'l dyn Library,
    read: BTreeMap<String, Arc<Bench>>,
    uses: Uses,
}

impl<'l> Benches<'l> {
    /// None yet; they are found by this library.
    #[must_use]
    pub fn of(library: &'l dyn Library) -> Self {
        Self {
            library,
            read: BTreeMap::new(),
            uses: Uses::default(),
        }
    }

    /// The bench that a proposal names.
    ///
    /// # Errors
    ///
    /// A problem without a place where there is no such bench, and those of a bench of which nothing
    /// can be read.
    pub(super) fn named(&mut self, name: &str, proposal: &str) -> Result<Arc<Bench>, ProblemList> {
        let text = files::bench(name, Some(proposal), self.library)?;
        let own = Text {
            name: proposal.to_owned(),
            bytes: Vec::new().into(),
        };
        let identity = self.library.identity(&text);
        if identity == self.library.identity(&own) {
            let message = format!("`{name}` is this proposal itself");
            return Err(Problem::of_file(Fault::Cycle, message, "name a bench").into());
        }
        if let Some(bench) = self.read.get(&identity) {
            return Ok(Arc::clone(bench));
        }
        let bench = Arc::new(Bench::read(text, self.library)?);
        self.read.insert(identity, Arc::clone(&bench));
        Ok(bench)
    }

    /// Says that every proposal was read once. What is read again is told which others use its cells,
    /// whether they come before it or after it; otherwise it is told of those that were read before.
    pub const fn all_were_read(&mut self) {
        self.uses.close();
    }

    /// Each cell that several of the proposals use that were read, with their names: `a.yaml, b.yaml`.
    pub fn shared_cells(&self) -> impl Iterator<Item = (&str, String)> {
        self.uses.shared()
    }

    /// Notes that a proposal uses cells of a bench, and says which of them others use too.
    pub(super) fn used(
        &mut self,
        bench: &Bench,
        cells: &[Arc<str>],
        proposal: &str,
    ) -> Vec<String> {
        let proposal = Arc::from(proposal);
        let told = cells.iter();
        let told = told.map(|cell| self.uses.add(bench.home_of(cell), cell, &proposal));
        told.flatten().collect()
    }
}
