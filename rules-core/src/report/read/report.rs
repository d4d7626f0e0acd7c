//! A report as it is read: what is told once of many is told of each again.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Deserializer};

use super::entries::{NoReport, ReadFact, ReadFigure, ReadSubject, ReadTables, ReadText};
use super::findings::{OfCaution, ReadFinding, Worded, findings};
use super::next::{ReadNext, ReadUnused, measure_next, unused};
use super::outcome::outcome;
use crate::check::{
    Counts, Places, Remark, Report, StageOutcome, Subject, Verdict, WouldChange, WouldLift,
};
use crate::document::Place;
use crate::facts::Notice;
use crate::ruleset::{Acceptance, Basis, LimitReport, LoadedRuleset, Loosening, WrittenSource};

#[derive(Deserialize)]
struct ReadReport {
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
    stages: Vec<StageOutcome>,
    acceptance: Acceptance,
    rules: Vec<LoadedRuleset>,
    digest: String,
    counts: Counts,
    findings: Vec<ReadFinding<ReadTexts>>,
    passed: Vec<Arc<str>>,
    not_applicable: Vec<Arc<str>>,
    measure_next: Vec<ReadNext<ReadMeaning>>,
    places: Places,
    #[serde(default)]
    would_change: Option<WouldChange>,
    #[serde(default)]
    would_lift: Option<WouldLift>,
    loosened: Vec<Loosening>,
    subjects: Vec<ReadSubject>,
    sets: Vec<Vec<usize>>,
    facts: Vec<ReadFact>,
    figures: Vec<ReadFigure>,
    cautions: BTreeMap<Arc<str>, ReadCaution>,
    limits: BTreeMap<Cow<'static, str>, LimitReport>,
    sources: BTreeMap<String, WrittenSource>,
    remarks: Vec<Remark>,
    unused: Vec<ReadUnused>,
    notice: Vec<Notice>,
}

/// The reason and remedy of a finding.
#[derive(Deserialize)]
struct ReadTexts {
    reason: ReadText,
    #[serde(default)]
    remedy: Option<ReadText>,
}

#[derive(Deserialize)]
struct ReadCaution {
    title: Arc<str>,
    #[serde(default)]
    stage: Option<Arc<str>>,
    fixed: bool,
    basis: Arc<[Basis]>,
    rungs: BTreeMap<String, Place>,
}

/// What a fact is.
#[derive(Deserialize)]
struct ReadMeaning {
    meaning: String,
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
            findings: findings(&self.findings, &tables, |entry, place, subject| {
                worded(entry, &self.cautions, (place, subject))
            })?,
            measure_next: measure_next(&self.measure_next, &tables, |entry| {
                entry.texts.meaning.clone()
            })?,
            unused: unused(self.unused, &tables)?,
            format: self.format,
            title: self.title,
            proposal: self.proposal,
            outcome: outcome((self.verdict, self.best, self.worst, self.nothing_checked))?,
            stages: self.stages,
            acceptance: self.acceptance,
            rules: self.rules,
            digest: self.digest,
            counts: self.counts,
            passed: self.passed,
            not_applicable: self.not_applicable,
            places: self.places,
            would_change: self.would_change,
            would_lift: self.would_lift,
            remarks: self.remarks,
            loosened: self.loosened,
            limits: self.limits,
            sources: self.sources,
            notice: self.notice,
        })
    }
}

/// A finding's caution, with its reason and remedy for the subject at a place.
fn worded<'c>(
    entry: &ReadFinding<ReadTexts>,
    cautions: &'c BTreeMap<Arc<str>, ReadCaution>,
    (place, subject): (usize, &Subject),
) -> Result<Worded<'c>, NoReport> {
    let caution = cautions
        .get(&entry.caution)
        .ok_or_else(|| format!("`{}` is not among the cautions", entry.caution))?;
    let remedy = entry.texts.remedy.as_ref();
    Ok(Worded {
        caution: OfCaution {
            title: &caution.title,
            stage: caution.stage.as_ref(),
            fixed: caution.fixed,
            basis: &caution.basis,
            rungs: &caution.rungs,
        },
        reason: entry.texts.reason.at(place, subject)?,
        remedy: remedy.map(|text| text.at(place, subject)).transpose()?,
    })
}
