//! The report as data.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Serialize;

use super::remark::Remark;
use super::shown::{Filled, Margin, ShownValue, Shows};
use super::subject::Subject;
use crate::document::Place;
use crate::facts::Notice;
use crate::formula::Truth;
use crate::ruleset::{Acceptance, Basis, LoadedRuleset, Loosening, WrittenSource};

/// What a check says of a use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Nothing speaks against it that the rules know of.
    Pass,
    /// Something should be done or measured first.
    Warn,
    /// It should not be done.
    Refuse,
}

impl Verdict {
    /// The word in reports.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Warn => "warn",
            Self::Refuse => "refuse",
        }
    }
}

/// How sure a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// What is known settles it.
    Decided,
    /// A value that was given is too wide to settle it.
    InDoubt,
    /// A missing fact leaves it open.
    Unmeasured,
}

impl Status {
    /// The words in reports.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Decided => "decided",
            Self::InDoubt => "in doubt",
            Self::Unmeasured => "unmeasured",
        }
    }
}

/// The rung that gave a finding its verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum RungName {
    /// `refuse_unless`
    RefuseUnless,
    /// `warn_unless`
    WarnUnless,
}

impl RungName {
    /// The key in rulesets.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::RefuseUnless => "refuse_unless",
            Self::WarnUnless => "warn_unless",
        }
    }
}

/// What a check found.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// The version of the format: 1.
    pub format: u32,
    /// The proposal's title.
    pub title: Arc<str>,
    /// The proposal's file or stream.
    pub proposal: String,
    /// The verdict: the highest of the findings.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest verdict that what is known allows.
    pub worst: Verdict,
    /// True if no caution surely applied to anything, so that nothing was surely checked.
    pub nothing_checked: bool,
    /// What decided where a value is in doubt.
    pub acceptance: Acceptance,
    /// The rulesets that took part.
    pub rules: Vec<LoadedRuleset>,
    /// The digest of the merged rules.
    pub digest: String,
    /// How many cautions did what.
    pub counts: Counts,
    /// Every finding that is not a pass, the gravest first.
    pub findings: Vec<Finding>,
    /// Cautions that were met wherever they applied.
    pub passed: Vec<Arc<str>>,
    /// Cautions that applied nowhere.
    pub not_applicable: Vec<Arc<str>>,
    /// What to measure or state next, what changes most first.
    pub measure_next: Vec<MeasureNext>,
    /// Readings that were given and that no figure can use, so that they took no part.
    pub unused: Vec<UnusedReadings>,
    /// What is told without a verdict: it decides nothing.
    pub remarks: Vec<Remark>,
    /// What local practice loosened.
    pub loosened: Vec<Loosening>,
    /// The limits that take part in findings, by name.
    pub limits: BTreeMap<String, LimitReport>,
    /// The published sources that findings and these limits rest on, by the names that a basis
    /// uses.
    pub sources: BTreeMap<String, WrittenSource>,
    /// What regulators and makers say of any such use. No verdict overrules it.
    pub notice: Vec<Notice>,
}

/// How many cautions did what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct Counts {
    /// Cautions in the rules.
    pub cautions: usize,
    /// Cautions that applied to something.
    pub applied: usize,
    /// Cautions that applied to nothing.
    pub not_applicable: usize,
    /// Cautions that what is known leaves open for something.
    pub undecided: usize,
    /// Cautions times subjects that were looked at. Several that are told as one are one.
    pub checks: usize,
    /// Findings that refuse.
    pub refuse: usize,
    /// Findings that warn.
    pub warn: usize,
}

/// One caution's outcome for one subject.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The caution.
    pub caution: Arc<str>,
    /// What the caution is about.
    pub title: Arc<str>,
    /// The subject: its kind and its name, or the name of a single subject.
    pub subject: Subject,
    /// The verdict.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest verdict that what is known allows.
    pub worst: Verdict,
    /// How sure the finding is.
    pub status: Status,
    /// The rung that gave the verdict.
    pub rung: RungName,
    /// Whether the caution is of the base that no local practice may drop.
    pub fixed: bool,
    /// Why, with the numbers.
    pub reason: Filled,
    /// What to do.
    pub remedy: Option<Filled>,
    /// The comparisons that decided.
    pub clauses: Vec<ClauseReport>,
    /// The library's figures that took part in them.
    pub figures: Vec<FigureUse>,
    /// The facts that took part in them.
    pub facts: Vec<FactReport>,
    /// How many more facts took part than are listed.
    pub more_facts: usize,
    /// The dotted names of those that are missing.
    pub missing: Vec<String>,
    /// What the caution rests on.
    pub basis: Arc<[Basis]>,
    /// Where the rung stands in the ruleset.
    pub rule: Place,
}

/// A comparison, or another part of a condition, that was not surely met.
#[derive(Debug, Clone, PartialEq)]
pub struct ClauseReport {
    /// As written.
    pub text: String,
    /// What it came to.
    pub truth: Truth,
    /// Whether it stands in the condition, so that it leaves open whether the caution applies at
    /// all.
    pub of_condition: bool,
    /// The left side of a comparison of numbers.
    pub left: Option<Shows>,
    /// The right side.
    pub right: Option<Shows>,
    /// By how much it is met, at the worst. Negative where it is not.
    pub margin: Option<Margin>,
    /// The limits that take part.
    pub limits: Vec<String>,
}

/// A figure of the library that took part in a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureUse {
    /// Its dotted name.
    pub name: String,
    /// The subject: its kind and its name, or the name of a single subject.
    pub subject: Subject,
    /// What it came to, the error of the model included.
    pub value: Shows,
    /// Where the model does not reach, so that the value is open towards the cautious side: why,
    /// and what would close it.
    pub open: Option<&'static str>,
}

/// A limit that takes part in a finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LimitReport {
    /// Its value as written, after adjustment.
    pub value: String,
    /// What it means.
    pub meaning: String,
    /// What it rests on.
    pub basis: Vec<Basis>,
}

/// How a fact is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum FactState {
    /// A measured value was given.
    Measured,
    /// A value read off a label was given.
    Printed,
    /// A stated value was given.
    Stated,
    /// Nothing was given.
    Missing,
}

impl FactState {
    /// The word in reports.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Printed => "printed",
            Self::Stated => "stated",
            Self::Missing => "missing",
        }
    }
}

/// A fact that took part.
#[derive(Debug, Clone, PartialEq)]
pub struct FactReport {
    /// Its dotted name.
    pub name: String,
    /// The subject: its kind and its name, or the name of a single subject.
    pub subject: Subject,
    /// How it is known.
    pub state: FactState,
    /// Its value with uncertainty.
    pub value: Option<ShownValue>,
    /// Where the proposal gives it.
    pub place: Option<Place>,
}

impl MeasureNext {
    /// Whether this and another differ in their subjects only.
    #[must_use]
    pub fn is_alike(&self, other: &Self) -> bool {
        let key = |one: &Self| {
            (
                one.missing,
                one.leaves_open,
                one.findings,
                one.could_improve,
            )
        };
        self.fact == other.fact && key(self) == key(other)
    }
}

/// Something to measure, or to state, next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasureNext {
    /// The fact's dotted name.
    pub fact: String,
    /// The subject: its kind and its name, or the name of a single subject.
    pub subject: Subject,
    /// What it is.
    pub meaning: String,
    /// Whether it is missing (true) or given too widely (false).
    pub missing: bool,
    /// The gravest verdict that it leaves open.
    pub leaves_open: Verdict,
    /// How many findings it leaves open.
    pub findings: usize,
    /// Whether knowing it alone could improve the verdict of the report.
    pub could_improve: bool,
}

/// Readings that were given and that no figure of the library can use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnusedReadings {
    /// The dotted names of the facts that were given.
    pub facts: Vec<String>,
    /// Whose they are, in the order of their names.
    pub subjects: Vec<Subject>,
    /// Why they cannot be used, and what would mend it.
    pub why: &'static str,
}

/// The figures of a proposal.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureSheet {
    /// The version of the format: 1.
    pub format: u32,
    /// The proposal's title.
    pub title: Arc<str>,
    /// The proposal's file or stream.
    pub proposal: String,
    /// The rulesets whose figures are here besides those of the library.
    pub rules: Vec<LoadedRuleset>,
    /// The digest of the merged rules.
    pub digest: String,
    /// The figures, by subject.
    pub figures: Vec<FigureReport>,
    /// Readings that were given and that no figure can use, so that they took no part.
    pub unused: Vec<UnusedReadings>,
    /// What regulators and makers say of any such use. No figure overrules it.
    pub notice: Vec<Notice>,
}

/// A figure of one subject: what it came to, and what it was worked from.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureReport {
    /// Its dotted name.
    pub name: String,
    /// The subject: its kind and its name, or the name of a single subject.
    pub subject: Subject,
    /// What it means.
    pub meaning: String,
    /// The formula, where a ruleset defines it; else the library works it out.
    pub is: Option<String>,
    /// What it came to; none for a condition.
    pub value: Option<Shows>,
    /// Whether it holds, for a condition.
    pub truth: Option<Truth>,
    /// Where the model does not reach, so that the value is open towards the cautious side: why,
    /// and what would close it.
    pub open: Option<&'static str>,
    /// The facts it was worked from.
    pub facts: Vec<FactReport>,
    /// How many more there are.
    pub more_facts: usize,
}
