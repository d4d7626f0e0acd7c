//! Checks of a plan with changes, counted.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::{Change, Turn, Verdict};
use rules_core::document::ProblemList;
use rules_core::facts::FactId;
use serde_json::{Map, Value};

use super::aim::Aim;
use crate::jobs::Trial;
use crate::jobs::reads::Reads;
use crate::proposal::Draft;

/// A change of a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Edit {
    /// What is taken from the bench by its name is another.
    Taken {
        place: String,
        is: String,
        to: String,
    },
    /// A value is written in place of another.
    Set {
        place: String,
        is: String,
        to: String,
    },
    /// A value is left out, which is that of these facts.
    LeftOpen { place: String, facts: Vec<FactId> },
    /// A cell of the bench takes the place of another.
    Instead { out: String, by: String },
}

/// What a plan came to with changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Came {
    pub verdict: Verdict,
    pub best: Verdict,
    /// The cautions that still refuse.
    pub left: BTreeSet<Arc<str>>,
    /// Whether it is what a change is to reach.
    pub is_met: bool,
}

/// Changes, and what the plan came to with them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Tried {
    pub edits: Vec<Edit>,
    pub came: Came,
}

impl Tried {
    /// As it is reported.
    pub(super) fn turn(&self, aim: &Aim) -> Turn {
        Turn {
            changes: self.edits.iter().filter_map(Edit::change).collect(),
            verdict: self.came.verdict,
            best: self.came.best,
            lifts: aim.against().saturating_sub(self.came.left.len()),
        }
    }
}

/// The checks that are made, within a bound.
pub(super) struct Tries<'t, 'r> {
    trial: &'t Trial<'r>,
    /// The same, written out.
    plain: Trial<'r>,
    aim: &'t Aim,
    reads: &'t Reads,
    made: usize,
    most: usize,
}

impl<'t, 'r> Tries<'t, 'r> {
    /// None of a plan that is no document.
    pub(super) fn of(
        trial: &'t Trial<'r>,
        (aim, reads): (&'t Aim, &'t Reads),
        most: usize,
    ) -> Option<Self> {
        Some(Self {
            trial,
            plain: trial.plain().ok()?,
            aim,
            reads,
            made: 0,
            most,
        })
    }

    /// What a change is to reach.
    pub(super) const fn aim(&self) -> &'t Aim {
        self.aim
    }

    /// How many checks were made.
    pub(super) const fn made(&self) -> usize {
        self.made
    }

    /// Whether no more may be made.
    pub(super) const fn are_used_up(&self) -> bool {
        self.made >= self.most
    }

    /// What the plan comes to with changes. Nothing where the bound is reached, or where the plan with
    /// them is in error.
    pub(super) fn with(&mut self, edits: &[Edit]) -> Option<Came> {
        if self.are_used_up() {
            return None;
        }
        self.made += 1;
        let brief = self.changed(edits).ok()?.brief().ok()?;
        let came = brief.gravest();
        let mut left = self.aim.left(&brief);
        left.retain(|caution| !self.asks_for_open(caution, edits));
        Some(Came {
            verdict: came.verdict,
            best: came.best,
            is_met: left.is_empty(),
            left,
        })
    }

    /// The plan with changes: those of what it takes from its bench, then those of what it is, written
    /// out.
    fn changed(&self, edits: &[Edit]) -> Result<Trial<'r>, ProblemList> {
        let (taken, own): (Vec<&Edit>, Vec<&Edit>) =
            edits.iter().partition(|edit| edit.is_of_bench());
        let make = |edits: Vec<&Edit>, draft: &mut Draft| {
            edits.into_iter().try_for_each(|edit| edit.make(draft))
        };
        let plain = match taken.is_empty() {
            true => self.plain.clone(),
            false => self.trial.with(|draft| make(taken, draft))?.plain()?,
        };
        plain.with(|draft| make(own, draft))
    }

    /// Whether a caution asks if something is known that is left open. Left open, it stands for every
    /// value but in that.
    fn asks_for_open(&self, caution: &Arc<str>, edits: &[Edit]) -> bool {
        let mut open = edits.iter().flat_map(|edit| match edit {
            Edit::LeftOpen { facts, .. } => facts.as_slice(),
            _ => &[],
        });
        open.any(|fact| self.reads.asks_for(caution, *fact))
    }

    /// The same, with the changes.
    pub(super) fn tried(&mut self, edits: Vec<Edit>) -> Option<Tried> {
        let came = self.with(&edits)?;
        Some(Tried { edits, came })
    }
}

impl Edit {
    const fn is_of_bench(&self) -> bool {
        matches!(self, Self::Taken { .. } | Self::Instead { .. })
    }

    fn make(&self, draft: &mut Draft) -> Result<(), ProblemList> {
        match self {
            Self::Set { place, to, .. } | Self::Taken { place, to, .. } => {
                draft.set(place, to.as_str())
            }
            Self::LeftOpen { place, .. } => draft.remove(place).map(drop),
            Self::Instead { out, by } => {
                let cells = draft.value().get(CELLS).and_then(Value::as_array);
                let cells = cells.into_iter().flatten();
                let cells: Vec<Value> = cells.map(|entry| replaced(entry, out, by)).collect();
                draft.set(CELLS, cells)
            }
        }
    }

    /// As it is reported; what is left open is none.
    fn change(&self) -> Option<Change> {
        match self {
            Self::Set { place, is, to } | Self::Taken { place, is, to } => Some(Change {
                place: place.clone(),
                is: is.clone(),
                to: vec![to.clone()],
            }),
            Self::Instead { out, by } => Some(Change {
                place: CELLS.to_owned(),
                is: out.clone(),
                to: vec![by.clone()],
            }),
            Self::LeftOpen { .. } => None,
        }
    }
}

/// The list of a proposal's cells.
pub(super) const CELLS: &str = "cells";
/// The keys of an entry that takes a cell from a bench: which, and the group that it is put into.
const OF: &str = "of";
const GROUP: &str = "group";

/// The name of the bench's cell that an entry takes.
pub(super) fn of_bench(entry: &Value) -> Option<&str> {
    entry.get(OF).unwrap_or(entry).as_str()
}

/// An entry, or one that takes another cell into the same group.
fn replaced(entry: &Value, out: &str, by: &str) -> Value {
    if of_bench(entry) != Some(out) {
        return entry.clone();
    }
    match entry.get(GROUP) {
        None => Value::from(by),
        Some(group) => {
            let fields = [(OF, Value::from(by)), (GROUP, group.clone())];
            let fields = fields
                .into_iter()
                .map(|(key, value)| (key.to_owned(), value));
            Value::Object(fields.collect::<Map<_, _>>())
        }
    }
}
