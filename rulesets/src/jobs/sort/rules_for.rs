//! What becomes of a cell that the rules refuse, and the stages that are checked to find out.
//!
//! The rules say it under `refused`. Of a caution about each cell that says nothing, nor does its
//! stage, it follows from what the caution looks at:
//!
//! ```text
//! the cell and its pack alone --- set aside: it is refused wherever it goes
//! a light as well --------------- kept out of that light
//! the charger, place or use ----- nothing: a check of the plan says it
//! ```

use std::collections::{BTreeMap, BTreeSet};

use rules_core::document::{Fault, Problem};
use rules_core::facts::SubjectId;
use rules_core::ruleset::{Caution, Refused, Rules};

use super::scope::Scope;

/// What a caution comes to for a cell.
#[derive(Debug, Clone, Copy)]
struct Becomes {
    refused: Refused,
    /// Whether what it says depends on the light that the cell is tried in.
    in_light: bool,
}

/// By caution what becomes of a cell that it refuses.
#[derive(Debug)]
pub(super) struct RulesFor<'r> {
    becomes: BTreeMap<&'r str, Becomes>,
    /// The stages with cautions that retire a cell or set it aside.
    pub(super) sorting: Vec<&'r str>,
    /// The stages with cautions that look at the light that it is tried in.
    pub(super) fitting: Vec<&'r str>,
}

impl<'r> RulesFor<'r> {
    /// What these rules say.
    ///
    /// # Errors
    ///
    /// Rules that say nowhere what is retired or set aside: they were not made to sort by, or lack
    /// those that were.
    pub(super) fn of(rules: &'r Rules) -> Result<Self, Problem> {
        let mut said = rules.cautions().iter().filter_map(|one| one.refused);
        if said.all(|refused| refused == Refused::KeepOut) {
            return Err(nothing_said());
        }
        let cell = rules.catalogue().subject_named("cell");
        let becomes = |caution: &'r Caution| {
            let becomes = Becomes::of(caution, cell, rules)?;
            Some((&*caution.id, becomes))
        };
        let becomes: BTreeMap<_, _> = rules.cautions().iter().filter_map(becomes).collect();
        let sets_aside = |id: &str| {
            let one = becomes.get(id);
            one.is_some_and(|one| one.refused != Refused::KeepOut)
        };
        let is_of_a_light = |id: &str| becomes.get(id).is_some_and(|one| one.in_light);
        Ok(Self {
            sorting: stages_of(rules, sets_aside),
            fitting: stages_of(rules, is_of_a_light),
            becomes,
        })
    }

    /// What becomes of a cell that a caution refuses, if that can be said before a plan is made.
    pub(super) fn refused_by(&self, caution: &str) -> Option<Refused> {
        self.becomes.get(caution).map(|one| one.refused)
    }

    /// Whether they keep anything out of a light.
    pub(super) fn keep_out(&self) -> bool {
        self.becomes.values().any(|one| one.in_light)
    }
}

impl Becomes {
    fn of(caution: &Caution, cell: Option<SubjectId>, rules: &Rules) -> Option<Self> {
        let is_of_a_cell = Some(caution.about) == cell;
        let refused = match caution.refused {
            Some(said @ (Refused::Retire | Refused::SetAside)) => said,
            other if is_of_a_cell => of_each_cell(caution, rules).or(other)?,
            other => other?,
        };
        let looks_at_a_light = is_of_a_cell && Scope::looks_at_a_light(caution, rules);
        Some(Self {
            refused,
            in_light: refused == Refused::KeepOut || looks_at_a_light,
        })
    }
}

/// A cell that is kept out for what it is itself is kept out of every light: it is set aside.
fn of_each_cell(caution: &Caution, rules: &Rules) -> Option<Refused> {
    match Scope::least_of(caution, rules) {
        Scope::Cell => Some(Refused::SetAside),
        Scope::Light => Some(Refused::KeepOut),
        Scope::Plan => None,
    }
}

/// The stages of some cautions, in their order.
fn stages_of(rules: &Rules, is_wanted: impl Fn(&str) -> bool) -> Vec<&str> {
    let wanted = rules.cautions().iter().filter(|one| is_wanted(&one.id));
    let with: BTreeSet<usize> = wanted.filter_map(|one| Some(one.stage?.0)).collect();
    let stages = with.into_iter().filter_map(|at| rules.stages().get(at));
    stages.map(|stage| &*stage.id).collect()
}

fn nothing_said() -> Problem {
    let message = "nothing can be sorted by these rules: they do not say what becomes of a cell that \
                   they refuse";
    let help = "write `refused: retire` or `refused: set-aside` at a stage or a caution, or extend \
                `rescued-cells`";
    Problem::of_file(Fault::MissingKey, message, help)
}
