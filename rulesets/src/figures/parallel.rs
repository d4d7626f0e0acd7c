//! Cells joined in parallel: the rush of current at the moment of joining, how they share a
//! current, and a group taken as one cell.

use super::discharge::{CapacityTest, CellModel, is_proved_unlimited};
use super::margin;
use crate::span::{VAST, not_negative, ratio, span};
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

/// Less than the resistance of any cell, in ohms.
const LEAST_RESISTANCE: f64 = 1e-6;

/// A conductance in siemens of a resistance in ohms.
fn conductance(resistance: Interval) -> Interval {
    let at = |ohms: f64| 1.0 / ohms.max(LEAST_RESISTANCE);
    span(at(resistance.hi()), at(resistance.lo()))
}

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

/// The part of a group's current that each cell carries, from the cells' 10-second resistances in
/// ohms: while all have the same charge state.
///
/// Later the share goes over from resistance to capacity: a cell that has given more falls behind,
/// and the others make up for it.
#[must_use]
pub fn shares(resistances: &[Interval]) -> Vec<Interval> {
    if resistances.len() == 1 {
        return vec![Interval::point(1.0)];
    }
    let conductances: Vec<Interval> = resistances
        .iter()
        .map(|resistance| conductance(not_negative(*resistance)))
        .collect();
    let total = conductances
        .iter()
        .fold((0.0, 0.0), |(lo, hi), one| (lo + one.lo(), hi + one.hi()));
    let share = |own: f64, others: f64| ratio(own, own + others.max(0.0));
    conductances
        .iter()
        .map(|own| {
            span(
                share(own.lo(), total.1 - own.hi()),
                share(own.hi(), total.0 - own.lo()),
            )
        })
        .collect()
}

/// A parallel group taken as one cell: capacities and conductances add. None if there is no cell.
///
/// Its classes are those of any of its cells, and its capacity test runs to an end voltage and at a
/// temperature of any of theirs. It has a slow test only if that of every cell proves the cell not
/// to be limited by its rate: the sum of all would hide one that is.
#[must_use]
pub fn as_one(cells: &[CellModel]) -> Option<CellModel> {
    let (first, rest) = cells.split_first()?;
    let conductance = cells
        .iter()
        .map(|cell| conductance_of(cell.r10))
        .fold(Interval::point(0.0), |sum, one| sum + one);
    let ohms = |siemens: f64| {
        if siemens > 0.0 {
            1.0 / siemens
        } else {
            f64::INFINITY
        }
    };
    let joined = rest.iter().fold(*first, |joined, cell| CellModel {
        classes: joined.classes.or(cell.classes),
        capacity: together(&joined.capacity, &cell.capacity),
        ..joined
    });
    let slow = if rest.is_empty() {
        first.slow
    } else {
        all_slow(cells)
    };
    let r10 = if rest.is_empty() {
        first.r10
    } else {
        span(ohms(conductance.hi()), ohms(conductance.lo()))
    };
    Some(CellModel {
        r10,
        slow,
        ..joined
    })
}

fn all_slow(cells: &[CellModel]) -> Option<CapacityTest> {
    // Only where all have one is it worked out what they show.
    if cells.iter().any(|cell| cell.slow.is_none()) || !cells.iter().all(is_proved_unlimited) {
        return None;
    }
    cells
        .iter()
        .filter_map(|cell| cell.slow)
        .reduce(|one, other| together(&one, &other))
}

/// A conductance that an infinity bounds where the resistance may be nothing.
fn conductance_of(resistance: Interval) -> Interval {
    let resistance = not_negative(resistance);
    span(ratio(1.0, resistance.hi()), ratio(1.0, resistance.lo()))
}

fn together(one: &CapacityTest, other: &CapacityTest) -> CapacityTest {
    CapacityTest {
        charge: not_negative(one.charge) + not_negative(other.charge),
        current: not_negative(one.current) + not_negative(other.current),
        cut_off: one.cut_off.hull(other.cut_off),
        temperature: one.temperature.hull(other.temperature),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(value: f64) -> Interval {
        Interval::point(value)
    }

    fn near(value: f64, expected: f64, within: f64) {
        assert!((value - expected).abs() < within, "{value} {expected}");
    }

    /// Circuit arithmetic, worked by hand: the difference of two voltages by the sum of two
    /// resistances.
    #[test]
    fn two_cells_equalise_by_ohms_law() {
        let cases = [
            (0.010, 0.100, 0.10),
            (0.050, 0.100, 0.5),
            (0.100, 0.100, 1.0),
            (0.300, 0.100, 3.0),
            (0.500, 0.070, 7.1),
            (1.0, 0.120, 8.3),
        ];
        for (difference, both, expected) in cases {
            let joined = |rest: f64| Joined {
                rest: point(rest),
                r10: point(both / 2.0),
            };
            let current = equalising(&[joined(3.7), joined(3.7 - difference)]);
            near(current.lo(), expected, 0.05);
            near(current.hi(), expected, 0.05);
        }
    }

    /// Currents of two equal cells joined at unlike charge, by model (parameter sets of `ocv` in
    /// PyBaMM 26.10.1.1, no resistance in the joint): rest voltages, 10-second resistance at half
    /// charge, and the current in the first moment.
    #[test]
    fn the_first_moment_of_modelled_pairs_lies_within() {
        let pairs = [
            (4.2000, 3.7509, 0.028670, 6.0251),
            (3.8406, 3.7983, 0.028670, 0.70638),
            (4.2000, 3.7873, 0.269610, 0.77786),
            (3.8155, 3.7979, 0.269610, 0.036881),
            (4.2000, 3.6846, 0.039571, 11.168),
            (3.7678, 3.7253, 0.039571, 0.92923),
            (4.2000, 3.7925, 0.045754, 4.0703),
            (3.8365, 3.8122, 0.045754, 0.26929),
            (3.6500, 3.2781, 0.061047, 2.2675),
            (3.2864, 3.2809, 0.061047, 0.040257),
        ];
        for (one, other, ohms, current) in pairs {
            let joined = |rest: f64| Joined {
                rest: point(rest),
                r10: point(ohms),
            };
            let rush = inrush(&[joined(one), joined(other)]);
            assert!(
                rush.contains(current),
                "{one} V and {other} V: {rush:?} {current}"
            );
        }
    }

    /// Three cells, solved by hand: 4.0, 3.8 and 3.8 V with 0.1 ohm each meet at 3.8667 V, so that
    /// 1.333 A leave the first.
    #[test]
    fn a_full_cell_rushes_into_all_the_others() {
        let joined = |rest: f64| Joined {
            rest: point(rest),
            r10: point(0.1),
        };
        near(
            equalising(&[joined(3.8), joined(4.0), joined(3.8)]).lo(),
            4.0 / 3.0,
            1e-9,
        );
        near(
            equalising(&[joined(4.0), joined(3.8), joined(4.0)]).hi(),
            4.0 / 3.0,
            1e-9,
        );
        assert_eq!(inrush(&[joined(4.0)]), point(0.0));
        assert_eq!(inrush(&[]), point(0.0));
    }

    /// Every choice of ends of a few cells lies within.
    #[test]
    fn no_choice_of_ends_rushes_harder() {
        let cells = [
            (3.70, 3.76, 0.05, 0.09),
            (3.72, 3.74, 0.03, 0.20),
            (3.60, 3.90, 0.04, 0.06),
            (3.80, 3.81, 0.08, 0.11),
        ];
        let ends = |low: f64, high: f64| Interval::new(low, high).unwrap();
        let joined: Vec<Joined> = cells
            .iter()
            .map(|(a, b, c, d)| Joined {
                rest: ends(*a, *b),
                r10: ends(*c, *d),
            })
            .collect();
        let bounds = equalising(&joined);
        let mut highest: f64 = 0.0;
        for choice in 0..256_u32 {
            let pick = |bit: usize, value: Interval| {
                if choice >> bit & 1 == 1 {
                    value.hi()
                } else {
                    value.lo()
                }
            };
            let picked: Vec<Joined> = joined
                .iter()
                .enumerate()
                .map(|(place, cell)| Joined {
                    rest: point(pick(place, cell.rest)),
                    r10: point(pick(place + 4, cell.r10)),
                })
                .collect();
            let rush = equalising(&picked);
            assert!(
                bounds.lo() <= rush.lo() + 1e-9 && rush.hi() <= bounds.hi() + 1e-9,
                "{bounds:?} {rush:?}"
            );
            highest = highest.max(rush.hi());
        }
        near(bounds.hi(), highest, 1e-9);
    }

    #[test]
    fn nothing_known_rushes_without_limit() {
        let unknown = Joined {
            rest: Interval::WHOLE,
            r10: Interval::WHOLE,
        };
        assert_eq!(
            inrush(&[unknown, unknown]),
            Interval::new(0.0, f64::INFINITY).unwrap()
        );
        let bare = Joined {
            rest: Interval::new(3.7, 3.8).unwrap(),
            r10: point(0.0),
        };
        assert_eq!(
            inrush(&[bare, bare]),
            Interval::new(0.0, f64::INFINITY).unwrap()
        );
    }

    /// 60 and 72 mohm share 54.5 % to 45.5 % (arithmetic).
    #[test]
    fn shares_go_by_conductance() {
        let shares = shares(&[point(0.060), point(0.072)]);
        near(shares[0].lo(), 0.545, 5e-4);
        near(shares[1].hi(), 0.455, 5e-4);
        assert_eq!(super::shares(&[Interval::WHOLE]), [point(1.0)]);
        let unknown = super::shares(&[Interval::WHOLE, Interval::WHOLE]);
        assert_eq!(unknown, [span(0.0, 1.0); 2]);
    }

    #[test]
    fn a_group_adds_up() {
        use crate::class::{Class, Classes};
        let cell = |charge: f64, ohms: f64| CellModel {
            classes: Classes::of(Class::Icr),
            capacity: CapacityTest {
                charge: point(charge),
                current: point(0.5),
                cut_off: point(3.0),
                temperature: point(25.0),
            },
            slow: None,
            r10: point(ohms),
        };
        let group = as_one(&[cell(2.0, 0.060), cell(2.2, 0.030)]).unwrap();
        near(group.capacity.charge.lo(), 4.2, 1e-9);
        near(group.r10.hi(), 0.020, 1e-9);
        assert_eq!(as_one(&[cell(2.0, 0.060)]), Some(cell(2.0, 0.060)));
        assert_eq!(as_one(&[]), None);
    }

    /// The charge of one cell that its rate limits would hide in that of the others.
    #[test]
    fn a_group_is_proved_only_if_every_cell_is() {
        use crate::class::{Class, Classes};
        use crate::figures::discharge::compared_tests;
        let test = |charge: f64, current: f64| CapacityTest {
            charge: point(charge),
            current: point(current),
            cut_off: point(2.75),
            temperature: point(25.0),
        };
        let cell = |charge: f64| CellModel {
            classes: Classes::of(Class::Icr),
            capacity: test(charge, 1.0),
            slow: Some(test(2.0, 0.4)),
            r10: point(0.05),
        };
        let (sound, limited) = (cell(1.98), cell(1.80));
        let group = as_one(&[sound, sound]).unwrap();
        assert_eq!(group.slow, Some(test(4.0, 0.8)));
        assert_eq!(compared_tests(&group), compared_tests(&sound));
        assert_eq!(as_one(&[sound, sound, sound, limited]).unwrap().slow, None);
        assert_eq!(
            as_one(&[
                sound,
                CellModel {
                    slow: None,
                    ..sound
                }
            ])
            .unwrap()
            .slow,
            None
        );
        assert_eq!(as_one(&[limited]), Some(limited));
    }
}
