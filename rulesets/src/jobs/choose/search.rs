//! The search for the sets of which the best can come: those with the best outlook, exactly.
//!
//! Cells are taken in one order, and each joins a group that was begun or begins the next: so each set
//! is met once, however its groups and their cells are turned. What nothing better can come of is left
//! out with all that would follow it.

use std::collections::BTreeSet;

use rules_core::document::ProblemList;

use super::counting::ways;
use super::fillers::Fillers;
use super::outlook::{Outlook, Part};
use super::standing::Standing;
use crate::proposal::Arrangement;

/// The most steps of one search.
pub(super) const MOST_STEPS: usize = 250_000;

/// The most steps of a search that only counts what is left.
pub(super) const COUNTING_STEPS: usize = 50_000;

/// A set with the best that can come of it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Hopeful {
    pub standing: Standing,
    /// When it was met.
    met: u64,
    pub groups: Vec<Vec<usize>>,
}

/// What a search found.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// The sets with the best outlook, the best first.
    pub best: BTreeSet<Hopeful>,
    /// How many sets cannot be as good as was asked for.
    pub passed_over: u64,
    /// How many were met that can be.
    pub met: u64,
    /// Whether there was one that can be and was not kept.
    pub dropped: bool,
    /// Whether it came to its end.
    pub complete: bool,
}

/// One search.
pub(super) struct Search<'s, 'o> {
    pub outlook: &'s mut Outlook<'o>,
    pub arrangement: Arrangement,
    /// The cells in the order in which they are taken.
    pub order: &'s [usize],
    /// The best that cells can come to which are still to join.
    pub fillers: &'s Fillers,
    /// How many sets to keep.
    pub keep: usize,
    /// What sets must not be worse than.
    pub at_least: Option<Standing>,
    /// How many steps it may still take.
    pub steps: usize,
    pub found: Found,
}

impl Search<'_, '_> {
    /// Goes through the sets.
    pub(super) fn run(mut self) -> Result<Found, ProblemList> {
        let none = self.outlook.none();
        self.found.complete = true;
        self.from(&none, 0, self.arrangement.cells())?;
        Ok(self.found)
    }

    fn from(&mut self, part: &Part, first: usize, wanted: usize) -> Result<(), ProblemList> {
        let last = self.order.len().saturating_sub(wanted.saturating_sub(1));
        for at in first..last {
            let Some(cell) = self.order.get(at).copied() else {
                break;
            };
            if self.leaves_out(part, at, wanted) {
                break;
            }
            for group in self.groups(part) {
                if self.steps == 0 {
                    self.found.complete = false;
                    return Ok(());
                }
                self.try_with(part, (cell, group), at + 1, wanted - 1)?;
            }
        }
        Ok(())
    }

    /// Goes on with a cell more, unless nothing good enough can come of it.
    fn try_with(
        &mut self,
        part: &Part,
        (cell, group): (usize, usize),
        first: usize,
        wanted: usize,
    ) -> Result<(), ProblemList> {
        let checks = self.outlook.checks;
        let mut next = self.outlook.with(part, cell, group)?;
        let mut left_out = self.leaves_out(&next, first, wanted);
        if !left_out {
            next = self.outlook.filled(next, group)?;
            left_out = self.leaves_out(&next, first, wanted);
        }
        // A check of a part takes as long as many steps.
        let steps = 1 + STEPS_OF_A_CHECK * (self.outlook.checks - checks);
        self.steps = self.steps.saturating_sub(steps);
        if left_out {
            return Ok(());
        }
        if wanted > 0 {
            return self.from(&next, first, wanted);
        }
        self.meet(next);
        Ok(())
    }

    /// The groups that have room: those that were begun, and the next.
    fn groups(&self, part: &Part) -> Vec<usize> {
        let has_room = |at: &usize| match part.groups.get(*at) {
            Some(group) => group.len() < self.arrangement.parallel,
            None => *at < self.arrangement.series,
        };
        (0..=part.groups.len()).filter(has_room).collect()
    }

    /// Whether nothing good enough can come of a part and so many of the cells from a place on.
    fn leaves_out(&mut self, part: &Part, first: usize, wanted: usize) -> bool {
        let standing = part.standing(self.fillers.best(first, wanted));
        let least = self.at_least.as_ref();
        if least.is_some_and(|least| standing > *least) {
            let all = self.following(part, first);
            self.found.passed_over = self.found.passed_over.saturating_add(all);
            return true;
        }
        let full = self.keep > 0 && self.found.best.len() >= self.keep;
        let last = self.found.best.last().filter(|_| full);
        let dropped = last.is_some_and(|last| standing >= last.standing);
        self.found.dropped |= dropped;
        dropped
    }

    /// Keeps a whole set, if it is among the best so far.
    fn meet(&mut self, part: Part) {
        self.found.met += 1;
        if self.keep == 0 {
            return;
        }
        self.found.best.insert(Hopeful {
            standing: part.standing(&Standing::NONE),
            met: self.found.met,
            groups: part.groups,
        });
        if self.found.best.len() > self.keep {
            self.found.best.pop_last();
            self.found.dropped = true;
        }
    }

    /// How many sets a part can become.
    fn following(&self, part: &Part, first: usize) -> u64 {
        let Arrangement { series, parallel } = self.arrangement;
        let room: Vec<usize> = part
            .groups
            .iter()
            .map(|group| parallel.saturating_sub(group.len()))
            .collect();
        let unopened = series.saturating_sub(room.len());
        ways(self.order.len() - first, &room, unopened, parallel)
    }
}

const STEPS_OF_A_CHECK: usize = 20;
