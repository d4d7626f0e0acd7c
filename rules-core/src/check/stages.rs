//! The stages of a check: which are asked for, and what each comes to.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::judge::Judgement;
use super::verdict::Verdict;
use crate::document::{Fault, Problem, ProblemList, near_miss, quoted};
use crate::formula::Truth;
use crate::ruleset::{Caution, Rules, Stage, StageId};

/// The verdict of a check, and what else it could be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Outcome {
    /// The verdict: the highest of the findings.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest verdict that what is known allows.
    pub worst: Verdict,
    /// True if no caution surely applied to anything, so that nothing was surely checked.
    pub nothing_checked: bool,
}

/// What a check came to in one stage.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct StageOutcome {
    /// The name of the stage.
    pub stage: Arc<str>,
    /// What it is, on one line.
    pub title: Arc<str>,
    /// The verdict: the highest of the findings of this stage, and of those that are of every stage.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest verdict that what is known allows.
    pub worst: Verdict,
    /// True if no caution of this very stage surely applied to anything and nothing was found, so that
    /// nothing of it was surely checked.
    pub nothing_checked: bool,
}

impl StageOutcome {
    fn of(stage: &Stage, outcome: Outcome) -> Self {
        Self {
            stage: Arc::clone(&stage.id),
            title: Arc::clone(&stage.title),
            verdict: outcome.verdict,
            best: outcome.best,
            worst: outcome.worst,
            nothing_checked: outcome.nothing_checked,
        }
    }

    /// The same without the stage.
    #[must_use]
    pub const fn outcome(&self) -> Outcome {
        Outcome {
            verdict: self.verdict,
            best: self.best,
            worst: self.worst,
            nothing_checked: self.nothing_checked,
        }
    }
}

/// The stages that a check is asked for.
#[derive(Debug)]
pub(super) enum Asked {
    /// All of the proposal is checked.
    All,
    /// Only these.
    Only(Vec<StageId>),
}

impl Asked {
    /// The stages of these names; all of them, if there are none.
    pub(super) fn of(rules: &Rules, names: &[&str]) -> Result<Self, ProblemList> {
        if names.is_empty() {
            return Ok(Self::All);
        }
        let (mut only, mut problems) = (Vec::new(), Vec::new());
        for name in names {
            match rules.stages().iter().position(|stage| *stage.id == **name) {
                Some(at) => only.push(StageId(at)),
                None => problems.push(unknown(name, rules)),
            }
        }
        if problems.is_empty() {
            Ok(Self::Only(only))
        } else {
            Err(problems.into())
        }
    }

    fn holds(&self, stage: StageId) -> bool {
        match self {
            Self::All => true,
            Self::Only(stages) => stages.contains(&stage),
        }
    }

    /// Whether a caution is asked for. One that is of every stage always is.
    pub(super) fn holds_caution(&self, caution: &Caution) -> bool {
        caution.stage.is_none_or(|stage| self.holds(stage))
    }
}

fn unknown(name: &str, rules: &Rules) -> Problem {
    let known: Vec<&str> = rules.stages().iter().map(|stage| &*stage.id).collect();
    let help = match near_miss(name, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => "these rules have no stages: ask for all".to_owned(),
        None => format!("the stages are {}", quoted(&known)),
    };
    let message = format!("there is no stage `{name}`");
    Problem::of_file(Fault::UnknownName, message, help)
}

/// What is wrong with stages that a check is to be asked for, before there is anything to check.
///
/// # Errors
///
/// A name that is none of a stage of these rules.
pub fn know_stages(rules: &Rules, names: &[&str]) -> Result<(), ProblemList> {
    Asked::of(rules, names).map(drop)
}

/// What some of the cautions came to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    /// Whether any caution applied for sure. A caution that may not apply proves nothing if it does
    /// not object.
    surely_applied: bool,
    could_apply: bool,
    objected: bool,
    /// The highest of the findings.
    verdict: Verdict,
    best: Verdict,
    worst: Verdict,
}

impl Default for Part {
    fn default() -> Self {
        Self {
            surely_applied: false,
            could_apply: false,
            objected: false,
            verdict: Verdict::Pass,
            best: Verdict::Pass,
            worst: Verdict::Pass,
        }
    }
}

impl Part {
    /// Adds what a caution came to for one of its subject.
    pub(super) fn add(&mut self, judged: &Judgement) {
        self.surely_applied |= judged.applies == Truth::Yes;
        self.could_apply |= judged.applies != Truth::No;
        self.objected |= judged.verdict != Verdict::Pass;
        self.verdict = self.verdict.max(judged.verdict);
        self.best = self.best.max(judged.best);
        self.worst = self.worst.max(judged.worst);
    }

    /// The gravest of all; at least a warning if nothing was surely checked.
    pub(super) fn outcome(&self) -> Outcome {
        let nothing_checked = !self.surely_applied && !self.objected;
        let (lowest, best) = match (nothing_checked, self.could_apply) {
            (false, _) => (Verdict::Pass, Verdict::Pass),
            (true, false) => (Verdict::Warn, Verdict::Warn),
            (true, true) => (Verdict::Warn, Verdict::Pass),
        };
        Outcome {
            verdict: self.verdict.max(lowest),
            best: self.best.max(best),
            worst: self.worst.max(lowest),
            nothing_checked,
        }
    }

    /// A stage with the findings of cautions that are of every stage. That these apply checks nothing
    /// of it.
    fn with(self, of_every: &Self) -> Self {
        Self {
            objected: self.objected || of_every.objected,
            verdict: self.verdict.max(of_every.verdict),
            best: self.best.max(of_every.best),
            worst: self.worst.max(of_every.worst),
            ..self
        }
    }
}

/// What the cautions of each stage came to, and those that are of every stage.
#[derive(Debug, Default)]
pub(super) struct Parts {
    all: Part,
    of_every: Part,
    stages: Vec<Part>,
}

impl Parts {
    pub(super) fn of(rules: &Rules) -> Self {
        Self {
            stages: vec![Part::default(); rules.stages().len()],
            ..Self::default()
        }
    }

    pub(super) fn add(&mut self, caution: &Caution, judged: &Judgement) {
        self.all.add(judged);
        let part = match caution.stage {
            None => Some(&mut self.of_every),
            Some(stage) => self.stages.get_mut(stage.0),
        };
        if let Some(part) = part {
            part.add(judged);
        }
    }

    /// The outcome of the whole, if that is asked for.
    pub(super) fn whole(&self, asked: &Asked) -> Option<Outcome> {
        matches!(asked, Asked::All).then(|| self.all.outcome())
    }

    /// The outcomes of the stages that are asked for, in order.
    pub(super) fn stages(&self, rules: &Rules, asked: &Asked) -> Vec<StageOutcome> {
        let parts = rules.stages().iter().zip(&self.stages).enumerate();
        parts
            .filter(|(at, _)| asked.holds(StageId(*at)))
            .map(|(_, (stage, part))| StageOutcome::of(stage, part.with(&self.of_every).outcome()))
            .collect()
    }
}

/// The outcome of the whole, or else of the stages together: their gravest.
pub(super) fn gravest(whole: Option<Outcome>, stages: &[StageOutcome]) -> Outcome {
    let together = || {
        stages
            .iter()
            .map(StageOutcome::outcome)
            .reduce(|one, other| Outcome {
                verdict: one.verdict.max(other.verdict),
                best: one.best.max(other.best),
                worst: one.worst.max(other.worst),
                nothing_checked: one.nothing_checked && other.nothing_checked,
            })
            .unwrap_or_else(|| Part::default().outcome())
    };
    whole.unwrap_or_else(together)
}
