//! How much was compared.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::io::Write as _;

use super::judge::Outcome;

/// Counts by name.
#[derive(Debug, Default)]
pub(crate) struct Tally(RefCell<BTreeMap<String, u64>>);

impl Tally {
    pub(crate) fn add(&self, what: impl Into<String>, count: usize) {
        *self.0.borrow_mut().entry(what.into()).or_default() += count as u64;
    }

    /// Counts a pair that was compared, by what came of it.
    pub(crate) fn compared(&self, outcome: &Outcome) {
        self.add("compared", 1);
        let stages = outcome.stages.iter().map(|(_, whole)| *whole);
        for came in outcome.whole.into_iter().chain(stages) {
            self.add(format!("verdict {}", came.verdict.word()), 1);
            self.add("nothing checked", usize::from(came.nothing_checked));
        }
        self.add("findings", outcome.findings.len());
        for finding in &outcome.findings {
            self.add(format!("findings that are {}", finding.said.status), 1);
        }
    }

    /// Past the test harness, which would keep the line to itself.
    pub(crate) fn print(&self, name: &str) {
        let counts = self
            .0
            .borrow()
            .iter()
            .map(|(what, count)| format!("{what} {count}"))
            .collect::<Vec<_>>()
            .join(", ");
        writeln!(std::io::stdout(), "oracle: {name}: {counts}").unwrap();
    }

    /// How many of a kind were counted.
    pub(crate) fn of(&self, what: &str) -> u64 {
        self.0.borrow().get(what).copied().unwrap_or(0)
    }
}
