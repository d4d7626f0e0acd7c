//! The voltage of a string by the charge taken from it, under a load of any kind.

use std::sync::LazyLock;

use super::corner_cell::{CornerCell, Moment};
use super::grid::grid;
use crate::figures::discharge::Load;

/// The string's voltage by charge taken, on every fourth charge of the grid. Nothing below 0.
pub(super) struct StringPath {
    volts: Vec<f64>,
}

/// The charges, in Ah, of a path: every 16th of the grid, and from 0.1 Ah on, where a cell may be
/// running out, every fourth.
static CHARGES: LazyLock<Vec<f64>> = LazyLock::new(|| {
    const FINE: f64 = 0.1;
    let strided = grid()
        .iter()
        .enumerate()
        .filter(|(place, charge)| place % if **charge < FINE { 16 } else { 4 } == 0);
    strided.map(|(_, charge)| *charge).collect()
});

impl StringPath {
    /// The path of cells under a load until a charge in Ah has been taken, or no voltage is left.
    /// The time that the slow terms take is reckoned at a constant `pace` in A.
    pub(super) fn of(cells: &[CornerCell], load: Load, pace: f64, until: f64) -> Self {
        let mut volts = Vec::with_capacity(128);
        let mut last = f64::INFINITY;
        for charge in CHARGES.iter() {
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
        let place = CHARGES
            .partition_point(|from| *from < charge)
            .saturating_sub(1);
        let ends = CHARGES.get(place).zip(CHARGES.get(place + 1));
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
        let spans = CHARGES
            .iter()
            .zip(CHARGES.iter().skip(1))
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
