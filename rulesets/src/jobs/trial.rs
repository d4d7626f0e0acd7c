//! A plan that is checked again and again, each time with something changed.

use std::sync::Arc;

use rules_core::check::{Brief, Options, Report, brief, check};
use rules_core::document::ProblemList;
use rules_core::ruleset::Rules;

use crate::bench::{Bench, Plan};
use crate::proposal::{Draft, Proposal};

/// A plan with the rules that it is checked by, and the bench that it takes from. It does not change;
/// [`Self::with`] gives another one.
#[derive(Debug, Clone)]
pub struct Trial<'r> {
    rules: &'r Rules,
    options: Options<'r>,
    bench: Option<Arc<Bench>>,
    draft: Draft,
}

impl<'r> Trial<'r> {
    /// Of a plan as it is written.
    ///
    /// # Errors
    ///
    /// A text that is no document. Other problems of the plan are told when it is checked.
    pub fn of(plan: &Plan, rules: &'r Rules, options: Options<'r>) -> Result<Self, ProblemList> {
        let mut draft = plan.draft()?;
        if plan.bench().is_some() {
            draft.remove("bench")?;
        }
        Ok(Self::beside(plan.bench(), draft, rules, options))
    }

    /// Of a plan that takes from a bench and does not name it, or that takes from none.
    #[must_use]
    pub fn beside(
        bench: Option<&Arc<Bench>>,
        draft: Draft,
        rules: &'r Rules,
        options: Options<'r>,
    ) -> Self {
        let bench = bench.map(Arc::clone);
        Self {
            rules,
            options,
            bench,
            draft,
        }
    }

    /// The rules that it is checked by.
    #[must_use]
    pub const fn rules(&self) -> &'r Rules {
        self.rules
    }

    /// What each check is asked for.
    #[must_use]
    pub const fn options(&self) -> Options<'r> {
        self.options
    }

    /// What is written in the plan, without the name of its bench.
    #[must_use]
    pub const fn draft(&self) -> &Draft {
        &self.draft
    }

    /// The bench that it takes from.
    #[must_use]
    pub const fn bench(&self) -> Option<&Arc<Bench>> {
        self.bench.as_ref()
    }

    /// The same with something changed in the plan.
    ///
    /// # Errors
    ///
    /// Those of the change.
    pub fn with(
        &self,
        change: impl FnOnce(&mut Draft) -> Result<(), ProblemList>,
    ) -> Result<Self, ProblemList> {
        let mut other = self.clone();
        change(&mut other.draft)?;
        Ok(other)
    }

    /// The proposal that results.
    ///
    /// # Errors
    ///
    /// Every problem found in it and in its bench, each with its place.
    pub fn proposal(&self) -> Result<Proposal, ProblemList> {
        match &self.bench {
            None => self.draft.proposal(self.rules),
            Some(bench) => Plan::of_draft_beside(&self.draft, bench)?.proposal(Some(self.rules)),
        }
    }

    /// Its verdicts, without reasons.
    ///
    /// # Errors
    ///
    /// Those of the proposal and of the check.
    pub fn brief(&self) -> Result<Brief, ProblemList> {
        brief(self.rules, &self.proposal()?, self.options)
    }

    /// Its report.
    ///
    /// # Errors
    ///
    /// Those of the proposal and of the check.
    pub fn report(&self) -> Result<Report, ProblemList> {
        check(self.rules, &self.proposal()?, self.options)
    }
}

#[cfg(test)]
mod tests {
    use rules_core::check::Verdict;
    use rules_core::document::Syntax;
    use rules_core::ruleset::Texts;

    use super::*;
    use crate::bench::Benches;
    use crate::shipped_rules;

    const BENCH: &str = "
format: 1
bench: Clubhouse of the night relay
lights: { torch: { bays: 1, draw: 2.8 W, arrangement: 1S1P } }
cells:
  - { id: K4, rest: { voltage: 1.87 V, after: 24 h } }
  - { id: K7, rest: { voltage: 3.71 V, after: 24 h } }
";

    fn verdicts(trial: &Trial<'_>) -> (Verdict, Verdict) {
        let outcome = trial.brief().unwrap().gravest();
        (outcome.best, outcome.verdict)
    }

    #[test]
    fn a_plan_is_tried_with_another_cell_of_its_bench() {
        let texts = Texts::of([("bench.yaml", BENCH)]);
        let plan = "{ format: 1, title: t, bench: ./bench.yaml, light: torch, cells: [K4] }";
        let mut benches = Benches::of(&texts);
        let plan = Plan::read("plan.yaml", plan.into(), Syntax::Yaml, &mut benches).unwrap();
        let rules = shipped_rules().unwrap();
        let trial = Trial::of(&plan, &rules, Options::default()).unwrap();
        // K4 was found deeply discharged: nothing that is still open could lift that.
        assert_eq!(verdicts(&trial), (Verdict::Refuse, Verdict::Refuse));
        let other = trial.with(|draft| draft.set("cells", vec!["K7"])).unwrap();
        assert_eq!(verdicts(&other), (Verdict::Pass, Verdict::Refuse));
        assert_eq!(verdicts(&trial), (Verdict::Refuse, Verdict::Refuse));
    }

    #[test]
    fn a_trial_says_what_a_check_of_the_plan_says() {
        let plan = "{ format: 1, title: t, arrangement: 1S1P, cells: [{ id: K4, wrap: torn }] }";
        let texts = Texts::of([("plan.yaml", plan)]);
        let mut benches = Benches::of(&texts);
        let plan = Plan::read("plan.yaml", plan.into(), Syntax::Yaml, &mut benches).unwrap();
        let rules = shipped_rules().unwrap();
        let options = Options::default();
        let proposal = plan.proposal(Some(&rules)).unwrap();
        let checked = check(&rules, &proposal, options).unwrap();
        let trial = Trial::of(&plan, &rules, options).unwrap();
        assert_eq!(trial.brief().unwrap(), checked.brief());
        assert_eq!(trial.report().unwrap().brief(), checked.brief());
    }
}
