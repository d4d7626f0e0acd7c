//! The cells to choose from.

use rules_core::document::ProblemList;
use serde_json::{Value, json};

use super::result::{InOtherLight, Unreadable};
use super::wish::Wish;
use crate::jobs::entries::{in_group, name_of};
use crate::jobs::trial::Trial;
use crate::proposal::{Draft, Sets, group_label, needs_labels};

/// The cells to choose from, each read once.
#[derive(Debug)]
pub(super) struct Offered {
    pub sets: Sets,
    /// How a plan takes each of them.
    entries: Vec<Value>,
    pub names: Vec<String>,
    /// The light of the plan, where it is one of a bench.
    pub light: Option<String>,
    pub elsewhere: Vec<InOtherLight>,
    pub unreadable: Vec<Unreadable>,
}

impl Offered {
    /// Those that a bench has, or those that the plan lists where it takes from none.
    pub(super) fn of(trial: &Trial<'_>, wish: &Wish) -> Result<Self, ProblemList> {
        let without = with_cells(trial, Vec::new())?.proposal()?;
        let mut offered = Self {
            sets: Sets::of(trial.rules(), &without)?,
            entries: Vec::new(),
            names: Vec::new(),
            light: light(trial.draft()),
            elsewhere: Vec::new(),
            unreadable: Vec::new(),
        };
        for entry in offered.entries_of(trial, wish) {
            offered.add(trial, entry);
        }
        Ok(offered)
    }

    fn entries_of(&mut self, trial: &Trial<'_>, wish: &Wish) -> Vec<Value> {
        let Some(bench) = trial.bench() else {
            let listed = trial.draft().value().get("cells").and_then(Value::as_array);
            return listed.cloned().unwrap_or_default();
        };
        let own = self.light.clone();
        let mut entries = Vec::new();
        for cell in bench.cells() {
            let other = bench
                .light_of(cell)
                .filter(|light| own.as_deref() != Some(*light));
            match other {
                Some(light) if !wish.from_other_lights => self.elsewhere.push(InOtherLight {
                    cell: cell.to_owned(),
                    light: light.to_owned(),
                }),
                _ => entries.push(json!(cell)),
            }
        }
        entries
    }

    /// Adds a cell; one that cannot be read is told.
    fn add(&mut self, trial: &Trial<'_>, entry: Value) {
        let name = name_of(&entry).unwrap_or_default().to_owned();
        let read = with_cells(trial, vec![entry.clone()])
            .and_then(|alone| self.sets.add(trial.rules(), &alone.proposal()?));
        match read {
            Ok(()) => {
                self.names.push(name);
                self.entries.push(entry);
            }
            Err(problems) => self.unreadable.push(Unreadable {
                cell: name,
                says: problems
                    .iter()
                    .map(|problem| problem.message.clone())
                    .collect(),
            }),
        }
    }

    /// The plan with the cells of a set.
    pub(super) fn plan<'r>(
        &self,
        trial: &Trial<'r>,
        groups: &[Vec<usize>],
    ) -> Result<Trial<'r>, ProblemList> {
        let labelled = needs_labels(self.sets.arrangement());
        let label = |at| labelled.then(|| group_label(at));
        let mut cells = Vec::new();
        for (at, group) in groups.iter().enumerate() {
            for entry in group.iter().filter_map(|cell| self.entries.get(*cell)) {
                cells.push(match label(at) {
                    Some(label) => in_group(entry, Some(&label)),
                    None => entry.clone(),
                });
            }
        }
        with_cells(trial, cells)
    }
}

fn with_cells<'r>(trial: &Trial<'r>, cells: Vec<Value>) -> Result<Trial<'r>, ProblemList> {
    trial.with(|draft| draft.set("cells", cells))
}

fn light(draft: &Draft) -> Option<String> {
    let light = draft.value().get("light")?;
    let named = light.get("of").unwrap_or(light);
    named.as_str().map(str::to_owned)
}
