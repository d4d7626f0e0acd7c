//! A report without its reasons, as it is written.

use std::collections::HashMap;

use serde::{Serialize, Serializer};

use super::tables::{Tables, WrittenSubject};
use crate::check::{Brief, BriefFinding, Outcome, Remark, StageOutcome, Status, Verdict};

/// The result of a check, without reasons. Subjects are reported as in a report.
#[derive(Debug, Clone, Serialize)]
struct WrittenBrief<'w> {
    /// The outcome of the whole; none of it if only some stages were asked for.
    #[serde(flatten)]
    outcome: Option<WrittenOutcome>,
    /// What each stage came to, of those that were asked for, in their order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    stages: Vec<WrittenStage<'w>>,
    /// Every finding that is not a pass, in the order of a report.
    findings: Vec<WrittenBriefFinding<'w>>,
    /// What is reported without a verdict.
    #[serde(skip_serializing_if = "<[Remark]>::is_empty")]
    remarks: &'w [Remark],
    /// All that the findings speak of, in the order of their names.
    subjects: Vec<WrittenSubject<'w>>,
    /// Lists of positions in `subjects`.
    sets: Vec<Vec<usize>>,
}

/// A verdict, and what else it could be.
#[derive(Debug, Clone, Serialize)]
struct WrittenOutcome {
    /// The verdict: the gravest of all findings.
    verdict: Verdict,
    /// The lowest verdict that what is known allows.
    best: Verdict,
    /// The highest verdict that what is known allows.
    worst: Verdict,
    /// True if no caution surely applied to anything, so that nothing was surely checked.
    nothing_checked: bool,
}

impl WrittenOutcome {
    const fn of(outcome: Outcome) -> Self {
        Self {
            verdict: outcome.verdict,
            best: outcome.best,
            worst: outcome.worst,
            nothing_checked: outcome.nothing_checked,
        }
    }
}

/// The outcome of a stage.
#[derive(Debug, Clone, Serialize)]
struct WrittenStage<'w> {
    /// The name of the stage.
    stage: &'w str,
    #[serde(flatten)]
    outcome: WrittenOutcome,
}

impl<'w> WrittenStage<'w> {
    fn of(stage: &'w StageOutcome) -> Self {
        Self {
            stage: &stage.stage,
            outcome: WrittenOutcome::of(stage.outcome()),
        }
    }
}

/// A finding without its reasons, of subjects for which a caution came to the same.
#[derive(Debug, Clone, Serialize)]
struct WrittenBriefFinding<'w> {
    /// The caution.
    caution: &'w str,
    /// Whom it is about: one of `sets`.
    subjects: usize,
    /// The verdict.
    verdict: Verdict,
    /// How sure the finding is.
    status: Status,
}

impl Serialize for Brief {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut tables = Tables::of(self.findings.iter().map(|finding| &finding.subject));
        let findings = findings(&self.findings, &mut tables);
        let (subjects, sets) = tables.finish();
        let written = WrittenBrief {
            outcome: self.outcome.map(WrittenOutcome::of),
            stages: self.stages.iter().map(WrittenStage::of).collect(),
            findings,
            remarks: &self.remarks,
            subjects,
            sets,
        };
        written.serialize(serializer)
    }
}

/// The findings, those that are alike as one where the first of them is.
fn findings<'w>(all: &'w [BriefFinding], tables: &mut Tables<'w>) -> Vec<WrittenBriefFinding<'w>> {
    let mut alike: Vec<(&BriefFinding, Vec<usize>)> = Vec::new();
    let mut places = HashMap::new();
    for finding in all {
        let key = (&*finding.caution, finding.verdict, finding.status);
        let place = *places.entry(key).or_insert(alike.len());
        let position = tables.position(&finding.subject);
        match alike.get_mut(place) {
            Some((_, positions)) => positions.push(position),
            None => alike.push((finding, vec![position])),
        }
    }
    let written = |(finding, mut positions): (&'w BriefFinding, Vec<usize>)| {
        positions.sort_unstable();
        WrittenBriefFinding {
            caution: &finding.caution,
            subjects: tables.set(positions),
            verdict: finding.verdict,
            status: finding.status,
        }
    };
    alike.into_iter().map(written).collect()
}
