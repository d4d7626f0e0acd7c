//! A report without its words, as it is written.

use std::borrow::Cow;
use std::sync::Arc;

use serde::Serialize;

use super::each::Each;
use super::findings::{WrittenClause, WrittenFinding, findings_with_values};
use super::found::Found;
use super::next::WrittenNext;
use super::report::{Entries, tables};
use super::sheet::{FactEntry, FigureEntry, Uses};
use super::tables::WrittenSubject;
use super::told::Piece;
use super::unused::WrittenUnused;
use crate::check::{Counts, Places, Remark, RemarkKind, RungName, StageOutcome, Status, Verdict};
use crate::report::alike::groups;
use crate::ruleset::{Acceptance, Loosening};

/// A report without its words: what a check found, as ids and numbers. The words are in the table of
/// its rules, by which it is the whole report again. What is alike is told once, as in a report.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Lean"))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::of_all_or_of_stages))]
pub(in crate::report) struct WrittenLean<'w> {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::format_one")
    )]
    format: u32,
    /// The proposal's title.
    title: &'w str,
    /// The proposal's file or stream.
    proposal: &'w str,
    /// The verdict on the whole: the highest of the findings. It, `best`, `worst` and
    /// `nothing_checked` are left out if only some stages were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<Verdict>,
    /// The lowest verdict that what is known allows.
    #[serde(skip_serializing_if = "Option::is_none")]
    best: Option<Verdict>,
    /// The highest verdict that what is known allows.
    #[serde(skip_serializing_if = "Option::is_none")]
    worst: Option<Verdict>,
    /// True if no caution surely applied to anything, so that nothing was surely checked.
    #[serde(skip_serializing_if = "Option::is_none")]
    nothing_checked: Option<bool>,
    /// The stages that were asked for, if not all of the proposal was checked.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    asked: Vec<&'w str>,
    /// What each stage came to, of those that were asked for, in their order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    stages: Vec<LeanStage<'w>>,
    /// What decided where a value is in doubt.
    acceptance: Acceptance,
    /// The digest of the rules, by which their words are found.
    digest: &'w str,
    /// How many cautions did what.
    counts: Counts,
    /// Every finding that is not a pass, the gravest first.
    findings: Vec<LeanFinding<'w>>,
    /// Cautions that were met wherever they applied.
    passed: &'w [Arc<str>],
    /// Cautions that applied nowhere.
    not_applicable: &'w [Arc<str>],
    /// What to measure or state next, what changes most first.
    measure_next: Vec<LeanNext<'w>>,
    /// Where the facts are written that are missing or to be measured next, by name.
    places: &'w Places,
    /// What local practice loosened.
    loosened: &'w [Loosening],
    /// All that the record speaks of, in the order of their names.
    subjects: Vec<WrittenSubject<'w>>,
    /// Lists of positions in `subjects`.
    sets: Vec<Vec<usize>>,
    /// The facts that take part in findings.
    facts: Vec<FactEntry<'w>>,
    /// The library's figures that take part in findings.
    figures: Vec<FigureEntry<'w>>,
    /// What is told without a verdict: it decides nothing.
    remarks: Vec<LeanRemark<'w>>,
    /// Readings that were given and that no figure could use.
    unused: Vec<WrittenUnused<'w>>,
    /// The points of the standing notice, by id. Whoever shows a record shows them too.
    notice: Vec<&'w str>,
}

/// What a check came to in one stage.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct LeanStage<'w> {
    /// The name of the stage.
    stage: &'w str,
    /// The verdict: the highest of the findings of this stage, and of those that are of every stage.
    verdict: Verdict,
    /// The lowest verdict that what is known allows.
    best: Verdict,
    /// The highest verdict that what is known allows.
    worst: Verdict,
    /// True if nothing of this very stage was surely checked and nothing was found.
    nothing_checked: bool,
}

/// One caution's outcome for subjects for which it came to the same.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct LeanFinding<'w> {
    /// The caution.
    caution: &'w str,
    /// Whom it is about: one of `sets`.
    subjects: usize,
    /// The verdict.
    verdict: Verdict,
    /// The lowest verdict that what is known allows.
    best: Verdict,
    /// The highest verdict that what is known allows.
    worst: Verdict,
    /// How sure the finding is.
    status: Status,
    /// The rung that gave the verdict.
    rung: RungName,
    /// What is put into the reason and then into the remedy, in order.
    values: Vec<Piece<'w>>,
    /// The comparisons that decided.
    clauses: Vec<WrittenClause<'w>>,
    /// The library's figures that took part in them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    figures: Vec<Uses<'w>>,
    /// The facts that took part in them.
    facts: Vec<Uses<'w>>,
    /// How many more facts took part than are listed.
    #[serde(skip_serializing_if = "Each::is_default")]
    #[cfg_attr(feature = "schema", schemars(default = "super::each::zero"))]
    more_facts: Each<usize>,
    /// The dotted names of those that are missing.
    missing: &'w [Cow<'static, str>],
}

/// Something to measure, or to state, next.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct LeanNext<'w> {
    /// The fact's dotted name.
    fact: &'w str,
    /// Whose it is: one of `sets`, of each of which it is one thing to measure.
    subjects: usize,
    /// Whether it is missing (true) or given too widely (false).
    missing: bool,
    /// The gravest verdict that it leaves open.
    leaves_open: Verdict,
    /// How many findings it leaves open, of each.
    findings: usize,
    /// Whether knowing it alone could improve the verdict of the report.
    could_improve: bool,
}

/// Something that a person should look at and that decides nothing.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct LeanRemark<'w> {
    /// What is told.
    remark: RemarkKind,
    /// What it is about, by the name of its kind.
    subject: &'w str,
    /// The names that it is about.
    #[serde(skip_serializing_if = "<[Arc<str>]>::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    names: &'w [Arc<str>],
    /// The words of a note, which are the proposal's, and of what the rules leave out: the words of the
    /// rules do not have them.
    #[serde(skip_serializing_if = "Option::is_none")]
    says: Option<&'w str>,
}

impl<'w> WrittenLean<'w> {
    pub(in crate::report) fn of(found: Found<'w>) -> Self {
        let mut tables = tables(found);
        let findings = findings_with_values(&groups(found.findings), &mut tables);
        let entries = Entries::of(found, tables);
        Self {
            format: 1,
            title: found.title,
            proposal: found.proposal,
            verdict: found.outcome.map(|outcome| outcome.verdict),
            best: found.outcome.map(|outcome| outcome.best),
            worst: found.outcome.map(|outcome| outcome.worst),
            nothing_checked: found.outcome.map(|outcome| outcome.nothing_checked),
            asked: found.asked().collect(),
            stages: found.stages.iter().map(lean_stage).collect(),
            acceptance: found.acceptance,
            digest: found.digest,
            counts: found.counts,
            findings: findings.into_iter().map(lean_finding).collect(),
            passed: found.passed,
            not_applicable: found.not_applicable,
            measure_next: entries.measure_next.into_iter().map(lean_next).collect(),
            places: found.places,
            loosened: found.loosened,
            subjects: entries.subjects,
            sets: entries.sets,
            facts: entries.facts,
            figures: entries.figures,
            remarks: found.remarks.iter().map(lean_remark).collect(),
            unused: entries.unused,
            notice: found.notice.iter().map(|point| point.id.as_str()).collect(),
        }
    }
}

fn lean_stage(stage: &StageOutcome) -> LeanStage<'_> {
    LeanStage {
        stage: &stage.stage,
        verdict: stage.verdict,
        best: stage.best,
        worst: stage.worst,
        nothing_checked: stage.nothing_checked,
    }
}

fn lean_finding<'w>((finding, values): (WrittenFinding<'w>, Vec<Piece<'w>>)) -> LeanFinding<'w> {
    LeanFinding {
        caution: finding.caution,
        subjects: finding.subjects,
        verdict: finding.verdict,
        best: finding.best,
        worst: finding.worst,
        status: finding.status,
        rung: finding.rung,
        values,
        clauses: finding.clauses,
        figures: finding.figures,
        facts: finding.facts,
        more_facts: finding.more_facts,
        missing: finding.missing,
    }
}

fn lean_next(next: WrittenNext<'_>) -> LeanNext<'_> {
    LeanNext {
        fact: next.fact,
        subjects: next.subjects,
        missing: next.missing,
        leaves_open: next.leaves_open,
        findings: next.findings,
        could_improve: next.could_improve,
    }
}

fn lean_remark(remark: &Remark) -> LeanRemark<'_> {
    LeanRemark {
        remark: remark.remark,
        subject: &remark.subject,
        names: &remark.names,
        says: is_told_in_full(remark).then_some(&remark.says),
    }
}

fn is_told_in_full(remark: &Remark) -> bool {
    matches!(
        remark.remark,
        RemarkKind::Noted | RemarkKind::WithoutShipped
    )
}
