//! Values that know how well they are known, and their arithmetic.

use std::ops::{Add, Div, Mul, Neg, Sub};

use super::{Interval, Kind};
use crate::snapshot::stored;

/// A value in base units: its interval, a nominal value inside, and for a reading of the proposal's
/// meter what it shares with other readings of that meter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    range: Interval,
    nominal: f64,
    reading: Option<MeterReading>,
}

/// What a reading is without its meter's gain error: the true value is in `core` × [1 - `gain`, 1 +
/// `gain`], with the same factor for all readings of the meter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct MeterReading {
    core: Interval,
    gain: f64,
    /// The kind that the meter reads: a proposal has one meter of each kind.
    meter: Kind,
}

/// Readings of one meter, apart from its gain error: each true value is in its core times a factor
/// that is the same for all.
#[derive(Clone, Debug, PartialEq)]
pub struct OneMeter {
    /// The cores, in the order of the readings.
    pub cores: Vec<Interval>,
    /// The factors that there may be.
    pub factor: Interval,
}

impl OneMeter {
    /// The readings apart from their gain error. None if there is none, or if one may be by another
    /// meter than the rest.
    pub fn of(readings: impl IntoIterator<Item = Measure>) -> Option<Self> {
        let readings: Option<Vec<MeterReading>> =
            readings.into_iter().map(|one| one.reading).collect();
        let readings = readings?;
        let first = *readings.first()?;
        let alike = |one: &MeterReading| MeterReading::shared(Some(first), Some(*one)).is_some();
        readings.iter().all(alike).then(|| Self {
            cores: readings.iter().map(|one| one.core).collect(),
            factor: Interval::around(1.0, first.gain),
        })
    }
}

/// Meters whose readings take part in something, and whether several are by one of them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Meters {
    /// The kinds that they read, a bit for each: there is one meter of each kind.
    kinds: u16,
    shared: bool,
}

impl Meters {
    /// That of a value, if it is a reading.
    pub(crate) const fn of(value: &Measure) -> Self {
        let kinds = match value.reading {
            Some(reading) => 1 << reading.meter as u16,
            None => 0,
        };
        Self {
            kinds,
            shared: false,
        }
    }

    /// These and others.
    pub(crate) const fn and(self, other: Self) -> Self {
        Self {
            kinds: self.kinds | other.kinds,
            shared: self.shared || other.shared || self.kinds & other.kinds != 0,
        }
    }

    /// Whether several readings are by one meter.
    pub(crate) const fn are_shared(self) -> bool {
        self.shared
    }
}

impl Measure {
    /// A value that is known exactly.
    #[must_use]
    pub const fn exact(value: f64) -> Self {
        let range = Interval::point(value);
        Self {
            range,
            nominal: settled(value, range),
            reading: None,
        }
    }

    /// A value anywhere in an interval; its nominal value is the middle, or the end that is finite.
    #[must_use]
    pub const fn of(range: Interval) -> Self {
        Self {
            range,
            nominal: range.middle(),
            reading: None,
        }
    }

    /// A value anywhere in an interval with this nominal value, which is moved to the nearest end
    /// if it is outside.
    #[must_use]
    pub const fn with_nominal(range: Interval, nominal: f64) -> Self {
        Self {
            range,
            nominal: settled(nominal, range),
            reading: None,
        }
    }

    /// A reading of a meter of that kind. A gain of 1 or more could turn the sign round, so that
    /// nothing cancels: then only the interval is kept.
    pub(super) fn by_meter(
        range: Interval,
        nominal: f64,
        core: Interval,
        gain: f64,
        meter: Kind,
    ) -> Self {
        let reading = (gain < 1.0).then_some(MeterReading { core, gain, meter });
        Self {
            reading,
            ..Self::with_nominal(range, nominal)
        }
    }

    /// The interval of the value.
    #[must_use]
    pub const fn range(&self) -> Interval {
        self.range
    }

    /// The nominal value: finite, and inside the interval.
    #[must_use]
    pub const fn nominal(&self) -> f64 {
        self.nominal
    }

    /// The value cut to a domain, with the nominal value at the nearer end if it is outside. None
    /// if nothing of the value is inside.
    #[must_use]
    pub fn clipped_to(self, domain: Interval) -> Option<Self> {
        let range = self.range.meets(domain)?;
        let nominal = self.nominal.max(range.lo()).min(range.hi());
        Some(Self {
            range,
            nominal,
            ..self
        })
    }

    /// The nominal value alone, as simple acceptance takes it.
    #[must_use]
    pub const fn to_nominal(self) -> Self {
        Self::exact(self.nominal)
    }

    /// The distance from zero. It does not follow the meter.
    #[must_use]
    pub fn abs(self) -> Self {
        Self::with_nominal(self.range.abs(), self.nominal.abs())
    }

    /// The lesser of two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        let nominal = self.nominal.min(other.nominal);
        self.joined(other, nominal, Interval::min)
    }

    /// The greater of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        let nominal = self.nominal.max(other.nominal);
        self.joined(other, nominal, Interval::max)
    }

    /// The result of a step that follows the meter if both are readings of the same one.
    fn joined(
        self,
        other: Self,
        nominal: f64,
        step: impl Fn(Interval, Interval) -> Interval,
    ) -> Self {
        let reading = MeterReading::shared(self.reading, other.reading)
            .map(|(one, two)| one.with(step(one.core, two.core)));
        Self::cut(step(self.range, other.range), nominal, reading)
    }

    /// The ordinary result cut to what the reading allows.
    pub(super) fn cut(range: Interval, nominal: f64, reading: Option<MeterReading>) -> Self {
        // Both contain the true value, so they overlap. If rounding separates them, the ordinary
        // result is kept.
        let range = reading
            .and_then(|reading| range.meets(reading.range()))
            .unwrap_or(range);
        Self {
            range,
            nominal: settled(nominal, range),
            reading,
        }
    }

    pub(super) const fn reading(&self) -> Option<MeterReading> {
        self.reading
    }
}

impl MeterReading {
    /// Both readings if there are two, of the same meter.
    pub(super) fn shared(one: Option<Self>, other: Option<Self>) -> Option<(Self, Self)> {
        let (one, other) = (one?, other?);
        // One meter has one gain; the comparison costs nothing and keeps it so.
        let same_gain = one.gain.to_bits() == other.gain.to_bits();
        (one.meter == other.meter && same_gain).then_some((one, other))
    }

    /// The same meter with another core.
    pub(super) const fn with(self, core: Interval) -> Self {
        Self { core, ..self }
    }

    pub(super) const fn core(self) -> Interval {
        self.core
    }

    /// All values that the reading allows.
    fn range(self) -> Interval {
        self.core * Interval::around(1.0, self.gain)
    }
}

/// The nominal value made finite and moved into the interval.
const fn settled(nominal: f64, range: Interval) -> f64 {
    if nominal.is_nan() {
        return range.middle();
    }
    nominal
        .max(range.lo())
        .min(range.hi())
        .max(f64::MIN)
        .min(f64::MAX)
}

impl Add for Measure {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        self.joined(other, self.nominal + other.nominal, |one, two| one + two)
    }
}

impl Sub for Measure {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        self.joined(other, self.nominal - other.nominal, |one, two| one - two)
    }
}

impl Neg for Measure {
    type Output = Self;

    fn neg(self) -> Self {
        let reading = self.reading.map(|reading| reading.with(-reading.core));
        Self {
            range: -self.range,
            nominal: -self.nominal,
            reading,
        }
    }
}

/// A reading by a number without a meter stays a reading.
impl Mul for Measure {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        let reading = match (self.reading, other.reading) {
            (Some(reading), None) => Some(reading.with(reading.core * other.range)),
            (None, Some(reading)) => Some(reading.with(reading.core * self.range)),
            _ => None,
        };
        Self::cut(
            self.range * other.range,
            self.nominal * other.nominal,
            reading,
        )
    }
}

/// A reading by a number without a meter stays a reading; of two readings of one meter the gain
/// cancels.
impl Div for Measure {
    type Output = Self;

    fn div(self, other: Self) -> Self {
        let ordinary = self.range / other.range;
        let nominal = self.nominal / other.nominal;
        match (self.reading, other.reading) {
            (Some(reading), None) => Self::cut(
                ordinary,
                nominal,
                Some(reading.with(reading.core / other.range)),
            ),
            (Some(_), Some(_)) => {
                let cores = MeterReading::shared(self.reading, other.reading)
                    .map(|(one, two)| one.core / two.core);
                Self::with_nominal(
                    cores
                        .and_then(|cores| ordinary.meets(cores))
                        .unwrap_or(ordinary),
                    nominal,
                )
            }
            _ => Self::with_nominal(ordinary, nominal),
        }
    }
}

stored!(struct Measure { range, nominal, reading });
stored!(struct MeterReading { core, gain, meter });
