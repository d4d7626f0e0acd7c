//! The rush of current at the moment when cells are joined.

use super::conductance::conductance;
use crate::figures::margin;
use crate::span::{VAST, not_negative, span};
use rules_core::quantity::Interval;

/// A cell that is about to be joined to others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joined {
    /// Rest voltage, in V.
    pub rest: Interval,
    /// 10-second direct-current resistance at the temperature of joining, in ohms.
    pub r10: Interval,
}

/// The highest current, in A, through any one of these cells in the first moment after all are
/// joined at once, with no resistance in the joints.
///
/// The cells' resistance in that moment is another than after 10 seconds, by a factor that `margin`
/// states. One cell alone has nothing to rush to: 0. Cells of which nothing is known may rush
/// without limit.
#[must_use]
pub fn inrush(cells: &[Joined]) -> Interval {
    let (least, greatest) = margin::FIRST_MOMENT;
    let first = |cell: &Joined| {
        let r10 = not_negative(cell.r10);
        Joined {
            rest: cell.rest,
            r10: span(r10.lo() * least, r10.hi() * greatest),
        }
    };
    equalising(&cells.iter().map(first).collect::<Vec<_>>())
}

/// The same by plain circuit arithmetic, with the resistances as they are given.
#[must_use]
pub fn equalising(cells: &[Joined]) -> Interval {
    let (out, into) = (
        Junction::of(cells, |cell| cell.rest),
        Junction::of(cells, |cell| -cell.rest),
    );
    let most = out
        .most()
        .into_iter()
        .chain(into.most())
        .fold(0.0, f64::max);
    // The least that surely flows out of a cell is the opposite of the most that may flow into it.
    let least = out
        .most()
        .into_iter()
        .chain(into.most())
        .fold(0.0, f64::min)
        .abs();
    span(least, if most > BEYOND { f64::INFINITY } else { most })
}

/// More than any cell gives, in A: it only comes of a resistance that may be nothing.
const BEYOND: f64 = 1e4;

/// A cell at the junction: its voltages in V and its conductances in siemens.
#[derive(Clone, Copy)]
struct Branch {
    volts: Interval,
    conductance: Interval,
}

/// Conductance, and conductance by voltage, summed over branches at the low end of their voltage.
#[derive(Clone, Copy, Default)]
struct Sum {
    conductance: f64,
    current: f64,
}

impl Sum {
    fn one(volts: f64, conductance: f64) -> Self {
        Self {
            conductance,
            current: conductance * volts,
        }
    }

    fn plus(self, other: Self) -> Self {
        Self {
            conductance: self.conductance + other.conductance,
            current: self.current + other.current,
        }
    }

    fn less(self, other: Self) -> Self {
        Self {
            conductance: (self.conductance - other.conductance).max(0.0),
            current: self.current - other.current,
        }
    }
}

/// Branches in the order of their low voltage, with the sums that the most current out of any of
/// them takes.
struct Junction {
    branches: Vec<Branch>,
    /// At each place: the branches before it at their high conductance, and the rest at their low
    /// one.
    sums: Vec<Sum>,
}

impl Junction {
    fn of(cells: &[Joined], volts: impl Fn(&Joined) -> Interval) -> Self {
        let branch = |cell: &Joined| {
            let volts = volts(cell);
            Branch {
                volts: span(volts.lo().clamp(-VAST, VAST), volts.hi().clamp(-VAST, VAST)),
                conductance: conductance(not_negative(cell.r10)),
            }
        };
        let mut branches: Vec<Branch> = cells.iter().map(branch).collect();
        branches.sort_by(|one, other| one.volts.lo().total_cmp(&other.volts.lo()));
        let sums = sums(&branches);
        Self { branches, sums }
    }

    /// The most current that may flow out of each branch, in A: negative where some surely flows
    /// in.
    fn most(&self) -> Vec<f64> {
        self.branches
            .iter()
            .enumerate()
            .map(|(place, branch)| self.most_out_of(place, branch))
            .collect()
    }

    /// A lower voltage at the junction draws more out of a branch. It is lowest where the branches
    /// under it have their high conductance and those over it their low one, so a place in the
    /// order tells them apart.
    fn most_out_of(&self, place: usize, branch: &Branch) -> f64 {
        let [gentle, harsh] = [branch.conductance.lo(), branch.conductance.hi()];
        let out = |own: f64| {
            let at = |before: usize| self.current(place, branch, own, before);
            let (mut from, mut to) = (0, self.branches.len());
            while from < to {
                let middle = from.midpoint(to);
                let junction = branch.volts.hi() - ratio_signed(at(middle), own);
                if self
                    .branches
                    .get(middle)
                    .is_some_and(|other| other.volts.lo() < junction)
                {
                    from = middle + 1
                } else {
                    to = middle
                }
            }
            at(from)
        };
        let most = out(harsh);
        if most > 0.0 { most } else { out(gentle) }
    }

    /// The current out of a branch with a conductance of its own, if the branches before a place
    /// have their high one.
    fn current(&self, place: usize, branch: &Branch, own: f64, before: usize) -> f64 {
        let used = if place < before {
            branch.conductance.hi()
        } else {
            branch.conductance.lo()
        };
        let all = self.sums.get(before).copied().unwrap_or_default();
        let others = all.less(Sum::one(branch.volts.lo(), used));
        let both = others.conductance + own;
        if both > 0.0 {
            own * (branch.volts.hi() * others.conductance - others.current) / both
        } else {
            0.0
        }
    }
}

fn ratio_signed(current: f64, conductance: f64) -> f64 {
    if conductance > 0.0 {
        current / conductance
    } else {
        0.0
    }
}

fn sums(branches: &[Branch]) -> Vec<Sum> {
    let mut sums = vec![Sum::default(); branches.len() + 1];
    let mut before = Sum::default();
    for (sum, branch) in sums.iter_mut().skip(1).zip(branches) {
        before = before.plus(Sum::one(branch.volts.lo(), branch.conductance.hi()));
        *sum = before;
    }
    let mut after = Sum::default();
    for (sum, branch) in sums.iter_mut().rev().skip(1).zip(branches.iter().rev()) {
        after = after.plus(Sum::one(branch.volts.lo(), branch.conductance.lo()));
        *sum = sum.plus(after);
    }
    sums
}
