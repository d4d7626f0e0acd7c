//! What the rules say becomes of a cell that they refuse, and the stages that say it.

use std::collections::BTreeMap;

use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Refused, Rules};

/// By caution what becomes of a cell that it refuses.
#[derive(Debug)]
pub(super) struct RulesFor<'r> {
    refused: BTreeMap<&'r str, Refused>,
    /// The stages with cautions that retire a cell or set it aside.
    pub(super) sorting: Vec<&'r str>,
    /// The stages with cautions that keep it out of a light.
    pub(super) fitting: Vec<&'r str>,
}

impl<'r> RulesFor<'r> {
    /// What these rules say.
    ///
    /// # Errors
    ///
    /// Rules that retire nothing and set nothing aside: nothing can be sorted by them.
    pub(super) fn of(rules: &'r Rules) -> Result<Self, Problem> {
        let said =
            |caution: &'r rules_core::ruleset::Caution| Some((&*caution.id, caution.refused?));
        let refused: BTreeMap<_, _> = rules.cautions().iter().filter_map(said).collect();
        if refused.values().all(|refused| *refused == Refused::KeepOut) {
            return Err(nothing_said());
        }
        let stages = |wanted: &dyn Fn(Refused) -> bool| {
            let of_stage = |stage: &&'r str| {
                rules.cautions().iter().any(|caution| {
                    caution.refused.is_some_and(wanted)
                        && rules
                            .stage_of(caution)
                            .is_some_and(|own| &&*own.id == stage)
                })
            };
            let all = rules.stages().iter().map(|stage| &*stage.id);
            all.filter(of_stage).collect()
        };
        Ok(Self {
            refused,
            sorting: stages(&|refused| refused != Refused::KeepOut),
            fitting: stages(&|refused| refused == Refused::KeepOut),
        })
    }

    /// What becomes of a cell that a caution refuses, if the rules say it.
    pub(super) fn refused_by(&self, caution: &str) -> Option<Refused> {
        self.refused.get(caution).copied()
    }

    /// Whether they keep anything out of a light.
    pub(super) fn keep_out(&self) -> bool {
        self.refused
            .values()
            .any(|refused| *refused == Refused::KeepOut)
    }
}

fn nothing_said() -> Problem {
    let message = "nothing can be sorted by these rules: they do not say what becomes of a cell that \
                   they refuse";
    let help = "write `refused: retire` or `refused: set-aside` at a stage or a caution, or extend \
                `rescued-cells`";
    Problem::of_file(Fault::MissingKey, message, help)
}
