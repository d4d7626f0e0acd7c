//! The benches that proposals name, each read once, and which of their cells are in which proposal.

use std::collections::BTreeMap;
use std::sync::Arc;

use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::ruleset::{Library, Text};

use super::file::Bench;
use super::files;

/// Benches by name, as a library finds them.
pub struct Benches<'l> {
    library: &'l dyn Library,
    read: BTreeMap<String, Arc<Bench>>,
    /// By bench and cell the proposal that uses it.
    used: BTreeMap<(String, Arc<str>), String>,
}

impl<'l> Benches<'l> {
    /// None yet; they are found by this library.
    #[must_use]
    pub fn of(library: &'l dyn Library) -> Self {
        Self {
            library,
            read: BTreeMap::new(),
            used: BTreeMap::new(),
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
            bytes: Vec::new(),
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

    /// Notes that a proposal uses cells of a bench, and says which of them another one uses already.
    pub(super) fn used(
        &mut self,
        bench: &Bench,
        cells: &[Arc<str>],
        proposal: &str,
    ) -> Vec<String> {
        let mut told = Vec::new();
        for cell in cells {
            let key = (bench.name.clone(), Arc::clone(cell));
            match self.used.get(&key) {
                Some(other) if other != proposal => {
                    told.push(format!("{cell} is in the proposal {other} too."));
                }
                Some(_) => {}
                None => drop(self.used.insert(key, proposal.to_owned())),
            }
        }
        told
    }
}
