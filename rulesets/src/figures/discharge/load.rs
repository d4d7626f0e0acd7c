//! One load: a constant current or a constant power.

use crate::span::{VAST, ratio};

/// What the light takes: amperes, or watts.
#[derive(Clone, Copy, Debug)]
pub(in crate::figures) enum Load {
    Current(f64),
    Power(f64),
}

impl Load {
    /// The current in amperes by which the time is reckoned that the slow terms take. A constant
    /// power is taken at a common voltage, since the time is wanted only to see whether they are
    /// still growing.
    pub(in crate::figures) const fn pace(self) -> f64 {
        const COMMON_VOLTAGE: f64 = 3.6;
        match self {
            Self::Current(current) => current,
            Self::Power(power) => power / COMMON_VOLTAGE,
        }
    }

    /// What one of so many cells in series has of the load, about.
    pub(in crate::figures) const fn of_each(self, count: f64) -> Self {
        match self {
            Self::Current(current) => Self::Current(current),
            Self::Power(power) => Self::Power(power / count),
        }
    }

    pub(in crate::figures) fn current(self, volts: f64) -> f64 {
        match self {
            Self::Current(current) => current,
            Self::Power(power) => ratio(power, volts).min(VAST),
        }
    }

    /// The voltage under this load of a source of `source` volts and `resistance` ohms. A source
    /// that cannot give the power is at half its voltage.
    pub(in crate::figures) fn loaded(self, source: f64, resistance: f64) -> f64 {
        match self {
            Self::Current(current) => source - current * resistance,
            Self::Power(power) => {
                let half = source.max(0.0) / 2.0;
                half + (half * half - power * resistance).max(0.0).sqrt()
            }
        }
    }

    /// The voltage that the source must have for `volts` to be kept under this load; if they cannot
    /// be kept, the least from which the power can be had.
    pub(super) fn needed(self, volts: f64, resistance: f64) -> f64 {
        match self {
            Self::Current(current) => volts + current * resistance,
            Self::Power(power) => {
                let kept = volts.max((power * resistance).sqrt());
                kept + ratio(power * resistance, kept)
            }
        }
    }
}
