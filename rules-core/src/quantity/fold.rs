//! Folds of many values into one. The order of the values makes no difference to any result, not
//! even to its last bit.

use std::borrow::Cow;
use std::cmp::Ordering;

use super::measure::MeterReading;
use super::rounding::sum;
use super::{Interval, Measure};

impl Measure {
    /// The sum; 0 of nothing.
    #[must_use]
    pub fn sum(values: impl IntoIterator<Item = Self>) -> Self {
        let values: Vec<Self> = values.into_iter().collect();
        Self::total(&values)
    }

    /// The sum of so many of which each is anywhere in the interval, on its own.
    #[must_use]
    pub fn times(self, count: usize) -> Self {
        match (count, u32::try_from(count)) {
            (1, _) => self,
            (_, Ok(count)) => self * Self::exact(f64::from(count)),
            // There are never so many of anything.
            (_, Err(_)) => Self::of(Interval::WHOLE),
        }
    }

    /// The sum divided by the number of values. None of nothing.
    #[must_use]
    pub fn mean(values: impl IntoIterator<Item = Self>) -> Option<Self> {
        Self::mean_of(values.into_iter().map(|value| (value, 1)))
    }

    /// The same of values that each stand for so many.
    #[must_use]
    pub fn mean_of(values: impl IntoIterator<Item = (Self, usize)>) -> Option<Self> {
        let mut number = 0;
        let count = |(value, count): (Self, usize)| {
            number += count;
            value.times(count)
        };
        let values: Vec<Self> = values.into_iter().map(count).collect();
        let number = u32::try_from(number).ok().filter(|number| *number > 0)?;
        Some(Self::total(&values) / Self::exact(f64::from(number)))
    }

    /// The largest less the smallest; 0 of one value, none of nothing.
    #[must_use]
    pub fn spread(values: impl IntoIterator<Item = Self>) -> Option<Self> {
        let values: Vec<Self> = values.into_iter().collect();
        let greatest = values.iter().map(Self::nominal).reduce(f64::max)?;
        let least = values.iter().map(Self::nominal).reduce(f64::min)?;
        let range = spread_of(values.iter().map(Self::range))?;
        let reading = shared_reading(&values)
            .and_then(|reading| Some(reading.with(spread_of(cores(&values))?)));
        Some(Self::cut(range, greatest - least, reading))
    }

    /// The smallest. None of nothing.
    #[must_use]
    pub fn least(values: impl IntoIterator<Item = Self>) -> Option<Self> {
        let values: Vec<Self> = values.into_iter().collect();
        let nominal = values.iter().map(Self::nominal).reduce(f64::min)?;
        Self::extreme(&values, nominal, Interval::min)
    }

    /// The largest. None of nothing.
    #[must_use]
    pub fn greatest(values: impl IntoIterator<Item = Self>) -> Option<Self> {
        let values: Vec<Self> = values.into_iter().collect();
        let nominal = values.iter().map(Self::nominal).reduce(f64::max)?;
        Self::extreme(&values, nominal, Interval::max)
    }

    fn extreme(
        values: &[Self],
        nominal: f64,
        pick: fn(Interval, Interval) -> Interval,
    ) -> Option<Self> {
        let range = values.iter().map(Self::range).reduce(pick)?;
        let reading = shared_reading(values)
            .and_then(|reading| Some(reading.with(cores(values).reduce(pick)?)));
        Some(Self::cut(range, nominal, reading))
    }

    fn total(values: &[Self]) -> Self {
        let values = in_order(values);
        let range = values.iter().map(Self::range).reduce(|one, two| one + two);
        let nominal = values.iter().map(Self::nominal).sum();
        let reading = shared_reading(&values);
        let core = cores(&values).reduce(|one, two| one + two);
        let reading = reading.zip(core).map(|(reading, core)| reading.with(core));
        Self::cut(range.unwrap_or(Interval::point(0.0)), nominal, reading)
    }
}

/// The values in one order however they came. Two need none: a sum of two is the same both ways.
fn in_order(values: &[Measure]) -> Cow<'_, [Measure]> {
    if values.len() <= 2 {
        return Cow::Borrowed(values);
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(|one, two| {
        let pairs = keys(one).into_iter().zip(keys(two));
        pairs
            .map(|(one, two)| one.total_cmp(&two))
            .find(|order| order.is_ne())
            .unwrap_or(Ordering::Equal)
    });
    Cow::Owned(sorted)
}

fn keys(value: &Measure) -> [f64; 5] {
    let core = value.reading().map_or(Interval::WHOLE, MeterReading::core);
    [
        value.range().lo(),
        value.range().hi(),
        value.nominal(),
        core.lo(),
        core.hi(),
    ]
}

/// A reading of the meter that all values share, if they do.
fn shared_reading(values: &[Measure]) -> Option<MeterReading> {
    let (first, rest) = values.split_first()?;
    let shares = |value: &Measure| MeterReading::shared(first.reading(), value.reading()).is_some();
    first.reading().filter(|_| rest.iter().all(shares))
}

fn cores(values: &[Measure]) -> impl Iterator<Item = Interval> {
    values
        .iter()
        .filter_map(|value| value.reading().map(MeterReading::core))
}

/// At least what is surely between two of the intervals, at most what is between the outermost
/// ends.
pub(crate) fn spread_of(mut intervals: impl Iterator<Item = Interval>) -> Option<Interval> {
    let first = intervals.next()?;
    let start = (first.lo(), first.lo(), first.hi(), first.hi(), false);
    let (least_low, most_low, least_high, most_high, several) = intervals.fold(
        start,
        |(least_low, most_low, least_high, most_high, _), next| {
            let (low, high) = (next.lo(), next.hi());
            (
                least_low.min(low),
                most_low.max(low),
                least_high.min(high),
                most_high.max(high),
                true,
            )
        },
    );
    if !several {
        return Some(Interval::point(0.0));
    }
    let low = sum(most_low, -least_high).0.max(0.0);
    Interval::new(low.min(f64::MAX), sum(most_high, -least_low).1)
}
