//! A finding: one caution's outcome for one subject, with what it rests on.

use std::borrow::Cow;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::excerpt::Excerpt;
use super::margin::Margin;
use super::narrowed::NarrowedBy;
use super::subject::Subject;
use super::values::{FilledText, ReportedNumber, ReportedValue};
use super::verdict::{RungName, Status, Verdict};
use crate::document::Place;
use crate::formula::Truth;
use crate::ruleset::Basis;

/// One caution's outcome for one subject.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Finding {
    /// The caution.
    pub caution: Arc<str>,
    /// What the caution is about.
    pub title: Arc<str>,
    /// The stage of the caution; none, if it is of every stage.
    pub stage: Option<Arc<str>>,
    /// Whom it is of.
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
    pub reason: FilledText,
    /// What to do.
    pub remedy: Option<FilledText>,
    /// The comparisons that decided.
    pub clauses: Vec<ClauseReport>,
    /// The library's figures that took part in them.
    pub figures: Vec<Arc<FigureUse>>,
    /// The facts that took part in them.
    pub facts: Vec<Arc<FactReport>>,
    /// How many more facts took part than are listed.
    pub more_facts: usize,
    /// The dotted names of those that are missing.
    pub missing: Vec<Cow<'static, str>>,
    /// What the caution rests on.
    pub basis: Arc<[Basis]>,
    /// Where the rung is in the ruleset.
    pub rule: Place,
}

/// A comparison, or another part of a condition, that was not surely met.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ClauseReport {
    /// As written.
    pub text: Excerpt,
    /// What it came to.
    pub truth: Truth,
    /// Whether it is in the condition, so that it leaves open whether the caution applies at all.
    pub of_condition: bool,
    /// The left side of a comparison of numbers.
    pub left: Option<ReportedNumber>,
    /// The right side.
    pub right: Option<ReportedNumber>,
    /// By how much it is met, at the worst. Negative where it is not.
    pub margin: Option<Margin>,
    /// The limits that take part.
    pub limits: Vec<Cow<'static, str>>,
}

/// A figure of the library that took part in a finding.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct FigureUse {
    /// Its dotted name.
    pub name: String,
    /// Whom it is of.
    pub subject: Subject,
    /// What it came to, the error of the model included.
    pub value: ReportedNumber,
    /// Where the model does not reach, so that the value is open towards the cautious side: why.
    pub open: Option<Cow<'static, str>>,
    /// What would narrow it most.
    pub narrowed_by: Option<NarrowedBy>,
}

/// A fact that took part.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct FactReport {
    /// Its dotted name.
    pub name: Cow<'static, str>,
    /// Whom it is of.
    pub subject: Subject,
    /// How it is known.
    pub state: FactState,
    /// Its value with uncertainty.
    pub value: Option<ReportedValue>,
    /// Whether it is only as good as the meter that the rules assume: the proposal states none.
    pub meter_assumed: bool,
    /// Where the proposal gives it.
    pub place: Option<Place>,
}

/// How a fact is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
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
