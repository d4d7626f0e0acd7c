//! Checks of whole sets, those with the best outlook first, until no other can be better.

use std::collections::BTreeSet;

use rules_core::check::{Outcome, Scales, Verdict, Weighed};
use rules_core::document::ProblemList;
use rules_core::ruleset::Rules;

use super::counting::ways;
use super::effort::Effort;
use super::fillers::Fillers;
use super::offered::Offered;
use super::outlook::Outlook;
use super::search::{Found, Search};
use super::standing::{Mark, Standing};
use super::wish::Wish;

/// A set that was checked whole.
#[derive(Debug, Clone)]
pub(super) struct CheckedSet {
    pub standing: Standing,
    /// Its cells by name, in order: of two that stand alike the first counts.
    pub names: Vec<Vec<String>>,
    pub groups: Vec<Vec<usize>>,
    pub outcome: Outcome,
    pub each: Vec<Weighed>,
}

/// What was checked, and what is known of the rest.
#[derive(Debug)]
pub(super) struct Checked {
    /// The best sets, the best first.
    pub best: Vec<CheckedSet>,
    /// How many sets there are.
    pub sets: u64,
    /// How many were checked whole.
    pub whole: u64,
    /// How many may be as good as those told, and were not checked.
    pub unsearched: u64,
    /// How many checks of parts were made.
    pub parts: usize,
    /// What refuses whatever the cells.
    pub any: Vec<Weighed>,
    /// What comes of any set with each cell.
    pub alone: Vec<Vec<Weighed>>,
}

/// So many sets are kept by the first search, and so many times more by each further one.
const FIRST_KEPT: usize = 64;
const MORE_KEPT: usize = 4;
const MOST_KEPT: usize = 65_536;

/// One of so many parts of the work is for the first search, which finds sets to hold others against,
/// and one for counting what is left.
const PARTS: usize = 8;

struct Checking<'c> {
    scales: &'c Scales<'c>,
    offered: &'c Offered,
    wish: &'c Wish,
    outlook: Outlook<'c>,
    order: Vec<usize>,
    fillers: Fillers,
    best: Vec<CheckedSet>,
    seen: BTreeSet<Vec<Vec<usize>>>,
    /// One of the parts of the work.
    a_part: Effort,
}

impl Checked {
    /// Searches and checks.
    pub(super) fn of(
        rules: &Rules,
        scales: &Scales<'_>,
        offered: &Offered,
        wish: &Wish,
    ) -> Result<Self, ProblemList> {
        let effort = Effort::of_checks(wish.most_checks);
        let outlook = Outlook::of(rules, scales, &offered.sets, effort)?;
        let mut order: Vec<usize> = (0..offered.sets.count()).collect();
        order.sort_by(|a, b| {
            let key = |cell: &usize| (outlook.cell(*cell), offered.names.get(*cell));
            key(a).cmp(&key(b))
        });
        let alone: Vec<Vec<Mark>> = order
            .iter()
            .filter_map(|cell| outlook.marks_alone.get(*cell).cloned())
            .collect();
        let fillers = Fillers::of(&alone, offered.sets.arrangement().cells());
        let mut checking = Checking {
            scales,
            offered,
            wish,
            outlook,
            order,
            fillers,
            best: Vec::new(),
            seen: BTreeSet::new(),
            a_part: effort.one_of(PARTS),
        };
        let proved = checking.run()?;
        checking.told(proved)
    }
}

impl Checking<'_> {
    fn run(&mut self) -> Result<bool, ProblemList> {
        let mut keep = FIRST_KEPT;
        let mut kept_back = self.outlook.effort.less(self.a_part);
        loop {
            let found = self.search(keep, kept_back)?;
            let stopped = self.check(&found)?;
            let all_met = found.complete && (stopped || !found.dropped);
            if all_met || self.is_spent() || keep >= MOST_KEPT {
                return Ok(all_met);
            }
            keep = keep.saturating_mul(MORE_KEPT);
            kept_back = self.a_part;
        }
    }

    /// Whether nothing is left but what is kept back for counting.
    const fn is_spent(&self) -> bool {
        self.outlook.effort.is_spent(self.a_part)
    }

    fn search(&mut self, keep: usize, kept_back: Effort) -> Result<Found, ProblemList> {
        let at_least = self.at_least();
        Search {
            arrangement: self.offered.sets.arrangement(),
            order: &self.order,
            fillers: &self.fillers,
            outlook: &mut self.outlook,
            keep,
            at_least,
            kept_back,
            found: Found::default(),
        }
        .run()
    }

    /// What a set must not be worse than to be told.
    fn at_least(&self) -> Option<Standing> {
        let last = self.best.get(self.wish.sets.saturating_sub(1));
        let last = last.map(|last| last.standing.clone());
        let some_pass = self.best.first().is_some_and(CheckedSet::passes);
        if some_pass && !self.wish.not_passing {
            let passing = Standing::narrowest_pass();
            return Some(last.map_or(passing.clone(), |last| last.min(passing)));
        }
        last
    }

    /// Checks those that were found, and says whether all others are worse than the best.
    fn check(&mut self, found: &Found) -> Result<bool, ProblemList> {
        for hopeful in &found.best {
            if self
                .at_least()
                .is_some_and(|least| hopeful.standing > least)
            {
                return Ok(true);
            }
            let names = self.names(&hopeful.groups);
            if self.seen.contains(&hopeful.groups) {
                continue;
            }
            if self.is_spent() && !self.best.is_empty() {
                return Ok(false);
            }
            self.outlook.effort.check_whole();
            self.seen.insert(hopeful.groups.clone());
            let sheet = self.offered.sets.whole(&hopeful.groups);
            let (outcome, each) = self.scales.whole(&sheet)?;
            let set = CheckedSet {
                standing: Standing::of(outcome, &each, &self.outlook.alike),
                names,
                groups: hopeful.groups.clone(),
                outcome,
                each,
            };
            self.keep(set);
        }
        Ok(false)
    }

    fn keep(&mut self, set: CheckedSet) {
        let after = |one: &CheckedSet| (&one.standing, &one.names) < (&set.standing, &set.names);
        let at = self.best.partition_point(after);
        self.best.insert(at, set);
        self.best.truncate(self.wish.sets.max(1));
    }

    /// The cells by name, in order.
    fn names(&self, groups: &[Vec<usize>]) -> Vec<Vec<String>> {
        let name = |cell: &usize| self.offered.names.get(*cell).cloned().unwrap_or_default();
        let mut all: Vec<Vec<String>> = groups
            .iter()
            .map(|group| {
                let mut names: Vec<String> = group.iter().map(name).collect();
                names.sort();
                names
            })
            .collect();
        all.sort();
        all
    }

    fn told(mut self, proved: bool) -> Result<Checked, ProblemList> {
        let arrangement = self.offered.sets.arrangement();
        let sets = ways(
            self.order.len(),
            &[],
            arrangement.series,
            arrangement.parallel,
        );
        let whole = u64::try_from(self.seen.len()).unwrap_or(u64::MAX);
        let unsearched = if proved { 0 } else { self.unsearched(sets)? };
        if self.best.first().is_some_and(CheckedSet::passes) && !self.wish.not_passing {
            self.best.retain(CheckedSet::passes);
        }
        Ok(Checked {
            best: self.best,
            sets,
            whole,
            unsearched,
            parts: self.outlook.checks,
            any: self.outlook.any,
            alone: self.outlook.alone,
        })
    }

    /// How many sets may be as good and were not checked.
    fn unsearched(&mut self, sets: u64) -> Result<u64, ProblemList> {
        let Some(least) = self.at_least() else {
            return Ok(sets.saturating_sub(u64::try_from(self.seen.len()).unwrap_or(0)));
        };
        let passed_over = self.search(0, Effort::of_checks(0))?.passed_over;
        let mut checked = 0;
        for groups in self.seen.clone() {
            checked += u64::from(self.outlook.of_set(&groups)? <= least);
        }
        Ok(sets.saturating_sub(passed_over).saturating_sub(checked))
    }
}

impl CheckedSet {
    fn passes(&self) -> bool {
        self.outcome.verdict == Verdict::Pass
    }
}
