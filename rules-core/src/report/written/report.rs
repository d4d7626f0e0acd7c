//! A report as it is written.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Serialize, Serializer};

use super::findings::{CautionEntry, WrittenFinding, cautions, findings};
use super::found::Found;
use super::next::{WrittenNext, next};
use super::sheet::{FactEntry, FigureEntry, facts, figures, owners};
use super::tables::{Tables, WrittenSubject};
use super::unused::{WrittenUnused, unused};
use crate::check::{Counts, Places, Remark, Report, StageOutcome, Verdict, WouldChange, WouldLift};
use crate::facts::Notice;
use crate::report::alike::groups;
use crate::ruleset::{Acceptance, LimitReport, LoadedRuleset, Loosening, WrittenSource};

/// What a check found. What is alike is reported once: `subjects` of an entry are one of `sets`,
/// which are lists of positions in `subjects` of the report, from 0; and where its subjects have
/// values of their own, a list stands in place of the value, with one for each in the order of the
/// set.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Report", deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::of_all_or_of_stages))]
pub(super) struct WrittenReport<'w> {
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
    #[serde(skip_serializing_if = "<[StageOutcome]>::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    stages: &'w [StageOutcome],
    /// What decided where a value is in doubt.
    acceptance: Acceptance,
    /// The rulesets that took part.
    rules: &'w [LoadedRuleset],
    /// The digest of the rules: of a list of their rulesets, the facts and the acceptance.
    digest: &'w str,
    /// How many cautions did what.
    counts: Counts,
    /// Every finding that is not a pass, the gravest first.
    findings: Vec<WrittenFinding<'w>>,
    /// Cautions that were met wherever they applied.
    passed: &'w [Arc<str>],
    /// Cautions that applied nowhere.
    not_applicable: &'w [Arc<str>],
    /// What to measure or state next, what changes most first.
    measure_next: Vec<WrittenNext<'w>>,
    /// Where the facts are written that are missing or to be measured next, by name. An entry of a
    /// list is that of the subject: `cables[K4].rated.current`.
    places: &'w Places,
    /// What would change the verdict, if somebody tried.
    #[serde(skip_serializing_if = "Option::is_none")]
    would_change: Option<&'w WouldChange>,
    /// Which answers would lift the verdict, if somebody tried.
    #[serde(skip_serializing_if = "Option::is_none")]
    would_lift: Option<&'w WouldLift>,
    /// What local practice loosened.
    loosened: &'w [Loosening],
    /// All that the report speaks of, in the order of their names.
    subjects: Vec<WrittenSubject<'w>>,
    /// Lists of positions in `subjects`.
    sets: Vec<Vec<usize>>,
    /// The facts that take part in findings.
    facts: Vec<FactEntry<'w>>,
    /// The library's figures that take part in findings.
    figures: Vec<FigureEntry<'w>>,
    /// The cautions of the findings, by id.
    cautions: BTreeMap<&'w str, CautionEntry<'w>>,
    /// The limits that take part in findings, by name.
    limits: &'w BTreeMap<Cow<'static, str>, LimitReport>,
    /// The published sources that findings and these limits rest on, by the names that a basis
    /// uses.
    sources: &'w BTreeMap<String, WrittenSource>,
    /// What is reported without a verdict: it decides nothing.
    remarks: &'w [Remark],
    /// Readings that were given and that no figure could use.
    unused: Vec<WrittenUnused<'w>>,
    /// What regulators and makers say of any such use. No verdict overrules it.
    notice: &'w [Notice],
}

impl Serialize for Report {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        WrittenReport::of(self).serialize(serializer)
    }
}

impl<'w> WrittenReport<'w> {
    fn of(report: &'w Report) -> Self {
        let mut tables = tables(report.into());
        let found = findings(&groups(&report.findings), &mut tables);
        let entries = Entries::of(report.into(), tables);
        Self {
            format: report.format,
            title: &report.title,
            proposal: &report.proposal,
            verdict: report.verdict(),
            best: report.outcome.map(|outcome| outcome.best),
            worst: report.outcome.map(|outcome| outcome.worst),
            nothing_checked: report.outcome.map(|outcome| outcome.nothing_checked),
            asked: report.asked().collect(),
            stages: &report.stages,
            acceptance: report.acceptance,
            rules: &report.rules,
            digest: &report.digest,
            counts: report.counts,
            findings: found,
            passed: &report.passed,
            not_applicable: &report.not_applicable,
            measure_next: entries.measure_next,
            places: &report.places,
            would_change: report.would_change.as_ref(),
            would_lift: report.would_lift.as_ref(),
            loosened: &report.loosened,
            subjects: entries.subjects,
            sets: entries.sets,
            facts: entries.facts,
            figures: entries.figures,
            cautions: cautions(&report.findings),
            limits: &report.limits,
            sources: &report.sources,
            remarks: &report.remarks,
            unused: entries.unused,
            notice: &report.notice,
        }
    }
}

/// What a report and a lean record tell alike beside their findings, and what the entries of both
/// refer to.
pub(super) struct Entries<'w> {
    pub measure_next: Vec<WrittenNext<'w>>,
    pub facts: Vec<FactEntry<'w>>,
    pub figures: Vec<FigureEntry<'w>>,
    pub unused: Vec<WrittenUnused<'w>>,
    pub subjects: Vec<WrittenSubject<'w>>,
    pub sets: Vec<Vec<usize>>,
}

impl<'w> Entries<'w> {
    /// Completes the tables in which the findings have been entered.
    pub(super) fn of(found: Found<'w>, mut tables: Tables<'w>) -> Self {
        let measure_next = next(found.measure_next, &mut tables);
        let of_findings = found.findings.iter();
        let of_findings = of_findings.flat_map(|one| &one.facts);
        let facts = facts(of_findings, found.proposal, &mut tables);
        let of_findings = found.findings.iter();
        let figures = figures(of_findings.flat_map(|one| &one.figures), &mut tables);
        let unused = unused(found.unused, &mut tables);
        let (subjects, sets) = tables.finish();
        Self {
            measure_next,
            facts,
            figures,
            unused,
            subjects,
            sets,
        }
    }
}

/// The tables of all that a report speaks of.
pub(super) fn tables(found: Found<'_>) -> Tables<'_> {
    let findings = || found.findings.iter();
    let of_facts = owners(findings().map(|finding| finding.facts.as_slice()));
    let of_figures = owners(findings().map(|finding| finding.figures.as_slice()));
    let of_findings = findings().map(|finding| &finding.subject);
    let next = found.measure_next.iter().map(|next| &next.subject);
    let unused = found.unused.iter().flat_map(|unused| &unused.subjects);
    let of_uses = of_facts.chain(of_figures).chain(of_findings);
    Tables::of(of_uses.chain(next).chain(unused))
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Report {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        WrittenReport::schema_name()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        WrittenReport::json_schema(generator)
    }
}
