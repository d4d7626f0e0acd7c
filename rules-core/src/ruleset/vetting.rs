//! Rules with what vetting needs besides: their examples, and what they lack.

use std::sync::Arc;

use super::compile::Draft;
use super::given::case;
use super::layer::{CautionText, Named};
use super::ledger::Ledger;
use super::merge::{self, Purpose, Stack};
use super::model::{Expectation, LoadedRuleset};
use super::reserved::Reserved;
use super::rules::{Caution, Rules};
use super::view::View;
use super::{Library, compile, vet, view};
use crate::document::{Found, Problem, Problems, Source, Span};
use crate::facts::{Catalogue, Sheet};

/// Rulesets loaded to be vetted. Only the rulesets asked for are vetted: what these adjust, the
/// examples of their bases need not fit.
#[derive(Debug, Clone)]
pub struct Vetting {
    rules: Rules,
    cases: Vec<CaseCode>,
    files: Vec<Vetted>,
    own_cautions: usize,
}

/// A file asked for, and what it lacks though it works.
#[derive(Debug, Clone)]
pub(super) struct Vetted {
    pub source: Arc<Source>,
    pub advice: Found,
}

/// An example, ready to be run.
#[derive(Debug, Clone)]
pub struct CaseCode {
    /// The position of its caution among those of the rules.
    pub caution: usize,
    /// The facts given.
    pub sheet: Sheet,
    /// The outcome expected.
    pub expect: Expectation,
    /// Whether the finding must be in doubt.
    pub doubt: bool,
    /// The missing facts that must leave it undecided.
    pub unmeasured: Vec<String>,
    /// The position of its file among those that are vetted.
    pub file: usize,
    /// Where it stands in it.
    pub span: Span,
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
    ) -> Result<Self, Vec<Problem>> {
        let (stack, findings) = merge::load(
            names,
            library,
            Reserved(catalogue.shipped()),
            Purpose::Vetting,
        )?;
        let mut ledger = findings.of(&stack);
        let view = view::view(&stack, &mut ledger);
        let draft = compile::compile(&stack, &view, catalogue, &mut ledger);
        let cases = draft
            .as_ref()
            .map(|draft| cases(&stack, &view, draft, &mut ledger))
            .unwrap_or_default();
        let rules = ledger.settle(draft)?.rules(&stack, &view);
        let files = vet::advice(&rules, &stack, &view);
        Ok(Self {
            rules,
            cases,
            files,
            own_cautions: own_cautions(&stack, &view),
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

    /// The text that a case stands in.
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

/// The cases of the cautions that are not dropped.
fn cases(stack: &Stack, view: &View, draft: &Draft, ledger: &mut Ledger<'_>) -> Vec<CaseCode> {
    let vocabulary = draft.names.vocabulary(&draft.catalogue);
    let known = (&vocabulary, &draft.relations);
    let mut read = Vec::new();
    for (file, at) in stack.asked.iter().enumerate() {
        let (Some(layer), Some(problems)) = (stack.layers.get(*at), ledger.layers.get_mut(*at))
        else {
            continue;
        };
        let kept = |caution: &&Named<CautionText>| {
            view.cautions
                .get(&caution.name)
                .is_none_or(|seen| seen.dropped.is_empty())
        };
        for named in layer.cautions.iter().filter(kept) {
            // One that is at fault has no position; its cases are looked at for problems alone.
            let position = draft
                .cautions
                .iter()
                .position(|caution| *caution.id == *named.name)
                .unwrap_or_default();
            read.extend(
                named
                    .body
                    .cases
                    .iter()
                    .filter_map(|text| case(text, position, file, known, problems)),
            );
        }
    }
    read
}
