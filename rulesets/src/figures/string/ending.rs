//! The voltage of each cell at the moment when its string ends.

use super::corner_cell::{CornerCell, Moment};
use super::grid::{crossing, grid};
use super::margins::{Held, StringMargins};
use super::series::Series;
use super::sums::Sums;
use crate::figures::margin::{self, OpenReason};
use crate::span::{VAST, span};
use rules_core::quantity::Interval;

/// The moment when a string ends, for one cell after the other.
pub(super) struct Ending<'s> {
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
    pub(super) open: Option<OpenReason>,
}

impl<'s> Ending<'s> {
    pub(super) fn of(
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
    pub(super) fn cell(&mut self, place: usize, margins: &StringMargins) -> Option<Interval> {
        let (worst, best) = (self.string.low.get(place)?, self.string.high.get(place)?);
        let (held, own) = (self.string.held.get(place)?, margins.late.get(place)?);
        let (others_down, others_up) = margins.others(own);
        let least = self.least(worst, best, held, (own.down, others_up));
        let greatest = self.greatest(worst, best) + others_down;
        Some(span(least, greatest.min(held.at_rest.hi())))
    }

    fn least(
        &mut self,
        worst: &CornerCell,
        best: &CornerCell,
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
            self.open = Some(OpenReason::Reversal);
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
    fn greatest(&mut self, worst: &CornerCell, best: &CornerCell) -> f64 {
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
    inside: &CornerCell,
    (own, current): (&CornerCell, f64),
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
