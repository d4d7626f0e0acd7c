//! Findings as they are read: what a report and a lean record say of one alike.

use std::borrow::Cow;
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;

use super::entries::{Each, NoReport, ReadClause, ReadTables, ReadUses};
use crate::check::{FilledText, Finding, RungName, Status, Subject, Verdict};
use crate::document::Place;
use crate::ruleset::Basis;

/// One caution's outcome for the subjects of a set; `T` is what it says of its reason and remedy.
#[derive(Deserialize)]
pub(super) struct ReadFinding<T> {
    pub(super) caution: Arc<str>,
    subjects: usize,
    verdict: Verdict,
    best: Verdict,
    worst: Verdict,
    status: Status,
    rung: RungName,
    #[serde(flatten)]
    pub(super) texts: T,
    clauses: Vec<ReadClause>,
    #[serde(default)]
    figures: Vec<ReadUses>,
    facts: Vec<ReadUses>,
    #[serde(default)]
    more_facts: Each<usize>,
    missing: Vec<Cow<'static, str>>,
}

/// What holds for a caution, whatever its outcome.
pub(super) struct OfCaution<'c> {
    pub(super) title: &'c Arc<str>,
    pub(super) stage: Option<&'c Arc<str>>,
    pub(super) fixed: bool,
    pub(super) basis: &'c Arc<[Basis]>,
    pub(super) rungs: &'c BTreeMap<String, Place>,
}

/// The caution of a finding, with the reason and the remedy for one subject.
pub(super) struct Worded<'c> {
    pub(super) caution: OfCaution<'c>,
    pub(super) reason: FilledText,
    pub(super) remedy: Option<FilledText>,
}

/// The findings, one for each subject, in the order of a report. `worded` gives the words for the
/// subject at a place of its set.
pub(super) fn findings<'c, T>(
    entries: &[ReadFinding<T>],
    tables: &ReadTables,
    worded: impl Fn(&ReadFinding<T>, usize, &Subject) -> Result<Worded<'c>, NoReport>,
) -> Result<Vec<Finding>, NoReport> {
    let mut all = Vec::new();
    for entry in entries {
        for (place, at, subject) in tables.members(entry.subjects)? {
            let words = worded(entry, place, &subject)?;
            all.push(entry.finding(words, tables, (place, at, subject))?);
        }
    }
    in_order(&mut all);
    Ok(all)
}

impl<T> ReadFinding<T> {
    fn finding(
        &self,
        words: Worded<'_>,
        tables: &ReadTables,
        (place, at, subject): (usize, usize, Subject),
    ) -> Result<Finding, NoReport> {
        let clauses = self.clauses.iter().map(|clause| clause.at(place));
        let rule = words.caution.rungs.get(self.rung.key());
        Ok(Finding {
            caution: Arc::clone(&self.caution),
            title: Arc::clone(words.caution.title),
            stage: words.caution.stage.map(Arc::clone),
            verdict: self.verdict,
            best: self.best,
            worst: self.worst,
            status: self.status,
            rung: self.rung,
            fixed: words.caution.fixed,
            reason: words.reason,
            remedy: words.remedy,
            clauses: clauses.collect::<Result<_, NoReport>>()?,
            figures: tables.figures(&self.figures, (place, at))?,
            facts: tables.facts(&self.facts, (place, at))?,
            more_facts: self.more_facts.at(place)?,
            missing: self.missing.clone(),
            basis: Arc::clone(words.caution.basis),
            rule: rule.cloned().ok_or("a rung has no place")?,
            subject,
        })
    }
}

/// Puts findings in the order of a report: what is gravest first, then what is settled, then what
/// nobody may drop, then by name.
fn in_order(findings: &mut [Finding]) {
    let weight = |one: &Finding| (one.verdict, one.status == Status::Decided, one.fixed);
    findings.sort_by(|a, b| {
        let key = |one: &Finding| Reverse(weight(one));
        (key(a), &a.caution, &a.subject).cmp(&(key(b), &b.caution, &b.subject))
    });
}
