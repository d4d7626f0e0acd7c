//! Rules with what vetting needs as well: their cases, and what they lack.

use super::advice::{Advised, advice};
use super::case::{CaseCode, cases};
use crate::document::{ProblemList, Problems, Source};
use crate::facts::Catalogue;
use crate::ruleset::{Caution, Library, LoadedRuleset, Parts, Purpose, Rules, Stack, View, load};

/// Rulesets loaded to be vetted. Only the rulesets asked for are vetted: what these adjust, the
/// examples of their bases need not fit.
#[derive(Debug, Clone)]
pub struct Vetting {
    rules: Rules,
    cases: Vec<CaseCode>,
    files: Vec<Advised>,
    own_cautions: usize,
}

impl Vetting {
    /// Loads rulesets as [`Rules::load`] does, and their examples. An edited copy of a shipped
    /// ruleset may keep its name: so changes are proposed.
    ///
    /// # Errors
    ///
    /// Every problem found, those of the examples included.
    pub fn load(
        names: &[&str],
        library: &dyn Library,
        catalogue: &Catalogue,
    ) -> Result<Self, ProblemList> {
        let loaded = load(names, library, catalogue, Purpose::Vetting, cases)?;
        let rules = loaded.rules;
        let Parts { stack, view } = rules.made_of().parts();
        let (files, own_cautions) = (advice(&rules, stack, view), own_cautions(stack, view));
        Ok(Self {
            rules,
            cases: loaded.besides,
            files,
            own_cautions,
        })
    }

    /// The rules.
    #[must_use]
    pub fn rules(&self) -> &Rules {
        &self.rules
    }

    /// The examples, in the order of their files, each with its caution.
    pub fn cases(&self) -> impl Iterator<Item = (&Caution, &CaseCode)> {
        self.cases
            .iter()
            .filter_map(|case| Some((self.rules.cautions().get(case.caution)?, case)))
    }

    /// How many cautions in force the rulesets define themselves.
    #[must_use]
    pub const fn own_cautions(&self) -> usize {
        self.own_cautions
    }

    /// The rulesets that have the name of a shipped one and are not it.
    pub fn edited_copies(&self) -> impl Iterator<Item = &LoadedRuleset> {
        self.rules
            .layers()
            .iter()
            .filter(|loaded| loaded.is_edited_copy)
    }

    /// What each file lacks though it works, to be added to: the bound on problems is of the file.
    #[must_use]
    pub fn advice(&self) -> Vec<Problems<'_>> {
        self.files
            .iter()
            .map(|file| Problems::resumed(&file.source, file.advice.clone()))
            .collect()
    }

    /// What is worth a look in each file, and no fault.
    pub(super) fn worth_a_look(&self) -> impl Iterator<Item = Problems<'_>> {
        self.files
            .iter()
            .map(|file| Problems::resumed(&file.source, file.worth_a_look.clone()))
    }

    /// The text that contains a case.
    #[must_use]
    pub fn source_of(&self, case: &CaseCode) -> Option<&Source> {
        self.files.get(case.file).map(|file| &*file.source)
    }
}

/// The cautions that those asked for define, and nobody drops.
fn own_cautions(stack: &Stack, view: &View) -> usize {
    view.cautions
        .values()
        .filter(|seen| seen.dropped.is_empty() && stack.asked.contains(&seen.layer))
        .count()
}
