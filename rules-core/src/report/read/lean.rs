//! A lean record as it is read, and the report that it is with the words of its rules.

use std::sync::Arc;

use serde::Deserialize;

use super::entries::{Each, NoReport, ReadFact, ReadFigure, ReadSubject, ReadTables};
use super::findings::{OfCaution, ReadFinding, Worded, findings};
use super::next::{ReadNext, ReadUnused, measure_next, unused};
use super::outcome::outcome;
use crate::check::{
    Counts, FilledText, Places, Remark, RemarkKind, Report, ReportedValue, StageOutcome, Subject,
    Verdict, alike_in_words, cited,
};
use crate::report::prose::Prose;
use crate::ruleset::{Acceptance, Loosening};

/// A lean record that was read.
#[derive(Deserialize)]
pub struct LeanRecord {
    format: u32,
    title: Arc<str>,
    proposal: String,
    #[serde(default)]
    verdict: Option<Verdict>,
    #[serde(default)]
    best: Option<Verdict>,
    #[serde(default)]
    worst: Option<Verdict>,
    #[serde(default)]
    nothing_checked: Option<bool>,
    #[serde(default)]
    stages: Vec<ReadStage>,
    acceptance: Acceptance,
    digest: String,
    counts: Counts,
    findings: Vec<ReadFinding<ReadValues>>,
    passed: Vec<Arc<str>>,
    not_applicable: Vec<Arc<str>>,
    measure_next: Vec<ReadNext<NoWords>>,
    places: Places,
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

/// What is put into the reason and then into the remedy of a finding, in order.
#[derive(Deserialize)]
struct ReadValues {
    values: Vec<Option<Each<String>>>,
}

/// Nothing: the table of words has it.
#[derive(Deserialize)]
struct NoWords {}

#[derive(Deserialize)]
struct ReadStage {
    stage: Arc<str>,
    verdict: Verdict,
    best: Verdict,
    worst: Verdict,
    nothing_checked: bool,
}

#[derive(Deserialize)]
struct ReadRemark {
    remark: RemarkKind,
    subject: String,
    #[serde(default)]
    names: Vec<Arc<str>>,
    /// Of what the words of the rules do not have.
    says: Option<String>,
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
        let findings = findings(&self.findings, &tables, |entry, place, subject| {
            worded(entry, prose, (place, subject))
        })?;
        let limit = |name: &str| prose.limits.get(name).cloned();
        let (limits, sources) = cited(&findings, limit, |name| prose.sources.get(name));
        let notice = prose
            .notice
            .iter()
            .filter(|point| self.notice.contains(&point.id));
        Ok(Report {
            would_change: None,
            would_lift: None,
            findings,
            limits,
            sources,
            measure_next: measure_next(&self.measure_next, &tables, |entry| {
                prose.facts.get(&*entry.fact).cloned().unwrap_or_default()
            })?,
            unused: unused(self.unused, &tables)?,
            remarks: remarks(self.remarks, prose)?,
            notice: notice.cloned().collect(),
            rules: prose.rules.clone(),
            format: self.format,
            title: self.title,
            proposal: self.proposal,
            outcome: outcome((self.verdict, self.best, self.worst, self.nothing_checked))?,
            stages: stages(self.stages, prose)?,
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

/// A finding's caution, with its values put into the reason and remedy for the subject at a place.
fn worded<'p>(
    entry: &ReadFinding<ReadValues>,
    prose: &'p Prose,
    (place, subject): (usize, &Subject),
) -> Result<Worded<'p>, NoReport> {
    let caution = prose
        .cautions
        .get(&entry.caution)
        .ok_or_else(|| format!("the words have no caution `{}`", entry.caution))?;
    let mut values = entry.texts.values.iter().map(|value| match value {
        Some(each) => each.at(place),
        None => Ok(subject.own().unwrap_or(subject.kind()).to_owned()),
    });
    let reason = filled(&caution.reason, &mut values)?;
    let remedy = caution.remedy.as_ref();
    Ok(Worded {
        caution: OfCaution {
            title: &caution.title,
            stage: caution.stage.as_ref(),
            fixed: caution.fixed,
            basis: &caution.basis,
            rungs: &caution.rungs,
        },
        reason,
        remedy: remedy.map(|text| filled(text, &mut values)).transpose()?,
    })
}

/// A text with the next values put in.
fn filled(
    words: &Arc<[Option<Arc<str>>]>,
    values: &mut impl Iterator<Item = Result<String, NoReport>>,
) -> Result<FilledText, NoReport> {
    let places = words.iter().filter(|words| words.is_none());
    let mut next = || Ok::<_, NoReport>(values.next().ok_or("a value is missing")??.into());
    Ok(FilledText {
        words: Arc::clone(words),
        values: places
            .map(|_| next().map(ReportedValue::Text))
            .collect::<Result<_, _>>()?,
    })
}

fn stages(entries: Vec<ReadStage>, prose: &Prose) -> Result<Vec<StageOutcome>, NoReport> {
    let stage = |entry: ReadStage| {
        let title = prose
            .stages
            .get(&entry.stage)
            .ok_or_else(|| format!("the words have no stage `{}`", entry.stage))?;
        Ok(StageOutcome {
            stage: entry.stage,
            title: Arc::clone(title),
            verdict: entry.verdict,
            best: entry.best,
            worst: entry.worst,
            nothing_checked: entry.nothing_checked,
        })
    };
    entries.into_iter().map(stage).collect()
}

fn remarks(entries: Vec<ReadRemark>, prose: &Prose) -> Result<Vec<Remark>, NoReport> {
    let remark = |entry: ReadRemark| {
        let words = || {
            let words = prose.subjects.get(&entry.subject);
            words.ok_or_else(|| format!("the words have no subject `{}`", entry.subject))
        };
        let says = match entry.remark {
            RemarkKind::LooksAlike => alike_in_words(&words()?.plural, &entry.names),
            RemarkKind::NoneBrought => words()?.if_none.clone().unwrap_or_default(),
            RemarkKind::Noted | RemarkKind::WithoutShipped => {
                entry.says.ok_or("a note has no words")?
            }
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
