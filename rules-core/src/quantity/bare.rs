//! Readings that say nothing of how good they are: how wide one is depends on what read it.

use super::written::WrittenForm;
use super::{Interval, Kind, Measure, Meter, Quantity};

/// A number as it was read, without a tolerance of its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BareReading {
    value: f64,
    half_place: f64,
    one_place: f64,
}

impl BareReading {
    /// The reading of a kind that a text gives; none if it tells its tolerance, is a range, or is
    /// no quantity of the kind.
    #[must_use]
    pub fn of(text: &str, kind: Kind) -> Option<Self> {
        match Quantity::parse(text).ok()?.form {
            WrittenForm::Amount(amount, None) => amount.bare(kind).ok(),
            WrittenForm::Amount(_, Some(_)) | WrittenForm::Range(..) => None,
        }
    }

    /// From a number and what its last place is worth, in base units.
    pub(super) const fn new(value: f64, half_place: f64, one_place: f64) -> Self {
        Self {
            value,
            half_place,
            one_place,
        }
    }

    /// The half width of what was read by a meter: that of the meter or of the digits, whichever is
    /// wider.
    #[must_use]
    pub fn half_by(&self, meter: &Meter) -> f64 {
        let half = meter.width().half(self.value, self.one_place);
        half.max(self.half_place)
    }

    /// What was read, known to this half width. Nothing is said of what it shares with others.
    #[must_use]
    pub fn known_to(&self, half: f64) -> Measure {
        Measure::with_nominal(Interval::around(self.value, half), self.value)
    }

    /// What a meter read: it shares the gain error of the meter with other readings.
    ///
    /// It does so where the digits are the wider, too: else a worse meter could narrow a difference.
    pub(super) fn read_by(&self, meter: &Meter) -> Measure {
        let width = meter.width();
        let fixed = width.fixed(self.one_place).max(self.half_place);
        Measure::by_meter(
            Interval::around(self.value, self.half_by(meter)),
            self.value,
            Interval::around(self.value, fixed),
            width.gain,
            meter.kind(),
        )
    }

    /// What was read by something that nobody knows: as good as the digits.
    pub(super) fn as_written(&self) -> Measure {
        self.known_to(self.half_place)
    }
}
