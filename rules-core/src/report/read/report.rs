//! A report as it is read: what is told once of many is told of each again.

use std::borrow::Cow;
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Deserializer};

use super::entries::{
    Each, NoReport, ReadClause, ReadFact, ReadFigure, ReadSubject, ReadTables, ReadText, ReadUses,
};
use crate::check::{
    Counts, FactPlace, Finding, MeasureNext, Remark, Report, RungName, Status, UnusedReadings,
    Verdict,
};
use crate::document::Place;
use crate::facts::Notice;
use crate::ruleset::{Acceptance, Basis, LimitReport, LoadedRuleset, Loosening, WrittenSource};

#[derive(Deserialize)]
struct ReadReport {
    format: u32,
    title: Arc<str>,
    proposal: String,
    verdict: Verdict,
    best: Verdict,
    worst: Verdict,
    nothing_checked: bool,
    acceptance: Acceptance,
    rules: Vec<LoadedRuleset>,
    digest: String,
    counts: Counts,
    findings: Vec<ReadFinding>,
    passed: Vec<Arc<str>>,
    not_applicable: Vec<Arc<str>>,
    measure_next: Vec<ReadNext>,
    places: BTreeMap<String, FactPlace>,
    loosened: Vec<Loosening>,
    subjects: Vec<ReadSubject>,
    sets: Vec<Vec<usize>>,
    facts: Vec<ReadFact>,
    figures: Vec<ReadFigure>,
    cautions: BTreeMap<Arc<str>, ReadCaution>,
    limits: BTreeMap<String, LimitReport>,
    sources: BTreeMap<String, WrittenSource>,
    remarks: Vec<Remark>,
    unused: Vec<ReadUnused>,
    notice: Vec<Notice>,
}

#[derive(Deserialize)]
struct ReadFinding {
    caution: Arc<str>,
    subjects: usize,
    verdict: Verdict,
    best: Verdict,
    worst: Verdict,
    status: Status,
    rung: RungName,
    reason: ReadText,
    #[serde(default)]
    remedy: Option<ReadText>,
    clauses: Vec<ReadClause>,
    #[serde(default)]
    figures: Vec<ReadUses>,
    facts: Vec<ReadUses>,
    #[serde(default)]
    more_facts: Each<usize>,
    missing: Vec<String>,
}

#[derive(Deserialize)]
struct ReadCaution {
    title: Arc<str>,
    fixed: bool,
    basis: Arc<[Basis]>,
    rungs: BTreeMap<String, Place>,
}

#[derive(Deserialize)]
struct ReadNext {
    fact: String,
    subjects: usize,
    meaning: String,
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

impl<'de> Deserialize<'de> for Report {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let read = ReadReport::deserialize(deserializer)?;
        read.report().map_err(serde::de::Error::custom)
    }
}

impl ReadReport {
    fn report(self) -> Result<Report, NoReport> {
        if self.format != 1 {
            return Err(format!(
                "the format is {}, and this reads format 1",
                self.format
            ));
        }
        let tables = ReadTables::of(
            &self.subjects,
            self.sets,
            (&self.facts, &self.figures),
            &self.proposal,
        )?;
        Ok(Report {
            findings: findings(&self.findings, &self.cautions, &tables)?,
            measure_next: measure_next(&self.measure_next, &tables)?,
            unused: unused(self.unused, &tables)?,
            format: self.format,
            title: self.title,
            proposal: self.proposal,
            verdict: self.verdict,
            best: self.best,
            worst: self.worst,
            nothing_checked: self.nothing_checked,
            acceptance: self.acceptance,
            rules: self.rules,
            digest: self.digest,
            counts: self.counts,
            passed: self.passed,
            not_applicable: self.not_applicable,
            places: self.places,
            remarks: self.remarks,
            loosened: self.loosened,
            limits: self.limits,
            sources: self.sources,
            notice: self.notice,
        })
    }
}

/// The findings, in the order of a report.
fn findings(
    entries: &[ReadFinding],
    cautions: &BTreeMap<Arc<str>, ReadCaution>,
    tables: &ReadTables,
) -> Result<Vec<Finding>, NoReport> {
    let mut all = Vec::new();
    for entry in entries {
        let caution = cautions
            .get(&entry.caution)
            .ok_or_else(|| format!("`{}` is not among the cautions", entry.caution))?;
        for (place, at, subject) in tables.members(entry.subjects)? {
            let remedy = entry.remedy.as_ref().map(|text| text.at(place, &subject));
            let clauses = entry.clauses.iter().map(|clause| clause.at(place));
            all.push(Finding {
                caution: Arc::clone(&entry.caution),
                title: Arc::clone(&caution.title),
                verdict: entry.verdict,
                best: entry.best,
                worst: entry.worst,
                status: entry.status,
                rung: entry.rung,
                fixed: caution.fixed,
                reason: entry.reason.at(place, &subject)?,
                remedy: remedy.transpose()?,
                clauses: clauses.collect::<Result<_, NoReport>>()?,
                figures: tables.figures(&entry.figures, (place, at))?,
                facts: tables.facts(&entry.facts, (place, at))?,
                more_facts: entry.more_facts.at(place)?,
                missing: entry.missing.clone(),
                basis: Arc::clone(&caution.basis),
                rule: caution
                    .rungs
                    .get(entry.rung.key())
                    .cloned()
                    .ok_or("a rung has no place")?,
                subject,
            });
        }
    }
    in_order(&mut all);
    Ok(all)
}

/// Puts findings in the order of a report: what is gravest first, then what is settled, then what
/// nobody may drop, then by name.
pub(super) fn in_order(findings: &mut [Finding]) {
    let weight = |one: &Finding| (one.verdict, one.status == Status::Decided, one.fixed);
    findings.sort_by(|a, b| {
        let key = |one: &Finding| Reverse(weight(one));
        (key(a), &a.caution, &a.subject).cmp(&(key(b), &b.caution, &b.subject))
    });
}

fn measure_next(entries: &[ReadNext], tables: &ReadTables) -> Result<Vec<MeasureNext>, NoReport> {
    let mut all = Vec::new();
    for entry in entries {
        for (_, _, subject) in tables.members(entry.subjects)? {
            all.push(MeasureNext {
                fact: entry.fact.clone(),
                subject,
                meaning: entry.meaning.clone(),
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
