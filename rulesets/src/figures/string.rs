//! Cells in series: all carry the same current, and the string ends when its voltage does, whatever
//! the single cell shows then.
//!
//! The voltage of one cell at that moment is lowest if that cell is at its worst and all others at
//! their best, for they hold the string up; and highest the other way about. With a constant power
//! the current at the end is the power by the end voltage, exactly; the currents before matter only
//! through the slow terms of the model, which are reckoned as if it had been the current all along.

mod ladder;
mod margins;

use self::ladder::{Cell, Moment, Side, Sums, Walk, crossing, grid};
use self::margins::{Held, StringMargins};
use super::discharge::{Bounds, CellModel, Discharge, Draw, Duty, Load};
use super::margin::{self, Open};
use crate::span::{VAST, not_negative, ratio, span, times};
use rules_core::quantity::Interval;

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
    /// Voltage of each cell at the moment when the string ends, in V, in the order of the members.
    /// Below 0 the cell is reversed. Without an end, open downwards.
    pub cells: Vec<Interval>,
    /// Voltage then of the cell that is lowest: at most an equal share.
    pub weakest: Interval,
    /// Why the voltages of the cells are open downwards, if they are. They keep what the others at
    /// rest leave of the end voltage, if there is one.
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

/// A single cell as a string of one: no other can reverse it.
impl From<Discharge> for StringDischarge {
    fn from(
        Discharge {
            start,
            mid,
            late,
            end,
            delivered,
            run_time,
            energy,
            open,
        }: Discharge,
    ) -> Self {
        Self {
            cells: vec![end],
            weakest: end,
            cells_open: None,
            start,
            mid,
            late,
            delivered,
            run_time,
            energy,
            open,
        }
    }
}

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
            let duty = Duty {
                draw: duty.draw,
                start: member.start,
                temperature: duty.temperature,
                cut_off: each,
            };
            Held::of(&member.cell, duty.within_reach())
        };
        let held: Vec<Held> = members.iter().map(of).collect();
        let (gentle, harsh) = duty.draw.loads();
        let low = held
            .iter()
            .map(|cell| {
                Cell::of(
                    cell.bodies().map(|body| body.worst(harsh, &cell.duty)),
                    Side::Low,
                )
            })
            .collect();
        let high = held
            .iter()
            .map(|cell| {
                Cell::of(
                    cell.bodies().map(|body| body.best(gentle, &cell.duty)),
                    Side::High,
                )
            })
            .collect();
        Self {
            duty: *duty,
            held,
            low,
            high,
        }
    }

    /// The highest voltage of the string at rest before.
    fn at_rest(&self) -> f64 {
        self.held.iter().map(|cell| cell.at_rest.hi()).sum()
    }

    fn count(&self) -> f64 {
        self.held.len() as f64
    }

    /// The least and greatest current at the end, in A.
    fn end_current(&self) -> (f64, f64) {
        let (least, greatest) = match self.duty.draw {
            Draw::Current(current) => (current.lo(), current.hi()),
            Draw::Power(power) => (
                ratio(power.lo(), self.duty.cut_off.hi()),
                ratio(power.hi(), self.duty.cut_off.lo()),
            ),
        };
        (least.min(VAST), greatest.min(VAST))
    }

    fn discharge(&self) -> StringDischarge {
        let (gentle, harsh) = self.end_current();
        let (mut low, mut high) = (Sums::of(&self.low, harsh), Sums::of(&self.high, gentle));
        let cut_off = self.duty.cut_off;
        let least = crossing(ladder::MIDDLE, |place| low.at(place).1 - cut_off.hi());
        let hint = least.map_or(ladder::MIDDLE, |(place, _)| place);
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
        cells_open: Option<Open>,
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
                    Open::DoubtfulTest
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
        let add = |(volts, ohms): (Interval, Interval), cell: &Held| {
            (volts + cell.at_rest, ohms + cell.first_resistance())
        };
        let (volts, ohms) = string
            .held
            .iter()
            .fold((Interval::point(0.0), Interval::point(0.0)), add);
        let start = not_negative(span(
            harsh.loaded(volts.lo(), ohms.hi().min(VAST)),
            gentle.loaded(volts.hi(), ohms.lo().min(VAST)),
        ));
        let at = |part: f64| {
            span(
                short.voltage(greatest * part, cut_off.lo()),
                long.voltage(least * part, cut_off.hi()),
            )
        };
        let (mid, late) = (at(0.5), at(0.9));
        Self {
            least,
            greatest,
            short,
            long,
            start,
            mid,
            late,
        }
    }

    /// The currents in A by which the model's error is reckoned.
    fn current(&self, string: &Series) -> Interval {
        match string.duty.draw {
            Draw::Current(current) => current,
            Draw::Power(power) => span(
                ratio(power.lo(), self.start.hi()),
                ratio(
                    power.hi(),
                    string
                        .duty
                        .cut_off
                        .lo()
                        .min(self.mid.lo())
                        .midpoint(self.mid.lo()),
                ),
            ),
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
    crossing.map_or(f64::INFINITY, |(place, part)| {
        charge(place) + (charge(place + 1) - charge(place)) * part
    })
}

/// The moment when a string ends, for one cell after the other.
struct Ending<'s> {
    string: &'s Series,
    low: Sums<'s>,
    high: Sums<'s>,
    gentle: f64,
    harsh: f64,
    at_rest: f64,
    /// Whether the string may start below its end voltage.
    may_start_below: bool,
    /// A place of the grid where the end may be.
    hint: usize,
    open: Option<Open>,
}

impl<'s> Ending<'s> {
    fn of(
        string: &'s Series,
        low: Sums<'s>,
        high: Sums<'s>,
        may_start_below: bool,
        hint: usize,
    ) -> Self {
        let (gentle, harsh) = string.end_current();
        Self {
            string,
            low,
            high,
            gentle,
            harsh,
            at_rest: string.at_rest(),
            may_start_below,
            hint,
            open: None,
        }
    }

    /// The voltage of a cell then.
    fn cell(&mut self, place: usize, margins: &StringMargins) -> Option<Interval> {
        let (worst, best) = (self.string.low.get(place)?, self.string.high.get(place)?);
        let (held, own) = (self.string.held.get(place)?, margins.late.get(place)?);
        let (others_down, others_up) = margins.others(own);
        let least = self.least(worst, best, held, (own.down, others_up));
        let greatest = self.greatest(worst, best) + others_down;
        Some(span(least, greatest.min(held.at_rest.hi())))
    }

    fn least(
        &mut self,
        worst: &Cell,
        best: &Cell,
        held: &Held,
        (own_down, others_up): (f64, f64),
    ) -> f64 {
        let cut_off = self.string.duty.cut_off.lo();
        let share = cut_off / self.string.count();
        let end = at_end(
            &mut self.high,
            best,
            (worst, self.harsh),
            cut_off,
            self.hint,
        )
        .filter(|end| *end >= margin::LEAST_END && cut_off > 0.0);
        // A cell above its share is there because another is below: it may be lower by its own
        // error, but for that not below its share.
        let least = end.map(|end| {
            (end - own_down - margin::STRING_CELL)
                .max(share - others_up)
                .min(end - others_up)
        });
        if least.is_none() {
            self.open = Some(Open::Reversal);
        }
        // However little is known of the cell, the others are no higher than at rest.
        let held_up = if cut_off > 0.0 {
            cut_off - (self.at_rest - held.at_rest.hi())
        } else {
            f64::NEG_INFINITY
        };
        let least = least.unwrap_or(f64::NEG_INFINITY).max(held_up);
        // A string that starts below its end voltage is at its start then.
        if self.may_start_below {
            least.min(held.first_voltage(self.harsh))
        } else {
            least
        }
    }

    /// Without the error of the others. A string that starts below its end voltage leaves the cell
    /// no more than what the others do not have.
    fn greatest(&mut self, worst: &Cell, best: &Cell) -> f64 {
        let cut_off = self.string.duty.cut_off.hi();
        let (start, sum) = self.low.at(0);
        let left = cut_off - (sum - worst.voltage(&start));
        let last = Moment::at(grid().last().copied().unwrap_or(VAST), self.gentle);
        let end = at_end(
            &mut self.low,
            worst,
            (best, self.gentle),
            cut_off,
            self.hint,
        );
        end.unwrap_or_else(|| best.voltage(&last)).max(left)
    }
}

/// The voltage of one cell, at a corner and current of its own, when a sum of all comes down to
/// `cut_off` with the cell `inside` the sum replaced by it.
fn at_end(
    all: &mut Sums<'_>,
    inside: &Cell,
    (own, current): (&Cell, f64),
    cut_off: f64,
    hint: usize,
) -> Option<f64> {
    let own_at = |place: usize| {
        own.voltage(&Moment::at(
            grid().get(place).copied().unwrap_or(f64::INFINITY),
            current,
        ))
    };
    let end = crossing(hint, |place| {
        let (moment, sum) = all.at(place);
        sum - inside.voltage(&moment) + own_at(place) - cut_off
    });
    end.map(|(place, part)| {
        let volts = own_at(place);
        if part > 0.0 {
            volts + (own_at(place + 1) - volts) * part
        } else {
            volts
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::class::{Class, Classes};
    use crate::figures::discharge::CapacityTest;

    fn point(value: f64) -> Interval {
        Interval::point(value)
    }

    /// A cell of a part of the area of another: less charge and more resistance in that ratio.
    fn member(class: Class, charge: f64, ohms: f64, part: f64) -> Member {
        let capacity = CapacityTest {
            charge: point(charge * part),
            current: point(charge * part * 0.2),
            cut_off: point(3.0),
            temperature: point(25.0),
        };
        Member {
            cell: CellModel {
                classes: Classes::of(class),
                capacity,
                slow: None,
                r10: point(ohms / part),
            },
            start: point(1.0),
        }
    }

    /// The class, and one of the sets below; how many cells, the weak one's part of the others, the
    /// end voltage; after how many seconds it is reached, and the strong and the weak cells' voltage
    /// then.
    type Modelled = (Class, (f64, f64, f64), usize, f64, f64, (f64, f64, f64));

    /// Strings of equal cells and a weaker one at 1 C, in a full physical model (sets Chen2020,
    /// Ai2020 and BPX_LFP in PyBaMM 26.10.1.1).
    const MODELLED: [Modelled; 7] = [
        (Class::Inr, INR, 3, 0.8, 9.0, (2862.88, 3.2807, 2.4385)),
        (Class::Inr, INR, 3, 0.8, 8.4, (2928.41, 3.2622, 1.8755)),
        (Class::Inr, INR, 2, 0.95, 6.0, (3244.35, 3.0928, 2.9072)),
        (Class::Icr, ICR, 3, 0.8, 8.4, (3088.43, 3.5341, 1.3318)),
        (Class::Icr, ICR, 2, 0.9, 5.6, (3478.6, 3.4334, 2.1666)),
        (Class::Ifr, IFR, 3, 0.8, 8.4, (2824.63, 3.0757, 2.2485)),
        (Class::Ifr, IFR, 2, 0.95, 6.0, (3103.17, 3.0213, 2.9787)),
    ];

    /// Charge at 0.2 C to 3.0 V, 10-second resistance, current at 1 C.
    const INR: (f64, f64, f64) = (4.91624, 0.02867, 5.0);
    const ICR: (f64, f64, f64) = (2.45386, 0.045754, 2.28);
    const IFR: (f64, f64, f64) = (1.98984, 0.061047, 2.0);

    #[test]
    fn modelled_strings_lie_within() {
        for (class, cell, count, part, cut_off, (seconds, strong, weak)) in MODELLED {
            let (charge, ohms, current) = cell;
            let mut members = vec![member(class, charge, ohms, 1.0); count];
            members[count - 1] = member(class, charge, ohms, part);
            let duty = StringDuty {
                draw: Draw::Current(point(current)),
                temperature: point(25.0),
                cut_off: point(cut_off),
            };
            let given = discharge(&members, &duty).unwrap();
            assert!(
                given.run_time.contains(seconds / 3600.0),
                "{class:?} {count} {part}: {given:?}"
            );
            assert!(
                given.cells[0].contains(strong) && given.cells[count - 1].contains(weak),
                "{class:?} {count} {part}: {given:?}"
            );
            assert!(
                given.weakest.contains(weak) && given.weakest.width() < 1.6,
                "{class:?} {count} {part}: {given:?}"
            );
        }
    }

    /// Two strong cells hold a third up: it may be reversed before 6.0 V are reached. With 9.0 V
    /// for three, no cell can be under 0.4 V: the others have no more.
    #[test]
    fn a_low_end_reverses_the_weak_cell() {
        let members = [
            member(Class::Icr, 2.4, 0.05, 1.0),
            member(Class::Icr, 2.4, 0.05, 1.0),
            member(Class::Icr, 2.4, 0.05, 0.6),
        ];
        let at = |cut_off: f64| {
            let duty = StringDuty {
                draw: Draw::Current(point(1.2)),
                temperature: point(25.0),
                cut_off: point(cut_off),
            };
            discharge(&members, &duty).unwrap()
        };
        let low = at(6.0);
        assert!(
            low.weakest.lo() < 0.0 && low.cells_open == Some(Open::Reversal),
            "{low:?}"
        );
        assert!(at(9.0).weakest.lo() > 0.4 && at(0.0).weakest.lo().is_infinite());
        assert_eq!(
            discharge(
                &[],
                &StringDuty {
                    draw: Draw::Current(point(1.0)),
                    temperature: point(25.0),
                    cut_off: point(6.0)
                }
            ),
            None
        );
    }

    /// Two thousand cells are worked through, and nobody knows anything of them.
    #[test]
    fn long_strings_of_unknown_cells_end() {
        let unknown = CapacityTest {
            charge: Interval::WHOLE,
            current: Interval::WHOLE,
            cut_off: Interval::WHOLE,
            temperature: Interval::WHOLE,
        };
        let cell = CellModel {
            classes: Classes::ALL,
            capacity: unknown,
            slow: None,
            r10: Interval::WHOLE,
        };
        let duty = StringDuty {
            draw: Draw::Power(Interval::WHOLE),
            temperature: Interval::WHOLE,
            cut_off: Interval::WHOLE,
        };
        let given = discharge(
            &vec![
                Member {
                    cell,
                    start: Interval::WHOLE
                };
                2_000
            ],
            &duty,
        )
        .unwrap();
        assert_eq!(given.run_time, span(0.0, f64::INFINITY));
        assert!(given.cells.iter().all(|end| end.lo().is_infinite()) && given.open.is_some());
    }
}
