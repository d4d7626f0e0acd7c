//! Cells in series: all carry the same current, and the string ends when its voltage does, whatever the single cell shows then.
//!
//! The voltage of one cell at that moment is lowest if that cell is at its worst and all others at their best, for they hold the string up; and highest the
//! other way about. With a constant power the current at the end is the power by the end voltage, exactly; the currents before matter only through the slow terms
//! of the model, which are reckoned as if it had been the current all along.

mod ladder;
mod margins;

use self::ladder::{Cell, Moment, Side, Sums, Walk, crossing, grid};
use self::margins::{Held, StringMargins};
use super::discharge::{Bounds, CellModel, Draw, Duty, Load};
use super::margin::{self, Open};
use super::span::{VAST, not_negative, ratio, span, times};
use crate::quantity::Interval;

/// A cell of a string, or a parallel group taken as one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member {
    /// The cell.
    pub cell: CellModel,
    /// Its charge state at the start: 1 is full.
    pub start: Interval,
}

/// How a string is used: one discharge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StringDuty {
    /// What is taken from the whole string.
    pub draw: Draw,
    /// Temperature of the cells, in degC.
    pub temperature: Interval,
    /// Voltage of the whole string under load at which it ends, in V; 0 for none.
    pub cut_off: Interval,
}

/// What a string gives.
#[derive(Clone, Debug, PartialEq)]
pub struct StringDischarge {
    /// Voltage of each cell at the moment when the string ends, in V, in the order of the members. Below 0 the cell is reversed. Without an end, open downwards.
    pub cells: Vec<Interval>,
    /// Voltage then of the cell that is lowest: at most an equal share.
    pub weakest: Interval,
    /// Why the voltages of the cells are open downwards, if they are. They keep what the others at rest leave of the end voltage, if there is one.
    pub cells_open: Option<Open>,
    /// Loaded voltage of the string at the start, in V.
    pub start: Interval,
    /// Loaded voltage of the string when half of the charge that will be given is given, in V.
    pub mid: Interval,
    /// Loaded voltage of the string when nine tenths of it are given, in V.
    pub late: Interval,
    /// Charge given, in Ah.
    pub delivered: Interval,
    /// Time until the end, in hours.
    pub run_time: Interval,
    /// Energy given, in Wh.
    pub energy: Interval,
    /// Why the figures of the whole are open towards the cautious side, if they are.
    pub open: Option<Open>,
}

/// The discharge of cells in series. None if there is no cell.
#[must_use]
pub fn discharge(members: &[Member], duty: &StringDuty) -> Option<StringDischarge> {
    if members.is_empty() {
        return None;
    }
    let duty = StringDuty { cut_off: not_negative(duty.cut_off).min(Interval::point(VAST)), draw: duty.draw.within_reach(), ..*duty };
    Some(Series::of(members, &duty).discharge())
}

/// A string at both corners.
struct Series {
    duty: StringDuty,
    held: Vec<Held>,
    low: Vec<Cell>,
    high: Vec<Cell>,
}

impl Series {
    fn of(members: &[Member], duty: &StringDuty) -> Self {
        let each = duty.cut_off / Interval::point(members.len() as f64);
        let of = |member: &Member| {
            let duty = Duty { draw: duty.draw, start: member.start, temperature: duty.temperature, cut_off: each };
            Held::of(&member.cell, duty.within_reach())
        };
        let held: Vec<Held> = members.iter().map(of).collect();
        let (gentle, harsh) = duty.draw.loads();
        let low = held.iter().map(|cell| Cell::of(cell.bodies().map(|body| body.worst(harsh, &cell.duty)), Side::Low)).collect();
        let high = held.iter().map(|cell| Cell::of(cell.bodies().map(|body| body.best(gentle, &cell.duty)), Side::High)).collect();
        Self { duty: *duty, held, low, high }
    }

    fn count(&self) -> f64 {
        self.held.len() as f64
    }

    /// The least and greatest current at the end, in A.
    fn end_current(&self) -> (f64, f64) {
        let (least, greatest) = match self.duty.draw {
            Draw::Current(current) => (current.lo(), current.hi()),
            Draw::Power(power) => (ratio(power.lo(), self.duty.cut_off.hi()), ratio(power.hi(), self.duty.cut_off.lo())),
        };
        (least.min(VAST), greatest.min(VAST))
    }

    fn discharge(&self) -> StringDischarge {
        let (gentle, harsh) = self.end_current();
        let (mut low, mut high) = (Sums::of(&self.low, harsh), Sums::of(&self.high, gentle));
        let cut_off = self.duty.cut_off;
        let least = charge_at(crossing(|place| low.at(place).1 - cut_off.hi()));
        let greatest = charge_at(crossing(|place| high.at(place).1 - cut_off.lo())).max(least);
        let course = Course::of(self, least, greatest);
        let margins = StringMargins::of(&self.held, course.current(self));
        let (cells, cells_open) = self.cells(&mut low, &mut high, &margins);
        self.whole(&course, &margins, cells, cells_open)
    }

    /// The voltage of each cell when the string ends.
    fn cells(&self, low: &mut Sums<'_>, high: &mut Sums<'_>, margins: &StringMargins) -> (Vec<Interval>, Option<Open>) {
        let cut_off = self.duty.cut_off;
        let (gentle, harsh) = self.end_current();
        let all_at_rest: f64 = self.held.iter().map(|cell| cell.at_rest.hi()).sum();
        let mut open = None;
        let each = self.low.iter().zip(&self.high).zip(self.held.iter().zip(&margins.late));
        let ends = each.map(|((worst, best), (held, own))| {
            let (others_down, others_up) = margins.others(own);
            let least = at_end(high, best, (worst, harsh), cut_off.lo()).filter(|volts| *volts >= margin::LEAST_END && cut_off.lo() > 0.0);
            if least.is_none() {
                open = Some(Open::Reversal);
            }
            // However little is known of the cell, the others are no higher than at rest.
            let held_up = if cut_off.lo() > 0.0 { cut_off.lo() - (all_at_rest - held.at_rest.hi()) } else { f64::NEG_INFINITY };
            let started = worst.voltage(&Moment::at(0.0, harsh));
            let least = least.map_or(f64::NEG_INFINITY, |volts| volts - others_up).max(held_up.min(started));
            let greatest = at_end(low, worst, (best, gentle), cut_off.hi()).map_or(f64::INFINITY, |volts| volts + others_down);
            span(least, greatest.min(held.at_rest.hi()))
        });
        let ends = ends.collect();
        (ends, open)
    }

    /// The string as a whole.
    fn whole(&self, course: &Course, margins: &StringMargins, cells: Vec<Interval>, cells_open: Option<Open>) -> StringDischarge {
        let cut_off = self.duty.cut_off;
        let bounds = self.bounds(course, margins);
        let delivered = span(bounds.least(course.least, 1.0), bounds.most(course.greatest, 1.0));
        let energy = self.energy(course, margins, &bounds);
        let lowest = cut_off.lo().min(course.start.lo());
        let highest: f64 = self.held.iter().map(|cell| cell.at_rest.hi()).sum();
        let volts = |value: Interval, down: f64, up: f64| span((value.lo() - down).max(lowest), (value.hi() + up).min(highest).max(lowest));
        let (mid, late) = (volts(course.mid, margins.mid.down, margins.mid.up), volts(course.late, margins.whole_late.down, margins.whole_late.up));
        let share = cells.iter().copied().reduce(Interval::min).unwrap_or(Interval::WHOLE);
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
            open: if self.held.iter().any(Held::is_doubtful) { Some(Open::DoubtfulTest) } else { bounds.open() },
        }
    }

    fn bounds(&self, course: &Course, margins: &StringMargins) -> Bounds {
        let missing = self.held.iter().map(Held::missing).fold(0.0, f64::max);
        let most = self.held.iter().map(Held::most_charge).fold(0.0, f64::max);
        let at_third: f64 = self.low.iter().map(|cell| cell.settled(1.0 - margins::EARLY, course.current(self).hi().min(VAST))).sum();
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
        span(least, bounds.most(course.long.energy(course.greatest, 0.0) + times(up, course.greatest), mean))
    }
}

/// How a string's voltage goes, by the model.
struct Course {
    /// The least and greatest charge that it gives, in Ah.
    least: f64,
    greatest: f64,
    short: Walk,
    long: Walk,
    start: Interval,
    mid: Interval,
    late: Interval,
}

impl Course {
    fn of(string: &Series, least: f64, greatest: f64) -> Self {
        let (gentle, harsh) = string.duty.draw.loads();
        let cut_off = string.duty.cut_off;
        let short = Walk::of(&string.low, harsh, pace(harsh, string.count()), greatest);
        let long = Walk::of(&string.high, gentle, pace(gentle, string.count()), greatest);
        let add = |(volts, ohms): (Interval, Interval), cell: &Held| (volts + cell.at_rest, ohms + cell.first_resistance());
        let (volts, ohms) = string.held.iter().fold((Interval::point(0.0), Interval::point(0.0)), add);
        let start = not_negative(span(harsh.loaded(volts.lo(), ohms.hi().min(VAST)), gentle.loaded(volts.hi(), ohms.lo().min(VAST))));
        let at = |part: f64| span(short.voltage(greatest * part, cut_off.lo()), long.voltage(least * part, cut_off.hi()));
        let (mid, late) = (at(0.5), at(0.9));
        Self { least, greatest, short, long, start, mid, late }
    }

    /// The currents in A by which the model's error is reckoned.
    fn current(&self, string: &Series) -> Interval {
        match string.duty.draw {
            Draw::Current(current) => current,
            Draw::Power(power) => {
                span(ratio(power.lo(), self.start.hi()), ratio(power.hi(), string.duty.cut_off.lo().min(self.mid.lo()).midpoint(self.mid.lo())))
            }
        }
    }
}

/// The current in A by which the time of the slow terms is reckoned.
const fn pace(load: Load, count: f64) -> f64 {
    match load {
        Load::Current(_) => load.pace(),
        Load::Power(_) => load.pace() / count,
    }
}

/// The charge in Ah at a crossing; without one there is no end.
fn charge_at(crossing: Option<(usize, f64)>) -> f64 {
    let charge = |place: usize| grid().get(place).copied().unwrap_or(f64::INFINITY);
    crossing.map_or(f64::INFINITY, |(place, part)| charge(place) + (charge(place + 1) - charge(place)) * part)
}

/// The voltage of one cell, at a corner and current of its own, when a sum of all comes down to `cut_off` with the cell `inside` the sum replaced by it.
fn at_end(all: &mut Sums<'_>, inside: &Cell, (own, current): (&Cell, f64), cut_off: f64) -> Option<f64> {
    let own_at = |place: usize| own.voltage(&Moment::at(grid().get(place).copied().unwrap_or(f64::INFINITY), current));
    let end = crossing(|place| {
        let (moment, sum) = all.at(place);
        sum - inside.voltage(&moment) + own_at(place) - cut_off
    });
    end.map(|(place, part)| {
        let volts = own_at(place);
        if part > 0.0 { volts + (own_at(place + 1) - volts) * part } else { volts }
    })
}
