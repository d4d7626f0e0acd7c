//! What the model of a string takes and gives.

use crate::figures::discharge::{CellModel, Discharge, Draw};
use crate::figures::margin::OpenReason;
use crate::span::both;
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
    pub cells_open: Option<OpenReason>,
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
    pub open: Option<OpenReason>,
}

impl StringDischarge {
    /// What both allow, of one string in one use.
    pub(super) fn and(&self, other: &Self) -> Self {
        let both = |one: Interval, other: Interval| both(one, other).unwrap_or(one);
        let cells = self.cells.iter().zip(&other.cells);
        Self {
            cells: cells.map(|(one, other)| both(*one, *other)).collect(),
            weakest: both(self.weakest, other.weakest),
            cells_open: self.cells_open.and(other.cells_open),
            start: both(self.start, other.start),
            mid: both(self.mid, other.mid),
            late: both(self.late, other.late),
            delivered: both(self.delivered, other.delivered),
            run_time: both(self.run_time, other.run_time),
            energy: both(self.energy, other.energy),
            open: self.open.and(other.open),
        }
    }
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
