//! The report of a check, as data.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::finding::Finding;
use super::places::Places;
use super::remarks::Remark;
use super::stages::{Outcome, StageOutcome, gravest};
use super::subject::Subject;
use super::verdict::Verdict;
use super::would_change::WouldChange;
use super::would_lift::WouldLift;
use crate::facts::Notice;
use crate::ruleset::{Acceptance, LimitReport, LoadedRuleset, Loosening, WrittenSource};

/// What a check found.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Report {
    /// The version of the format: 1.
    pub format: u32,
    /// The proposal's title.
    pub title: Arc<str>,
    /// The proposal's file or stream.
    pub proposal: String,
    /// The verdict on the whole, and what else it could be; none if only some stages were asked for.
    pub outcome: Option<Outcome>,
    /// What each stage came to, of those that were asked for, in their order.
    pub stages: Vec<StageOutcome>,
    /// What decided where a value is in doubt.
    pub acceptance: Acceptance,
    /// The rulesets that took part.
    pub rules: Vec<LoadedRuleset>,
    /// The digest of the rules: of a list of their rulesets, the facts and the acceptance.
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
    /// Where the facts are written that are missing or to be measured next, by name.
    pub places: Places,
    /// Readings that were given and that no figure can use, so that they took no part.
    pub unused: Vec<UnusedReadings>,
    /// What would change the verdict, if somebody tried: [`check`](crate::check::check) does not.
    pub would_change: Option<WouldChange>,
    /// Which answers would lift the verdict, if somebody tried.
    pub would_lift: Option<WouldLift>,
    /// What is reported without a verdict: it decides nothing.
    pub remarks: Vec<Remark>,
    /// What local practice loosened.
    pub loosened: Vec<Loosening>,
    /// The limits that take part in findings, by name.
    pub limits: BTreeMap<Cow<'static, str>, LimitReport>,
    /// The published sources that findings and these limits rest on, by the names that a basis
    /// uses.
    pub sources: BTreeMap<String, WrittenSource>,
    /// What regulators and makers say of any such use. No verdict overrules it.
    pub notice: Vec<Notice>,
}

/// How many cautions did what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[non_exhaustive]
pub struct Counts {
    /// Cautions in the rules; of the stages asked for, if some were.
    pub cautions: usize,
    /// Cautions that applied to something.
    pub applied: usize,
    /// Cautions that applied to nothing.
    pub not_applicable: usize,
    /// Cautions that what is known leaves open for something.
    pub undecided: usize,
    /// Cautions times subjects that were looked at. Several that are reported as one are one.
    pub checks: usize,
    /// Findings that refuse.
    pub refuse: usize,
    /// Findings that warn.
    pub warn: usize,
}

/// Something to measure, or to state, next.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct MeasureNext {
    /// The fact's dotted name.
    pub fact: Cow<'static, str>,
    /// Whom it is of.
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

impl Report {
    /// The verdict on the whole; none if only some stages were asked for.
    #[must_use]
    pub fn verdict(&self) -> Option<Verdict> {
        self.outcome.map(|outcome| outcome.verdict)
    }

    /// The stages that were asked for; none if all of it was checked.
    pub fn asked(&self) -> impl Iterator<Item = &str> {
        let only = self.outcome.is_none();
        let stages = self.stages.iter().filter(move |_| only);
        stages.map(|stage| &*stage.stage)
    }

    /// What all that was asked for came to: the whole, or the gravest of some stages, which is no
    /// verdict on the whole.
    #[must_use]
    pub fn gravest(&self) -> Outcome {
        gravest(self.outcome, &self.stages)
    }

    /// Where something to measure is written: `cables[K4].rated.current`.
    #[must_use]
    pub fn place_of(&self, next: &MeasureNext) -> Option<String> {
        Some(self.places.get(&next.fact)?.path(&next.subject))
    }
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

/// Readings that were given and that no figure of the library can use.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct UnusedReadings {
    /// The dotted names of the facts that were given.
    pub facts: Vec<String>,
    /// Whose they are, in the order of their names.
    pub subjects: Vec<Subject>,
    /// Why they cannot be used, and what would mend it.
    pub why: Cow<'static, str>,
}
