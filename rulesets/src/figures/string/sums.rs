//! The sum of the cells' voltages by the charge taken, at a constant current.

use super::corner_cell::{CornerCell, Moment};
use super::grid::{GRID_LENGTH, grid};

/// The sum of the cells' voltages at the charges of the grid, at a constant current. Each is worked
/// out when it is first asked for.
pub(super) struct Sums<'c> {
    cells: &'c [CornerCell],
    current: f64,
    kept: Vec<Option<f64>>,
}

impl<'c> Sums<'c> {
    pub(super) fn of(cells: &'c [CornerCell], current: f64) -> Self {
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
        let sum = |cells: &[CornerCell]| cells.iter().map(|cell| cell.voltage(&moment)).sum();
        let sum = match self.kept.get_mut(place) {
            Some(kept) => *kept.get_or_insert_with(|| sum(self.cells)),
            None => sum(self.cells),
        };
        (moment, sum)
    }
}
