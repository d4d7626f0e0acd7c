//! Proposals with the benches that they name and the rules that they are checked by.

use std::collections::BTreeMap;
use std::path::Path;

use rules_core::document::ProblemList;
use rules_core::ruleset::{Library, Rules};
use rulesets::bench::{Benches, Plan};
use rulesets::catalogue;
use rulesets::proposal::{Draft, Proposal};

use crate::args::RulesOptions;
use crate::input;
use crate::terminal::Terminal;

/// A proposal that can be answered.
pub(crate) struct Asked<'a> {
    /// The rules that it is checked by.
    pub(crate) rules: &'a Rules,
    /// As it is written.
    pub(crate) plan: &'a Plan,
    /// With what it takes from its bench.
    pub(crate) proposal: &'a Proposal,
}

/// Reads proposals one after the other; each bench, and each set of rules, once.
pub(crate) struct Plans<'l> {
    options: &'l RulesOptions,
    /// The rules where no bench has others in force.
    usual: &'l Rules,
    library: &'l dyn Library,
    benches: Benches<'l>,
    /// Rules that benches have in force, by the names of their rulesets.
    in_force: BTreeMap<Vec<String>, Rules>,
}

impl<'l> Plans<'l> {
    pub(crate) fn new(
        options: &'l RulesOptions,
        usual: &'l Rules,
        library: &'l dyn Library,
    ) -> Self {
        Self {
            options,
            usual,
            library,
            benches: Benches::of(library),
            in_force: BTreeMap::new(),
        }
    }

    /// Answers the proposal of a file, or of standard input.
    pub(crate) fn answer<A>(
        &mut self,
        path: &Path,
        terminal: &mut Terminal,
        answer: impl Fn(&Asked<'_>) -> Result<A, ProblemList>,
    ) -> Result<A, ProblemList> {
        let plan = self.read(path, terminal)?;
        self.answer_plan(&plan, answer)
    }

    /// Reads the proposal of a file, or of standard input.
    pub(crate) fn read(
        &mut self,
        path: &Path,
        terminal: &mut Terminal,
    ) -> Result<Plan, ProblemList> {
        input::read_plan(path, &mut self.benches, terminal)
    }

    /// A proposal in the making.
    pub(crate) fn of_draft(&mut self, draft: &Draft) -> Result<Plan, ProblemList> {
        Plan::of_draft(draft, &mut self.benches)
    }

    /// Answers a proposal.
    pub(crate) fn answer_plan<A>(
        &mut self,
        plan: &Plan,
        answer: impl Fn(&Asked<'_>) -> Result<A, ProblemList>,
    ) -> Result<A, ProblemList> {
        let rules = match self.rules_of(plan) {
            Ok(rules) => rules,
            Err(problems) => {
                let own = plan.proposal(None).err().unwrap_or_default();
                return Err(problems.into_iter().chain(own).collect());
            }
        };
        let proposal = plan.proposal(Some(rules))?;
        answer(&Asked {
            rules,
            plan,
            proposal: &proposal,
        })
    }

    fn rules_of(&mut self, plan: &Plan) -> Result<&Rules, ProblemList> {
        let names = plan.rules(&self.options.asked);
        if names == self.options.names() {
            return Ok(self.usual);
        }
        if !self.in_force.contains_key(&names) {
            let asked: Vec<&str> = names.iter().map(String::as_str).collect();
            let rules = Rules::load(&asked, self.library, &catalogue())?;
            self.in_force.insert(names.clone(), rules);
        }
        Ok(self.in_force.get(&names).unwrap_or(self.usual))
    }
}
