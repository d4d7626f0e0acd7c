//! What to measure next, and readings without use, as they are read.

use std::borrow::Cow;

use serde::Deserialize;

use super::entries::{NoReport, ReadTables};
use crate::check::{MeasureNext, UnusedReadings, Verdict};

/// Something to measure next, of the subjects of a set; `T` is what it says of its meaning.
#[derive(Deserialize)]
pub(super) struct ReadNext<T> {
    pub(super) fact: Cow<'static, str>,
    subjects: usize,
    #[serde(flatten)]
    pub(super) texts: T,
    missing: bool,
    leaves_open: Verdict,
    findings: usize,
    could_improve: bool,
}

#[derive(Deserialize)]
pub(super) struct ReadUnused {
    facts: Vec<String>,
    subjects: usize,
    why: String,
}

/// What to measure next, one for each subject; `meaning` says what a fact is.
pub(super) fn measure_next<T>(
    entries: &[ReadNext<T>],
    tables: &ReadTables,
    meaning: impl Fn(&ReadNext<T>) -> String,
) -> Result<Vec<MeasureNext>, NoReport> {
    let mut all = Vec::new();
    for entry in entries {
        for (_, _, subject) in tables.members(entry.subjects)? {
            all.push(MeasureNext {
                fact: entry.fact.clone(),
                subject,
                meaning: meaning(entry),
                missing: entry.missing,
                leaves_open: entry.leaves_open,
                findings: entry.findings,
                could_improve: entry.could_improve,
            });
        }
    }
    Ok(all)
}

pub(super) fn unused(
    entries: Vec<ReadUnused>,
    tables: &ReadTables,
) -> Result<Vec<UnusedReadings>, NoReport> {
    let read = |entry: ReadUnused| {
        let members = tables.members(entry.subjects)?;
        Ok(UnusedReadings {
            facts: entry.facts,
            subjects: members.into_iter().map(|(_, _, subject)| subject).collect(),
            why: Cow::Owned(entry.why),
        })
    };
    entries.into_iter().map(read).collect()
}
