//! A generated ruleset, loaded, with a generated proposal for it.

use proptest::test_runner::TestCaseError;
use rules_core::check::Report;
use rules_core::ruleset::{Acceptance, Rules};

use super::choices::{Choices, broken};
use super::document::Style;
use super::meter::assumed;
use super::proposal::{Draft, Wish, draft};
use super::quantity::Care;
use super::ruleset::{Ruleset, ruleset};
use super::setting::{Outcomes, checked, rules, short};
use super::tune::tuned;
use super::vocabulary::FactAt;
use super::world::{Lean, world};

/// What scenes are to be like.
#[derive(Clone, Copy)]
pub(crate) struct Plan<'p> {
    /// Facts that formulas keep away from.
    pub(crate) shunned: &'p [FactAt],
    /// Whether limits are only where the stricter is harder to keep.
    pub(crate) directed: bool,
    /// Whether all that matters is given.
    pub(crate) complete: bool,
    pub(crate) care: Care,
}

impl Plan<'_> {
    pub(crate) const ANY: Plan<'static> = Plan {
        shunned: &[],
        directed: false,
        complete: false,
        care: Care::Any,
    };
}

/// A ruleset and a proposal.
pub(crate) struct Scene {
    pub(crate) ruleset: Ruleset,
    pub(crate) rules: Rules,
    pub(crate) draft: Draft,
}

impl Scene {
    pub(crate) fn grow(
        rules_words: &[u16],
        proposal_words: &[u16],
        plan: Plan<'_>,
    ) -> Result<Self, TestCaseError> {
        let mut choices = Choices::of(rules_words);
        let grown = ruleset(&mut choices, plan.shunned, plan.directed);
        let wish = Wish {
            likely: &grown.facts(),
            complete: plan.complete,
            care: plan.care,
        };
        let mut draft = draft(&mut Choices::of(proposal_words), &wish);
        let lean = *choices.pick(&[Lean::Low, Lean::High, Lean::Anywhere, Lean::Nominal]);
        let mut ruleset = tuned(
            &grown,
            &world(&draft, &grown, &mut choices, lean),
            &mut choices,
        );
        ruleset.meters = assumed(&mut choices, &draft.meters);
        draft.assumed = ruleset.meters.clone();
        let rules = rules(&ruleset.doc().write(Style::Yaml))?;
        Ok(Self {
            ruleset,
            rules,
            draft,
        })
    }

    pub(crate) fn report(
        &self,
        draft: &Draft,
        acceptance: Option<Acceptance>,
    ) -> Result<Report, TestCaseError> {
        checked(&self.rules, &draft.doc().write(Style::Yaml), acceptance).map_err(|error| {
            match error {
                TestCaseError::Fail(reason) => self.broken(reason.to_string(), draft, ""),
                reject => reject,
            }
        })
    }

    pub(crate) fn outcomes(
        &self,
        draft: &Draft,
        acceptance: Option<Acceptance>,
    ) -> Result<Outcomes, TestCaseError> {
        Ok(Outcomes::of(&self.report(draft, acceptance)?))
    }

    pub(crate) fn broken(&self, what: impl AsRef<str>, draft: &Draft, more: &str) -> TestCaseError {
        let (rules, proposal) = (
            self.ruleset.doc().write(Style::Yaml),
            draft.doc().write(Style::Yaml),
        );
        broken(
            what,
            &[
                ("rules", &short(&rules)),
                ("proposal", &proposal),
                ("more", more),
            ],
        )
    }
}
