//! The end of a string by the charge that it has given, which is the same for all of its cells.
//!
//! The tests of a cell bound the charge that it gives to any voltage; so they bound its voltage
//! when a charge has been given. At each charge that the string may have given, the cells share its
//! end voltage: none has more than its own tests allow at that charge, and none less than the others
//! leave it.

use super::model::{Member, StringDuty};
use crate::figures::discharge::{Draw, Duty, bounded};
use crate::span::{VAST, ratio, span};
use rules_core::quantity::Interval;

/// Longer strings are not looked at so: the work grows with the square of their length.
const LONGEST: usize = 12;

/// The voltages at which the charge of a cell is looked at, in V: so many steps from 0, of one width
/// below a voltage that matters, and of another above.
const COARSE: (u16, f64) = (8, 0.25);
const FINE: (u16, f64) = (40, 0.04);

/// What no cell reaches, in V.
const HIGHEST: f64 = 4.4;

/// The voltages that are looked at, in V, in rising order.
fn levels() -> impl Iterator<Item = f64> {
    let (coarse, wide) = COARSE;
    let (fine, narrow) = FINE;
    let from = f64::from(coarse) * wide;
    let below = (1..coarse).map(move |step| f64::from(step) * wide);
    below.chain((0..=fine).map(move |step| from + f64::from(step) * narrow))
}

/// The charges in Ah between which a cell comes down to each of the voltages, which fall.
struct Falls(Vec<(f64, Interval)>);

impl Falls {
    fn of(member: &Member, current: Interval, duty: &StringDuty) -> Self {
        let at = |level: f64| {
            let duty = Duty {
                draw: Draw::Current(current),
                start: member.start,
                temperature: duty.temperature,
                cut_off: Interval::point(level),
            };
            (level, bounded(&member.cell, &duty))
        };
        let mut falls: Vec<(f64, Interval)> = levels().map(at).collect();
        // What is given to a voltage is no more than to a lower one.
        let (mut least, mut most) = (0.0, f64::INFINITY);
        for (_, charge) in &mut falls {
            most = charge.hi().min(most);
            *charge = span(charge.lo().min(most), most);
        }
        for (_, charge) in falls.iter_mut().rev() {
            least = charge.lo().max(least);
            *charge = span(least.min(charge.hi()), charge.hi());
        }
        Self(falls)
    }

    /// The voltages in V when a charge between two, in Ah, has been given.
    fn voltages(&self, (from, to): (f64, f64)) -> Interval {
        let still_above = self.0.partition_point(|(_, charge)| charge.lo() >= to);
        let may_be_above = self.0.partition_point(|(_, charge)| charge.hi() > from);
        let level = |place: Option<usize>| Some(self.0.get(place?)?.0);
        let lowest = level(still_above.checked_sub(1)).unwrap_or(-VAST);
        let highest = level(Some(may_be_above)).unwrap_or(HIGHEST);
        span(lowest.min(highest), highest)
    }
}

/// The voltage of each cell when the string ends, by the charge that it has given; none if nothing
/// is told so.
pub(super) fn ends(
    members: &[Member],
    duty: &StringDuty,
    delivered: Interval,
) -> Option<Vec<Interval>> {
    if members.len() > LONGEST {
        return None;
    }
    let current = current(duty, members.len() as f64);
    let falls: Vec<Falls> = members
        .iter()
        .map(|member| Falls::of(member, current, duty))
        .collect();
    let pieces = pieces(&falls, delivered);
    let shares = pieces.windows(2).filter_map(|ends| match ends {
        [from, to] => shared(&falls, duty.cut_off, (*from, *to)),
        _ => None,
    });
    shares.reduce(|one, other| {
        let pairs = one.into_iter().zip(other);
        pairs.map(|(one, other)| one.hull(other)).collect()
    })
}

/// The currents in A that the draw may take.
fn current(duty: &StringDuty, count: f64) -> Interval {
    match duty.draw {
        Draw::Current(current) => current,
        Draw::Power(power) => span(
            ratio(power.lo(), HIGHEST * count),
            ratio(power.hi(), duty.cut_off.lo()),
        ),
    }
}

/// The charges in Ah between which nothing changes, in rising order, within what the string gives.
fn pieces(falls: &[Falls], delivered: Interval) -> Vec<f64> {
    let inside = |charge: &f64| delivered.lo() < *charge && *charge < delivered.hi();
    let each = falls
        .iter()
        .flat_map(|falls| &falls.0)
        .flat_map(|(_, charge)| [charge.lo(), charge.hi()]);
    let mut all: Vec<f64> = each.filter(inside).collect();
    all.extend([delivered.lo(), delivered.hi()]);
    all.sort_by(f64::total_cmp);
    all.dedup();
    if let [one] = all.as_slice() {
        all.push(*one);
    }
    all
}

/// How the cells share the end voltage when a charge between two has been given; none if the string
/// cannot end then.
fn shared(falls: &[Falls], cut_off: Interval, charge: (f64, f64)) -> Option<Vec<Interval>> {
    let own: Vec<Interval> = falls.iter().map(|falls| falls.voltages(charge)).collect();
    let low: f64 = own.iter().map(|one| one.lo()).sum();
    let high: f64 = own.iter().map(|one| one.hi()).sum();
    if low > cut_off.hi() || high < cut_off.lo() {
        return None;
    }
    let left = |one: &Interval| {
        let least = one.lo().max(cut_off.lo() - (high - one.hi()));
        let most = one.hi().min(cut_off.hi() - (low - one.lo()));
        span(least.min(most), most)
    };
    Some(own.iter().map(left).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cell that has come down to 3 V after 1.8 to 2.0 Ah, and to 2 V after 1.9 to 2.1 Ah.
    fn falls(by: f64) -> Falls {
        let at = |volts, from, to| (volts, span(from + by, to + by));
        Falls(vec![at(2.0, 1.9, 2.1), at(3.0, 1.8, 2.0)])
    }

    #[test]
    fn a_charge_that_was_given_bounds_the_voltage() {
        let at = |from, to| falls(0.0).voltages((from, to));
        assert_eq!(at(1.7, 1.8), span(3.0, HIGHEST));
        assert_eq!(at(1.85, 1.9), span(2.0, HIGHEST));
        assert_eq!(at(1.95, 2.0), span(-VAST, HIGHEST));
        assert_eq!(at(2.0, 2.05), span(-VAST, 3.0));
        assert_eq!(at(2.1, 2.2), span(-VAST, 2.0));
    }

    /// Two cells of which one has 0.3 Ah more end at 5.8 V: when the weaker is below 3 V the stronger
    /// is not yet, so that it has 2.8 V at the most; and it is reached before the stronger can be
    /// below 3 V.
    #[test]
    fn cells_share_the_end_by_the_charge_they_gave() {
        let cells = [falls(0.0), falls(0.3)];
        let all = shared(&cells, Interval::point(5.8), (2.0, 2.05)).unwrap();
        assert_eq!(all[0], span(5.8 - HIGHEST, 2.8));
        assert_eq!(all[1], span(3.0, HIGHEST));
        // Both are still above 3 V: no end.
        assert_eq!(shared(&cells, Interval::point(5.8), (1.7, 1.75)), None);
    }
}
