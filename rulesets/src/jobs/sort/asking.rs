//! What to read of a cell, or to answer, next.

use std::collections::BTreeSet;

use rules_core::check::{Finding, MeasureNext, Report};

use super::report::NextReading;
use super::weighed::Weighed;

/// The kinds of subjects of which a bench says something for a cell.
const CELL: &str = "cell";
const PACK: &str = "pack";

/// What the report of a cell alone asks of it.
pub(super) struct Asking<'r> {
    report: &'r Report,
    /// What is to be read of the cell and its pack, what changes most first.
    next: Vec<&'r MeasureNext>,
}

impl<'r> Asking<'r> {
    pub(super) fn of(report: &'r Report, id: &str) -> Self {
        let of_cell = |next: &&MeasureNext| {
            let subject = &next.subject;
            subject.kind() == PACK || (subject.kind() == CELL && subject.name() == Some(id))
        };
        let next = report.measure_next.iter().filter(of_cell).collect();
        Self { report, next }
    }

    /// What leaves a finding open: what is missing or, if nothing is, what is known too widely.
    pub(super) fn closing(&self, finding: Option<&Finding>) -> Vec<NextReading> {
        let Some(finding) = finding.filter(|one| one.best != one.worst) else {
            return Vec::new();
        };
        let missing = self.readings(|next| next.missing && finding.missing.contains(&next.fact));
        if !missing.is_empty() {
            return missing;
        }
        let is_wide = |name: &str| finding.facts.iter().any(|fact| fact.name == name);
        self.readings(|next| !next.missing && is_wide(&next.fact))
    }

    /// All that is missing and leaves one of these open.
    pub(super) fn missing(&self, findings: &[Weighed<'_>]) -> Vec<NextReading> {
        let open = findings.iter().filter(|one| one.is_open());
        let missing = open.flat_map(|one| &one.finding.missing);
        let missing: BTreeSet<&str> = missing.map(|fact| &**fact).collect();
        self.readings(|next| next.missing && missing.contains(&*next.fact))
    }

    /// Those wanted, each key once: one word can answer several facts.
    fn readings(&self, wanted: impl Fn(&MeasureNext) -> bool) -> Vec<NextReading> {
        let mut all: Vec<NextReading> = Vec::new();
        for next in self.next.iter().filter(|next| wanted(next)) {
            let reading = self.in_one_word(next).or_else(|| self.by_itself(next));
            all.extend(reading.filter(|one| all.iter().all(|known| known.place != one.place)));
        }
        all
    }

    fn by_itself(&self, next: &MeasureNext) -> Option<NextReading> {
        let place = self.report.places.get(&next.fact)?;
        Some(NextReading {
            place: place.path(&next.subject),
            key: place.key.clone()?,
            meaning: next.meaning.clone(),
            missing: next.missing,
        })
    }

    /// The word that answers it, if all that the word says is missing.
    fn in_one_word(&self, next: &MeasureNext) -> Option<NextReading> {
        let place = self.report.places.get(&next.fact)?;
        let word = place.in_one_word.as_ref()?;
        let is_missing = |fact: &String| {
            let mut all = self.next.iter();
            all.any(|one| one.missing && one.fact == *fact && one.subject == next.subject)
        };
        if !word.facts.iter().all(is_missing) {
            return None;
        }
        Some(NextReading {
            place: format!("{}[{}].{}", place.section, next.subject.name()?, word.key),
            key: word.key.clone(),
            meaning: word.meaning.clone(),
            missing: true,
        })
    }
}
