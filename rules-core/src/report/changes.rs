//! What changed between two reports on one plan: as data.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Serialize, Serializer};

use super::written::WrittenSubject;
use crate::check::{Finding, Outcome, Report, StageOutcome, Status, Subject, Verdict};
use crate::facts::Notice;
use crate::ruleset::Acceptance;

/// What changed between two reports.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Changes {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::format_one")
    )]
    pub format: u32,
    /// What the older report is of.
    pub before: ReportHead,
    /// What the newer report is of.
    pub after: ReportHead,
    /// Whether title or file are the same. Where neither is, the reports seem to be on two plans.
    pub same_proposal: bool,
    /// Whether both were made by the same rules, by their digests.
    pub same_rules: bool,
    /// The stages that came to something else.
    pub stages: Vec<StageChange>,
    /// Findings that are in the older report alone.
    pub went: Vec<Went>,
    /// Findings that are in the newer report alone.
    pub came: Vec<New>,
    /// Findings whose verdict, or what else it could be, changed.
    pub changed: Vec<Changed>,
    /// How many findings came to the same in both.
    pub unchanged: usize,
    /// What regulators and makers say of any such use. No verdict overrules it.
    pub notice: Vec<Notice>,
}

/// What a report is of, and what it came to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ReportHead {
    /// The proposal's title.
    pub title: Arc<str>,
    /// The proposal's file or stream.
    pub proposal: String,
    /// The whole; left out, if only some stages were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outcome: Option<Outcome>,
    /// The stages that were asked for, if not all of the proposal was checked.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub asked: Vec<Arc<str>>,
    /// What decided where a value is in doubt.
    pub acceptance: Acceptance,
    /// The digest of the rules.
    pub digest: String,
}

/// A stage that came to something else.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct StageChange {
    /// The name of the stage.
    pub stage: Arc<str>,
    /// What it is, on one line.
    pub title: Arc<str>,
    /// What it came to; left out, if the older report does not have it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub before: Option<Outcome>,
    /// What it comes to; left out, if the newer report does not have it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub after: Option<Outcome>,
}

/// The caution and the subject of a finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct FindingOf {
    /// The caution.
    pub caution: Arc<str>,
    /// What the caution is about.
    pub title: Arc<str>,
    /// Whom it is of.
    #[serde(serialize_with = "written")]
    #[cfg_attr(feature = "schema", schemars(with = "WrittenSubject<'static>"))]
    pub subject: Subject,
}

/// What a finding came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Found {
    /// The verdict.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest verdict that what is known allows.
    pub worst: Verdict,
    /// How sure the finding is.
    pub status: Status,
}

/// What became of a caution of which there is no finding for a subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Without {
    /// It is met wherever it applies.
    Passed,
    /// It applies nowhere.
    NotApplicable,
    /// It speaks of others, and not of this subject: that is not there, or meets it.
    OfOthers,
    /// It was not looked at: these rules do not have it, or its stage was not asked for.
    NotChecked,
}

/// A finding that is in the older report alone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Went {
    /// What it is of.
    #[serde(flatten)]
    pub of: FindingOf,
    /// What it came to.
    pub before: Found,
    /// What became of the caution.
    pub after: Without,
}

/// A finding that is in the newer report alone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct New {
    /// What it is of.
    #[serde(flatten)]
    pub of: FindingOf,
    /// What was said of the caution.
    pub before: Without,
    /// What it comes to.
    pub after: Found,
}

/// A finding that came to something else.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Changed {
    /// What it is of.
    #[serde(flatten)]
    pub of: FindingOf,
    /// What it came to.
    pub before: Found,
    /// What it comes to.
    pub after: Found,
}

fn written<S: Serializer>(subject: &Subject, serializer: S) -> Result<S::Ok, S::Error> {
    WrittenSubject::from(subject).serialize(serializer)
}

/// What changed from an older report to a newer one on the same plan.
#[must_use]
pub fn changes(old: &Report, new: &Report) -> Changes {
    let (before, after) = (by_subject(old), by_subject(new));
    let both: Vec<Changed> = of_both(new, &before);
    let (changed, unchanged): (Vec<Changed>, Vec<Changed>) =
        both.into_iter().partition(|one| one.before != one.after);
    Changes {
        format: 1,
        before: ReportHead::of(old),
        after: ReportHead::of(new),
        same_proposal: old.proposal == new.proposal || old.title == new.title,
        same_rules: old.digest == new.digest,
        stages: stages(old, new),
        went: only(old, &after)
            .map(|finding| Went {
                of: FindingOf::of(finding),
                before: Found::of(finding),
                after: without(&finding.caution, new),
            })
            .collect(),
        came: only(new, &before)
            .map(|finding| New {
                of: FindingOf::of(finding),
                before: without(&finding.caution, old),
                after: Found::of(finding),
            })
            .collect(),
        changed,
        unchanged: unchanged.len(),
        notice: new.notice.clone(),
    }
}

impl Changes {
    /// Whether the verdict on all that was asked for, or that of a stage in both reports, is graver
    /// than it was.
    #[must_use]
    pub fn is_graver(&self) -> bool {
        let graver = |before: Option<Outcome>, after: Option<Outcome>| {
            before
                .zip(after)
                .is_some_and(|(before, after)| after.verdict > before.verdict)
        };
        let mut stages = self.stages.iter();
        graver(self.before.outcome, self.after.outcome)
            || stages.any(|stage| graver(stage.before, stage.after))
    }

    /// Whether all came to the same.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.before.outcome == self.after.outcome
            && self.stages.is_empty()
            && self.went.is_empty()
            && self.came.is_empty()
            && self.changed.is_empty()
    }
}

impl ReportHead {
    fn of(report: &Report) -> Self {
        Self {
            title: Arc::clone(&report.title),
            proposal: report.proposal.clone(),
            outcome: report.outcome,
            asked: report.asked().map(Arc::from).collect(),
            acceptance: report.acceptance,
            digest: report.digest.clone(),
        }
    }
}

impl FindingOf {
    fn of(finding: &Finding) -> Self {
        Self {
            caution: Arc::clone(&finding.caution),
            title: Arc::clone(&finding.title),
            subject: finding.subject.clone(),
        }
    }
}

impl Found {
    const fn of(finding: &Finding) -> Self {
        Self {
            verdict: finding.verdict,
            best: finding.best,
            worst: finding.worst,
            status: finding.status,
        }
    }
}

/// What a finding is of, whatever the number of subjects of which nothing is known.
type Key<'r> = (&'r str, &'r str, Option<&'r str>, bool, bool);

fn key(finding: &Finding) -> Key<'_> {
    let subject = &finding.subject;
    let is_named = subject.name().is_some();
    let own = (subject.kind(), subject.own());
    (
        &finding.caution,
        own.0,
        own.1,
        is_named,
        subject.is_listed(),
    )
}

fn by_subject(report: &Report) -> BTreeMap<Key<'_>, &Finding> {
    let findings = report.findings.iter();
    findings.map(|finding| (key(finding), finding)).collect()
}

/// The findings of a report that another does not have.
fn only<'r>(
    report: &'r Report,
    other: &BTreeMap<Key<'_>, &Finding>,
) -> impl Iterator<Item = &'r Finding> {
    let findings = report.findings.iter();
    findings.filter(|finding| !other.contains_key(&key(finding)))
}

/// The findings of the newer report that the older one has as well.
fn of_both(new: &Report, before: &BTreeMap<Key<'_>, &Finding>) -> Vec<Changed> {
    let findings = new.findings.iter();
    let both = findings.filter_map(|finding| Some((before.get(&key(finding))?, finding)));
    both.map(|(before, finding)| Changed {
        of: FindingOf::of(finding),
        before: Found::of(before),
        after: Found::of(finding),
    })
    .collect()
}

/// What a report says of a caution of which it has no finding for a subject.
fn without(caution: &Arc<str>, report: &Report) -> Without {
    match () {
        () if report.passed.contains(caution) => Without::Passed,
        () if report.not_applicable.contains(caution) => Without::NotApplicable,
        () if report.findings.iter().any(|one| one.caution == *caution) => Without::OfOthers,
        () => Without::NotChecked,
    }
}

/// The stages of both, those that the newer report does not have last.
fn stages(old: &Report, new: &Report) -> Vec<StageChange> {
    let of = |report: &Report, id: &str| {
        let mut stages = report.stages.iter();
        let found = stages.find(|stage| &*stage.stage == id);
        found.map(StageOutcome::outcome)
    };
    let gone = old
        .stages
        .iter()
        .filter(|stage| of(new, &stage.stage).is_none());
    let change = |stage: &StageOutcome| StageChange {
        stage: Arc::clone(&stage.stage),
        title: Arc::clone(&stage.title),
        before: of(old, &stage.stage),
        after: of(new, &stage.stage),
    };
    let all = new.stages.iter().chain(gone).map(change);
    all.filter(|stage| stage.before != stage.after).collect()
}
