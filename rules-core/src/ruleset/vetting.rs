//! Rules with what vetting needs besides: their examples, and what they lack.

use super::given::case;
use super::merge::{self, Stack};
use super::model::Expectation;
use super::rules::{Caution, Rules};
use super::{Library, compile, vet, view};
use crate::document::{Problem, Problems};
use crate::facts::{Catalogue, Sheet};

/// Rulesets loaded to be vetted. Only the rulesets asked for are vetted: what these adjust, the examples of their bases need not fit.
#[derive(Debug, Clone)]
pub struct Vetting {
    rules: Rules,
    cases: Vec<CaseCode>,
    advice: Vec<Problem>,
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
    /// Where it stands, with the line for messages.
    pub problem: Problem,
}

impl Vetting {
    /// Loads rulesets as [`Rules::load`] does, and their examples.
    ///
    /// # Errors
    ///
    /// Every problem found, those of the examples included.
    pub fn load(names: &[&str], library: &dyn Library, catalogue: &Catalogue) -> Result<Self, Vec<Problem>> {
        let stack = merge::load(names, library)?;
        let view = view::view(&stack)?;
        let rules = compile::compile(&stack, &view, catalogue)?;
        let cases = cases(&stack, &rules)?;
        let advice = vet::advice(&rules, &stack, &view);
        Ok(Self { rules, cases, advice })
    }

    /// The rules.
    #[must_use]
    pub fn rules(&self) -> &Rules {
        &self.rules
    }

    /// The examples, in the order of their files, each with its caution.
    pub fn cases(&self) -> impl Iterator<Item = (&Caution, &CaseCode)> {
        self.cases.iter().filter_map(|case| Some((self.rules.cautions().get(case.caution)?, case)))
    }

    /// What the rulesets lack though they work.
    #[must_use]
    pub fn advice(&self) -> &[Problem] {
        &self.advice
    }
}

fn cases(stack: &Stack, rules: &Rules) -> Result<Vec<CaseCode>, Vec<Problem>> {
    let mut read = Vec::new();
    let mut problems = Vec::new();
    for layer in stack.asked.iter().filter_map(|at| stack.layers.get(*at)) {
        let mut found = Problems::new(&layer.source);
        for named in &layer.cautions {
            let caution = rules.cautions().iter().position(|caution| *caution.id == *named.name);
            let texts = named.body.cases.iter();
            read.extend(
                caution
                    .map(|at| texts.filter_map(|text| case(text, at, rules.catalogue(), &mut found)).collect::<Vec<_>>())
                    .unwrap_or_default(),
            );
        }
        problems.extend(found.finish());
    }
    if problems.is_empty() { Ok(read) } else { Err(problems) }
}
