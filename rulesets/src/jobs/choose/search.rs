//! The search for the sets of which the best can come: those with the best outlook, exactly.
//!
//! Cells are taken in one order, and each joins a group that was begun or begins the next: so each set
//! is met once, however its groups and their cells are turned. What nothing good enough can come of is
//! left out with all that would follow it; and a cell that fits nowhere beside a part is not put to what
//! becomes of that part.

use std::cell::OnceCell;
use std::cmp::Ordering;
use std::collections::BTreeSet;

use rules_core::document::ProblemList;

use super::counting::ways;
use super::effort::Effort;
use super::fillers::Fillers;
use super::outlook::Outlook;
use super::part::Part;
use super::standing::{Head, Standing};
use crate::proposal::Arrangement;

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
    /// The work that is kept back for what comes after.
    pub kept_back: Effort,
    pub found: Found,
}

impl Search<'_, '_> {
    /// Goes through the sets.
    pub(super) fn run(mut self) -> Result<Found, ProblemList> {
        let none = self.outlook.none();
        let all: Vec<usize> = (0..self.order.len()).collect();
        self.found.complete = true;
        self.from(none, &all, self.arrangement.cells())?;
        Ok(self.found)
    }

    /// Goes on from a part with so many of the cells at some places of the order.
    fn from(&mut self, part: Part, places: &[usize], wanted: usize) -> Result<(), ProblemList> {
        if wanted == 0 {
            self.meet(part);
            return Ok(());
        }
        let Grown { parts, fit } = self.grown(&part, places, wanted - 1)?;
        for (place, next) in parts {
            if self.is_at_its_end() {
                self.found.complete = false;
                return Ok(());
            }
            let all = after(places, place);
            if self.leaves_out(&next, place + 1, wanted - 1) {
                self.pass_over(following(&next, all.len(), self.arrangement));
                continue;
            }
            let fit = fit.as_deref().map_or(all, |fit| after(fit, place));
            let [sets, left] =
                [all, fit].map(|places| following(&next, places.len(), self.arrangement));
            self.pass_over(sets.saturating_sub(left));
            if fit.len() >= wanted - 1 {
                self.from(next, fit, wanted - 1)?;
            }
        }
        Ok(())
    }

    /// A part with each cell more of those at the places.
    fn grown(
        &mut self,
        part: &Part,
        places: &[usize],
        wanted: usize,
    ) -> Result<Grown, ProblemList> {
        let first = places.first().copied().unwrap_or(0);
        let (mut parts, mut fit) = (Vec::new(), Vec::new());
        for place in places.iter().copied() {
            if !parts.is_empty() && self.outlook.effort.is_spent(self.kept_back) {
                return Ok(Grown { parts, fit: None });
            }
            let later = after(places, place).len();
            for group in self.groups(part) {
                let (next, left_out) = self.with(part, (place, group), first, wanted)?;
                if left_out {
                    self.pass_over(following(&next, later, self.arrangement));
                    continue;
                }
                fit.push(place);
                parts.extend((later >= wanted).then_some((place, next)));
            }
        }
        fit.dedup();
        let fit = Some(fit);
        Ok(Grown { parts, fit })
    }

    /// A part with a cell more in a group, and whether nothing good enough can come of it, whichever
    /// join of the cells from a place on.
    fn with(
        &mut self,
        part: &Part,
        (place, group): (usize, usize),
        first: usize,
        wanted: usize,
    ) -> Result<(Part, bool), ProblemList> {
        self.outlook.effort.step();
        let cell = self.order.get(place).copied().unwrap_or(place);
        let next = self.outlook.with(part, cell, group)?;
        if self.leaves_out(&next, first, wanted) {
            return Ok((next, true));
        }
        let next = self.outlook.filled(next, group)?;
        let left_out = self.leaves_out(&next, first, wanted);
        Ok((next, left_out))
    }

    const fn pass_over(&mut self, sets: u64) {
        self.found.passed_over = self.found.passed_over.saturating_add(sets);
    }

    /// Whether the work is done that it may take. Where sets are looked for, there is at least one.
    const fn is_at_its_end(&self) -> bool {
        let has_one = self.keep == 0 || self.found.met > 0;
        has_one && self.outlook.effort.is_spent(self.kept_back)
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
        let bound = Bound::of(part, self.fillers.best(first, wanted));
        if self
            .at_least
            .as_ref()
            .is_some_and(|least| bound.cmp(least).is_gt())
        {
            return true;
        }
        let full = self.keep > 0 && self.found.best.len() >= self.keep;
        let last = self.found.best.last().filter(|_| full);
        let dropped = last.is_some_and(|last| bound.cmp(&last.standing).is_ge());
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
}

/// What becomes of a part with a cell more.
struct Grown {
    /// The place of the cell, and the part: in each way of which something good enough can come, when
    /// any of those that were looked at join.
    parts: Vec<(usize, Part)>,
    /// The places of these cells, for no other fits beside the part. None where not all were looked at.
    fit: Option<Vec<usize>>,
}

/// The best that can come of a part. Its margins are put together where nothing before them decides.
struct Bound<'b> {
    part: &'b Part,
    joining: &'b Standing,
    head: Head,
    all: OnceCell<Standing>,
}

impl<'b> Bound<'b> {
    fn of(part: &'b Part, joining: &'b Standing) -> Self {
        Self {
            part,
            joining,
            head: part.head(joining),
            all: OnceCell::new(),
        }
    }

    fn cmp(&self, other: &Standing) -> Ordering {
        let by_head = self.head.cmp(&other.head);
        by_head.then_with(|| {
            let all = self.all.get_or_init(|| self.part.standing(self.joining));
            all.cmp(other)
        })
    }
}

/// The places after one.
fn after(places: &[usize], place: usize) -> &[usize] {
    let from = places.partition_point(|other| *other <= place);
    places.get(from..).unwrap_or_default()
}

/// How many sets a part can become with so many cells that are left.
fn following(part: &Part, left: usize, arrangement: Arrangement) -> u64 {
    let Arrangement { series, parallel } = arrangement;
    let groups = part.groups.iter();
    let room: Vec<usize> = groups
        .map(|group| parallel.saturating_sub(group.len()))
        .collect();
    let unopened = series.saturating_sub(room.len());
    ways(left, &room, unopened, parallel)
}
