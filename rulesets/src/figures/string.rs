//! Cells in series: all carry the same current, and the string ends when its voltage does, whatever
//! the single cell shows then.
//!
//! The voltage of one cell at that moment is lowest if that cell is at its worst and all others at
//! their best, for they hold the string up; and highest the other way about. With a constant power
//! the current at the end is the power by the end voltage, exactly; the currents before matter only
//! through the slow terms of the model, which are reckoned as if it had been the current all along.

mod by_charge;
mod corner_cell;
mod course;
mod ending;
mod grid;
mod margins;
mod model;
mod path;
mod series;
mod sums;
#[cfg(test)]
mod tests;

use self::course::Course;
use self::ending::Ending;
use self::grid::{MIDDLE, crossing, grid};
use self::margins::{Held, StringMargins};
pub use self::model::{Member, StringDischarge, StringDuty};
use self::series::Series;
use self::sums::Sums;
use super::discharge::{Bounds, Draw, Duty, Pick, Seen, bounded, picks};
use super::margin::{self, OpenReason};
use crate::span::{VAST, both, not_negative, span, times};
use rules_core::quantity::Interval;

/// The discharge of cells in series. None if there is no cell.
#[must_use]
pub fn discharge(members: &[Member], duty: &StringDuty) -> Option<StringDischarge> {
    if members.is_empty() {
        return None;
    }
    let duty = StringDuty {
        cut_off: not_negative(duty.cut_off).min(Interval::point(VAST)),
        draw: duty.draw.within_reach(),
        ..*duty
    };
    let by_pick = picks().filter_map(|pick| Some(Series::of(&all_seen(members, pick)?, &duty)));
    by_pick
        .map(|series| series.discharge())
        .reduce(|one, other| one.and(&other))
        .map(|whole| by_tests(members, &duty, whole))
}

/// The string within what the tests of its cells bound. When it ends, some cell is at its share of
/// the end voltage or below, so that it has given what it gives to there, and some cell is there or
/// above, so that it has given no more.
fn by_tests(members: &[Member], duty: &StringDuty, whole: StringDischarge) -> StringDischarge {
    cells_by_charge(members, duty, charge_by_tests(members, duty, whole))
}

/// The cells at the end within what their own tests allow at each charge that the string may have
/// given. One that may start below its end voltage may end there.
fn cells_by_charge(
    members: &[Member],
    duty: &StringDuty,
    whole: StringDischarge,
) -> StringDischarge {
    if whole.start.lo() <= duty.cut_off.hi() || duty.cut_off.lo() <= 0.0 {
        return whole;
    }
    let Some(ends) = by_charge::ends(members, duty, whole.delivered) else {
        return whole;
    };
    let cells: Vec<Interval> = whole
        .cells
        .iter()
        .zip(ends)
        .map(|(model, tests)| both(*model, tests).unwrap_or(tests))
        .collect();
    let weakest = cells.iter().copied().reduce(Interval::min);
    let weakest = weakest.and_then(|lowest| both(whole.weakest, lowest));
    let none_reverses = cells.iter().all(|cell| cell.lo() >= margin::LEAST_END);
    StringDischarge {
        weakest: weakest.unwrap_or(whole.weakest),
        cells_open: whole.cells_open.filter(|_| !none_reverses),
        cells,
        ..whole
    }
}

fn charge_by_tests(
    members: &[Member],
    duty: &StringDuty,
    whole: StringDischarge,
) -> StringDischarge {
    let Draw::Current(current) = duty.draw else {
        return whole;
    };
    let share = duty.cut_off / Interval::point(members.len() as f64);
    let each = members.iter().map(|member| {
        let duty = Duty {
            draw: duty.draw,
            start: member.start,
            temperature: duty.temperature,
            cut_off: share,
        };
        bounded(&member.cell, &duty)
    });
    let bound = each.reduce(Interval::hull).unwrap_or(Interval::WHOLE);
    if whole.delivered.hi() <= 0.0 {
        return whole;
    }
    let delivered = both(whole.delivered, bound).unwrap_or(bound);
    let time = Draw::Current(current).time(delivered, whole.energy);
    let run_time = both(whole.run_time, time).unwrap_or(time);
    StringDischarge {
        delivered,
        run_time,
        open: whole.open.filter(|_| run_time.lo() <= 0.0),
        ..whole
    }
}

/// All cells by the same of their tests; none if one has not had it.
fn all_seen(members: &[Member], pick: Pick) -> Option<Vec<(Seen, Interval)>> {
    members
        .iter()
        .map(|member| Some((member.cell.seen_by(pick)?, member.start)))
        .collect()
}

/// The charge in Ah at a crossing; without one there is no end.
fn charge_at(crossing: Option<(usize, f64)>) -> f64 {
    let charge = |place: usize| grid().get(place).copied().unwrap_or(f64::INFINITY);
    crossing.map_or(f64::INFINITY, |(place, part)| {
        charge(place) + (charge(place + 1) - charge(place)) * part
    })
}

impl Series {
    fn discharge(&self) -> StringDischarge {
        let (gentle, harsh) = self.end_current();
        let (mut low, mut high) = (Sums::of(&self.low, harsh), Sums::of(&self.high, gentle));
        let cut_off = self.duty.cut_off;
        let least = crossing(MIDDLE, |place| low.at(place).1 - cut_off.hi());
        let hint = least.map_or(MIDDLE, |(place, _)| place);
        let greatest = crossing(hint, |place| high.at(place).1 - cut_off.lo());
        let (least, greatest) = (charge_at(least), charge_at(greatest).max(charge_at(least)));
        let course = Course::of(self, least, greatest);
        let margins = StringMargins::of(&self.held, course.current(self));
        let mut ending = Ending::of(self, low, high, course.start.lo() <= cut_off.hi(), hint);
        let cells = (0..self.held.len())
            .filter_map(|place| ending.cell(place, &margins))
            .collect();
        let cells_open = ending.open;
        self.whole(&course, &margins, cells, cells_open)
    }

    /// The string as a whole.
    fn whole(
        &self,
        course: &Course,
        margins: &StringMargins,
        cells: Vec<Interval>,
        cells_open: Option<OpenReason>,
    ) -> StringDischarge {
        let cut_off = self.duty.cut_off;
        let bounds = self.bounds(course, margins);
        let delivered = span(
            bounds.least(course.least, 1.0),
            bounds.most(course.greatest, 1.0),
        );
        let energy = self.energy(course, margins, &bounds);
        let lowest = cut_off.lo().min(course.start.lo());
        let highest = self.at_rest();
        let volts = |value: Interval, down: f64, up: f64| {
            span(
                (value.lo() - down).max(lowest),
                (value.hi() + up).min(highest).max(lowest),
            )
        };
        let (mid, late) = (
            volts(course.mid, margins.mid.down, margins.mid.up),
            volts(course.late, margins.whole_late.down, margins.whole_late.up),
        );
        let share = cells
            .iter()
            .copied()
            .reduce(Interval::min)
            .unwrap_or(Interval::WHOLE);
        StringDischarge {
            cells,
            weakest: share.min(span(share.lo(), cut_off.hi() / self.count())),
            cells_open,
            start: course.start,
            mid: span(mid.lo().max(late.lo()), mid.hi()),
            late: span(late.lo(), late.hi().min(mid.hi())),
            delivered,
            run_time: self.duty.draw.time(delivered, energy),
            energy,
            open: bounds.open().map(|open| {
                if self.held.iter().any(Held::is_doubtful) {
                    OpenReason::DoubtfulTest
                } else {
                    open
                }
            }),
        }
    }

    fn bounds(&self, course: &Course, margins: &StringMargins) -> Bounds {
        if self.duty.cut_off.lo() >= self.at_rest() {
            return Bounds::nothing();
        }
        let missing = self.held.iter().map(Held::missing).fold(0.0, f64::max);
        let most = self.held.iter().map(Held::most_charge).fold(0.0, f64::max);
        let at_third: f64 = self
            .low
            .iter()
            .map(|cell| cell.settled(1.0 - margins::EARLY, course.current(self).hi().min(VAST)))
            .sum();
        let early = (at_third <= self.duty.cut_off.hi()).then_some(margins::MOST_GIVEN * most);
        Bounds::of(margins.time, missing, course.greatest + missing, early)
    }

    fn energy(&self, course: &Course, margins: &StringMargins, bounds: &Bounds) -> Interval {
        let (down, up) = match self.duty.draw {
            Draw::Power(_) => (0.0, 0.0),
            Draw::Current(_) => (margins.mean_down, margins.mid.up),
        };
        let full: f64 = self.held.iter().map(Held::full_voltage).sum();
        let mean: f64 = self.held.iter().map(Held::mean_voltage).sum();
        let least = bounds.least(course.short.energy(course.least, down), full);
        span(
            least,
            bounds.most(
                course.long.energy(course.greatest, 0.0) + times(up, course.greatest),
                mean,
            ),
        )
    }
}
