//! A lean record as it is read, and the report that it is with the words of its rules.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;

use super::entries::{
    Each, NoReport, ReadClause, ReadFact, ReadFigure, ReadSubject, ReadTables, ReadUses,
};
use super::report::{ReadUnused, in_order, unused};
use crate::check::{
    Counts, FactPlace, FilledText, Finding, MeasureNext, Remark, RemarkKind, Report, ReportedValue,
    RungName, Status, Subject, Verdict, alike_in_words, cited,
};
use crate::report::prose::{Prose, ProseCaution};
use crate::ruleset::{Acceptance, Loosening};

/// A lean record that was read.
#[derive(Deserialize)]
pub struct LeanRecord {
    format: u32,
    title: Arc<str>,
    proposal: String,
    verdict: Verdict,
    best: Verdict,
    worst: Verdict,
    nothing_checked: bool,
    acceptance: Acceptance,
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
    remarks: Vec<ReadRemark>,
    unused: Vec<ReadUnused>,
    notice: Vec<String>,
}

/// What it is of: the rest is for a table of words.
impl std::fmt::Debug for LeanRecord {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("LeanRecord")
            .field("proposal", &self.proposal)
            .field("verdict", &self.verdict)
            .finish_non_exhaustive()
    }
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
    values: Vec<Option<Each<String>>>,
    clauses: Vec<ReadClause>,
    #[serde(default)]
    figures: Vec<ReadUses>,
    facts: Vec<ReadUses>,
    #[serde(default)]
    more_facts: Each<usize>,
    missing: Vec<String>,
}

#[derive(Deserialize)]
struct ReadNext {
    fact: String,
    subjects: usize,
    missing: bool,
    leaves_open: Verdict,
    findings: usize,
    could_improve: bool,
}

#[derive(Deserialize)]
struct ReadRemark {
    remark: RemarkKind,
    subject: String,
    #[serde(default)]
    names: Vec<Arc<str>>,
}

impl LeanRecord {
    /// The report, with the words of the rules that made the record.
    ///
    /// # Errors
    ///
    /// Words of other rules, or a record that refers to what it does not tell.
    pub fn report(self, prose: &Prose) -> Result<Report, String> {
        if self.format != 1 || prose.format != 1 {
            return Err("this reads format 1 of records and words".to_owned());
        }
        if prose.digest(self.acceptance) != self.digest {
            return Err("the words are those of other rules than the record's".to_owned());
        }
        let tables = ReadTables::of(
            &self.subjects,
            self.sets,
            (&self.facts, &self.figures),
            &self.proposal,
        )?;
        let findings = findings(&self.findings, prose, &tables)?;
        let limit = |name: &str| prose.limits.get(name).cloned();
        let (limits, sources) = cited(&findings, limit, |name| prose.sources.get(name));
        let notice = prose
            .notice
            .iter()
            .filter(|point| self.notice.contains(&point.id));
        Ok(Report {
            findings,
            limits,
            sources,
            measure_next: measure_next(&self.measure_next, prose, &tables)?,
            unused: unused(self.unused, &tables)?,
            remarks: remarks(self.remarks, prose)?,
            notice: notice.cloned().collect(),
            rules: prose.rules.clone(),
            format: self.format,
            title: self.title,
            proposal: self.proposal,
            verdict: self.verdict,
            best: self.best,
            worst: self.worst,
            nothing_checked: self.nothing_checked,
            acceptance: self.acceptance,
            digest: self.digest,
            counts: self.counts,
            passed: self.passed,
            not_applicable: self.not_applicable,
            places: self.places,
            loosened: self.loosened,
        })
    }
}

fn findings(
    entries: &[ReadFinding],
    prose: &Prose,
    tables: &ReadTables,
) -> Result<Vec<Finding>, NoReport> {
    let mut all = Vec::new();
    for entry in entries {
        let caution = prose
            .cautions
            .get(&entry.caution)
            .ok_or_else(|| format!("the words have no caution `{}`", entry.caution))?;
        for (place, at, subject) in tables.members(entry.subjects)? {
            all.push(finding(entry, caution, tables, (place, at, subject))?);
        }
    }
    in_order(&mut all);
    Ok(all)
}

fn finding(
    entry: &ReadFinding,
    caution: &ProseCaution,
    tables: &ReadTables,
    (place, at, subject): (usize, usize, Subject),
) -> Result<Finding, NoReport> {
    let mut values = entry.values.iter().map(|value| match value {
        Some(each) => each.at(place),
        None => Ok(subject.own().unwrap_or(subject.kind()).to_owned()),
    });
    let clauses = entry.clauses.iter().map(|clause| clause.at(place));
    Ok(Finding {
        caution: Arc::clone(&entry.caution),
        title: Arc::clone(&caution.title),
        verdict: entry.verdict,
        best: entry.best,
        worst: entry.worst,
        status: entry.status,
        rung: entry.rung,
        fixed: caution.fixed,
        reason: filled(&caution.reason, &mut values)?,
        remedy: caution
            .remedy
            .as_ref()
            .map(|remedy| filled(remedy, &mut values))
            .transpose()?,
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
    })
}

/// A text with the next values put in.
fn filled(
    pieces: &[Option<Arc<str>>],
    values: &mut impl Iterator<Item = Result<String, NoReport>>,
) -> Result<FilledText, NoReport> {
    let mut all = Vec::new();
    for piece in pieces {
        all.push(match piece {
            Some(text) => ReportedValue::Said(Arc::clone(text)),
            None => ReportedValue::Text(values.next().ok_or("a value is missing")??.into()),
        });
    }
    Ok(FilledText(all))
}

fn measure_next(
    entries: &[ReadNext],
    prose: &Prose,
    tables: &ReadTables,
) -> Result<Vec<MeasureNext>, NoReport> {
    let mut all = Vec::new();
    for entry in entries {
        for (_, _, subject) in tables.members(entry.subjects)? {
            all.push(MeasureNext {
                fact: entry.fact.clone(),
                subject,
                meaning: prose.facts.get(&entry.fact).cloned().unwrap_or_default(),
                missing: entry.missing,
                leaves_open: entry.leaves_open,
                findings: entry.findings,
                could_improve: entry.could_improve,
            });
        }
    }
    Ok(all)
}

fn remarks(entries: Vec<ReadRemark>, prose: &Prose) -> Result<Vec<Remark>, NoReport> {
    let remark = |entry: ReadRemark| {
        let words = prose
            .subjects
            .get(&entry.subject)
            .ok_or_else(|| format!("the words have no subject `{}`", entry.subject))?;
        let says = match entry.remark {
            RemarkKind::LooksAlike => alike_in_words(&words.plural, &entry.names),
            RemarkKind::NoneBrought => words.if_none.clone().unwrap_or_default(),
        };
        Ok(Remark {
            remark: entry.remark,
            subject: entry.subject,
            names: entry.names,
            says,
        })
    };
    entries.into_iter().map(remark).collect()
}
