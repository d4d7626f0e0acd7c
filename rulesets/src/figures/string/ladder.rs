//! The voltages of cells in series by the charge taken from them, at one corner of what is known.
//!
//! They are worked out at fixed charges, whatever the inputs, and joined by straight lines: so a
//! worse corner never comes out better.

use std::sync::LazyLock;

use crate::class::Class;
use crate::figures::discharge::{Corner, Load, come_of_growth, come_of_lag};
use crate::figures::ocv::{self, Line};
use crate::span::{VAST, ratio, times};

/// The least charge of the grid but 0, in Ah, and the ratio of neighbours.
const FIRST: f64 = 1e-3;
const STEP: f64 = 1.01;

/// Charges up to 1 MAh, well above what a cell or group may hold in the model.
const GRID_LENGTH: usize = 2086;

/// A place of the grid near 2 Ah, from which to look.
pub(super) const MIDDLE: usize = 765;

static GRID: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let steps = std::iter::successors(Some(FIRST), |charge| Some(charge * STEP));
    std::iter::once(0.0)
        .chain(steps)
        .take(GRID_LENGTH)
        .collect()
});

/// The charges, in Ah, at which voltages are worked out, in rising order.
pub(super) fn grid() -> &'static [f64] {
    &GRID
}

/// A moment of a discharge: charge taken in Ah, current in A, and how far the slow terms have come.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moment {
    charge: f64,
    current: f64,
    grown: f64,
    lagged: f64,
}

impl Moment {
    /// The moment when a charge has been taken at a constant current.
    pub(super) fn at(charge: f64, current: f64) -> Self {
        Self::paced(charge, current, current)
    }

    /// The moment when a charge has been taken in the time that a constant `pace` would need, and
    /// the current is now another.
    pub(super) fn paced(charge: f64, pace: f64, current: f64) -> Self {
        let hours = ratio(charge, pace);
        Self {
            charge,
            current,
            grown: come_of_growth(hours),
            lagged: come_of_lag(hours),
        }
    }
}

/// One cell, taken to be of one class.
#[derive(Clone, Copy, Debug)]
struct Rung {
    line: &'static Line,
    start: f64,
    charge: f64,
    resistance: f64,
    growth: f64,
    lag: f64,
}

impl Rung {
    fn of(corner: &Corner) -> Self {
        let Corner {
            class,
            curve,
            start,
            charge,
            resistance,
            growth,
            lag,
            ..
        } = *corner;
        Self {
            line: ocv::line(class, curve),
            start,
            charge,
            resistance,
            growth,
            lag,
        }
    }

    fn source(&self, moment: &Moment) -> f64 {
        let lagging = times(moment.current, self.lag * moment.lagged);
        self.line
            .voltage(self.start - ratio(moment.charge + lagging, self.charge))
            .max(-VAST)
    }

    /// Voltage at a charge state after a long time at a current in A.
    fn settled(&self, charge: f64, current: f64) -> f64 {
        let lagging = ratio(times(current, self.lag), self.charge);
        self.line.voltage(charge - lagging) - times(current, self.resistance * (1.0 + self.growth))
    }

    fn resistance(&self, moment: &Moment) -> f64 {
        self.resistance * (1.0 + self.growth * moment.grown)
    }
}

/// Which of the classes that a cell may be of decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Low,
    High,
}

/// A cell at one corner: a rung for each class that it may be of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    rungs: [Option<Rung>; Class::ALL.len()],
    side: Side,
}

impl Cell {
    pub(super) fn of(corners: impl Iterator<Item = Corner>, side: Side) -> Self {
        let mut rungs = [None; Class::ALL.len()];
        for (rung, corner) in rungs.iter_mut().zip(corners) {
            *rung = Some(Rung::of(&corner));
        }
        Self { rungs, side }
    }

    /// Voltage under load.
    pub(super) fn voltage(&self, moment: &Moment) -> f64 {
        let loaded = |rung: &Rung| {
            (rung.source(moment) - times(moment.current, rung.resistance(moment))).max(-VAST)
        };
        self.decide(loaded, self.side)
    }

    /// Voltage at a charge state after a long time at a current in A.
    pub(super) fn settled(&self, charge: f64, current: f64) -> f64 {
        self.decide(|rung| rung.settled(charge, current).max(-VAST), self.side)
    }

    /// Voltage without load of the part of the cell that gives the current, and its resistance.
    fn source(&self, moment: &Moment) -> (f64, f64) {
        let other = if self.side == Side::Low {
            Side::High
        } else {
            Side::Low
        };
        (
            self.decide(|rung| rung.source(moment), self.side),
            self.decide(|rung| rung.resistance(moment), other),
        )
    }

    fn decide(&self, value: impl Fn(&Rung) -> f64, side: Side) -> f64 {
        let values = self.rungs.iter().map_while(Option::as_ref).map(value);
        match side {
            Side::Low => values.reduce(f64::min),
            Side::High => values.reduce(f64::max),
        }
        .unwrap_or(0.0)
    }
}

/// The sum of the cells' voltages at the charges of the grid, at a constant current. Each is worked
/// out when it is first asked for.
pub(super) struct Sums<'c> {
    cells: &'c [Cell],
    current: f64,
    kept: Vec<Option<f64>>,
}

impl<'c> Sums<'c> {
    pub(super) fn of(cells: &'c [Cell], current: f64) -> Self {
        Self {
            cells,
            current,
            kept: vec![None; GRID_LENGTH],
        }
    }

    /// The moment at a place of the grid, and the sum then.
    pub(super) fn at(&mut self, place: usize) -> (Moment, f64) {
        let moment = Moment::at(
            grid().get(place).copied().unwrap_or(f64::INFINITY),
            self.current,
        );
        let sum = |cells: &[Cell]| cells.iter().map(|cell| cell.voltage(&moment)).sum();
        let sum = match self.kept.get_mut(place) {
            Some(kept) => *kept.get_or_insert_with(|| sum(self.cells)),
            None => sum(self.cells),
        };
        (moment, sum)
    }
}

/// A voltage that falls over the grid: where it comes down to 0, between which two places and how
/// far after the first. At the first place if it starts there; none if it does not come down. It is
/// looked for outwards from a place where it may be: that makes it faster, and no other.
pub(super) fn crossing(from: usize, mut spare: impl FnMut(usize) -> f64) -> Option<(usize, f64)> {
    const LAST: usize = GRID_LENGTH - 1;
    let (mut above, mut below) = (None, None);
    let (mut place, mut stride) = (from.min(LAST), 1);
    while above.is_none() || below.is_none() {
        let value = spare(place);
        if value > 0.0 {
            above = Some((place, value));
            if place == LAST {
                return None;
            }
            place = (place + stride).min(LAST);
        } else {
            below = Some((place, value));
            if place == 0 {
                return Some((0, 0.0));
            }
            place = place.saturating_sub(stride);
        }
        stride *= 2;
    }
    let (mut above, mut below) = above.zip(below)?;
    while below.0 - above.0 > 1 {
        let middle = above.0.midpoint(below.0);
        let value = spare(middle);
        *(if value > 0.0 { &mut above } else { &mut below }) = (middle, value);
    }
    Some((above.0, above.1 / (above.1 - below.1)))
}

/// The string's voltage by charge taken, on every fourth charge of the grid. Nothing below 0.
pub(super) struct Walk {
    volts: Vec<f64>,
}

/// The charges, in Ah, of a walk: every 16th of the grid, and from 0.1 Ah on, where a cell may be
/// running out, every fourth.
static WALK: LazyLock<Vec<f64>> = LazyLock::new(|| {
    const FINE: f64 = 0.1;
    let strided = grid()
        .iter()
        .enumerate()
        .filter(|(place, charge)| place % if **charge < FINE { 16 } else { 4 } == 0);
    strided.map(|(_, charge)| *charge).collect()
});

impl Walk {
    /// The walk of cells under a load until a charge in Ah has been taken, or no voltage is left.
    /// The time that the slow terms take is reckoned at a constant `pace` in A.
    pub(super) fn of(cells: &[Cell], load: Load, pace: f64, until: f64) -> Self {
        let mut volts = Vec::with_capacity(128);
        let mut last = f64::INFINITY;
        for charge in WALK.iter() {
            let moment = Moment::paced(*charge, pace, load.current(last));
            let add = |(sum, ohms): (f64, f64), (source, resistance): (f64, f64)| {
                (sum + source, ohms + resistance)
            };
            let (source, resistance) = cells
                .iter()
                .map(|cell| cell.source(&moment))
                .fold((0.0, 0.0), add);
            last = load.loaded(source, resistance).max(0.0);
            volts.push(last);
            if last <= 0.0 || *charge > until {
                break;
            }
        }
        Self { volts }
    }

    /// The voltages at two neighbouring charges.
    fn pair(&self, place: usize) -> (f64, f64) {
        let at = |place: usize| self.volts.get(place).copied().unwrap_or(0.0);
        (at(place), at(place + 1))
    }

    /// The voltage when a charge in Ah has been taken, which is not below `floor`: unless it is so
    /// at the start.
    pub(super) fn voltage(&self, charge: f64, floor: f64) -> f64 {
        let place = WALK
            .partition_point(|from| *from < charge)
            .saturating_sub(1);
        let ends = WALK.get(place).zip(WALK.get(place + 1));
        let (high, low) = self.pair(place);
        let (high, low) = (high.max(floor), low.max(floor));
        let volts = ends.map_or(floor, |(from, to)| {
            high + (low - high) * ((charge - from) / (to - from))
        });
        volts.min(self.volts.first().copied().unwrap_or(0.0))
    }

    /// The energy in Wh that a charge in Ah takes at these voltages, less so many volts.
    pub(super) fn energy(&self, charge: f64, less: f64) -> f64 {
        if charge.is_infinite() {
            return f64::INFINITY;
        }
        let spans = WALK
            .iter()
            .zip(WALK.iter().skip(1))
            .take(self.volts.len())
            .enumerate()
            .take_while(|(_, (from, _))| **from < charge);
        spans
            .map(|(place, (from, to))| area((*from, *to), self.pair(place), charge, less))
            .sum()
    }
}

/// The energy in Wh between two charges, up to `charge` only.
fn area((from, to): (f64, f64), (high, low): (f64, f64), charge: f64, less: f64) -> f64 {
    let (high, low) = ((high - less).max(0.0), (low - less).max(0.0));
    if charge >= to {
        return (to - from) * high.midpoint(low);
    }
    let width = charge - from;
    width * (high + (low - high) * (width / (to - from)) / 2.0)
}
