//! Proposals with the benches that they name and the rules that they are checked by.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Deref;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rules_core::document::{Problem, ProblemList};
use rules_core::ruleset::{Library, Rules};
use rulesets::bench::{Benches, Plan};
use rulesets::catalogue;
use rulesets::proposal::{Draft, Proposal};

use crate::args::RulesOptions;
use crate::input::{self, PROPOSAL};
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

/// A proposal that was read, with the rules that it is checked by.
pub(crate) struct ReadPlan<'l> {
    pub(crate) plan: Plan,
    rules: InForce<'l>,
}

/// Rules that are used for one proposal or several.
enum InForce<'l> {
    Usual(&'l Rules),
    OfBench(Arc<Rules>),
}

impl Deref for InForce<'_> {
    type Target = Rules;

    fn deref(&self) -> &Rules {
        match self {
            Self::Usual(rules) => rules,
            Self::OfBench(rules) => rules,
        }
    }
}

impl ReadPlan<'_> {
    /// Answers it.
    pub(crate) fn answer<A>(
        &self,
        answer: impl Fn(&Asked<'_>) -> Result<A, ProblemList>,
    ) -> Result<A, ProblemList> {
        let proposal = self.plan.proposal(Some(&self.rules))?;
        answer(&Asked {
            rules: &self.rules,
            plan: &self.plan,
            proposal: &proposal,
        })
    }
}

/// So many cells that several proposals use are named; the rest is counted.
const MOST_SHARED: usize = 8;

/// Reads proposals one after the other; each bench, and each set of rules, once.
pub(crate) struct Plans<'l> {
    options: &'l RulesOptions,
    /// The rules where no bench has others in force.
    usual: &'l Rules,
    library: &'l dyn Library,
    benches: Benches<'l>,
    /// Rules that benches have in force, by the names of their rulesets.
    in_force: BTreeMap<Vec<String>, Arc<Rules>>,
    /// What was read before its turn and cannot be read again, by its path.
    read_ahead: BTreeMap<PathBuf, Result<Vec<u8>, Problem>>,
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
            read_ahead: BTreeMap::new(),
        }
    }

    /// The rules where no bench has others in force.
    pub(crate) const fn usual(&self) -> &'l Rules {
        self.usual
    }

    /// Reads proposals for the cells that they use, so that each can be told which others use them,
    /// wherever these stand. What is wrong with them is told when they are read in their turn.
    pub(crate) fn look_over<'p>(
        &mut self,
        paths: impl Iterator<Item = &'p Path>,
        terminal: &mut Terminal,
    ) {
        let paths: BTreeSet<&Path> = paths.collect();
        if paths.len() < 2 {
            return;
        }
        for path in paths {
            let bytes = input::read_bytes(path, PROPOSAL, terminal);
            if let Ok(bytes) = &bytes
                && input::may_name_bench(bytes)
            {
                drop(input::plan_of(path, bytes.clone(), &mut self.benches));
            }
            if !path.is_file() {
                self.read_ahead.insert(path.to_owned(), bytes);
            }
        }
        self.benches.all_were_read();
    }

    /// What to tell of the cells that several proposals use.
    pub(crate) fn shared_cells(&self) -> Option<String> {
        let all: Vec<_> = self.benches.shared_cells().collect();
        let named = all.iter().take(MOST_SHARED);
        let named = named.map(|(cell, proposals)| format!("{cell} ({proposals})"));
        let named = named.collect::<Vec<_>>().join("; ");
        match all.len().saturating_sub(MOST_SHARED) {
            _ if all.is_empty() => None,
            0 => Some(format!("In more than one proposal: {named}")),
            more => Some(format!(
                "In more than one proposal: {named}; and {more} more"
            )),
        }
    }

    /// Reads the proposal of a file, or of standard input.
    pub(crate) fn read(
        &mut self,
        path: &Path,
        terminal: &mut Terminal,
    ) -> Result<ReadPlan<'l>, ProblemList> {
        let bytes = match self.read_ahead.remove(path) {
            Some(bytes) => bytes,
            None => input::read_bytes(path, PROPOSAL, terminal),
        };
        let plan = input::plan_of(path, bytes?, &mut self.benches)?;
        self.with_rules(plan)
    }

    /// A proposal in the making.
    pub(crate) fn of_draft(&mut self, draft: &Draft) -> Result<ReadPlan<'l>, ProblemList> {
        let plan = Plan::of_draft(draft, &mut self.benches)?;
        self.with_rules(plan)
    }

    fn with_rules(&mut self, plan: Plan) -> Result<ReadPlan<'l>, ProblemList> {
        match self.rules_of(&plan) {
            Ok(rules) => Ok(ReadPlan { plan, rules }),
            Err(problems) => {
                let own = plan.proposal(None).err().unwrap_or_default();
                Err(problems.into_iter().chain(own).collect())
            }
        }
    }

    fn rules_of(&mut self, plan: &Plan) -> Result<InForce<'l>, ProblemList> {
        let names = plan.rules(&self.options.asked);
        if names == self.options.names() {
            return Ok(InForce::Usual(self.usual));
        }
        if let Some(rules) = self.in_force.get(&names) {
            return Ok(InForce::OfBench(Arc::clone(rules)));
        }
        let asked: Vec<&str> = names.iter().map(String::as_str).collect();
        let rules = Arc::new(Rules::load(&asked, self.library, &catalogue())?);
        self.in_force.insert(names, Arc::clone(&rules));
        Ok(InForce::OfBench(rules))
    }
}
