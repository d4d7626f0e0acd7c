//! Wide intervals: each holds the interval that a number has, and costs less.
//!
//! They leave out what only narrows: that readings of one meter share its error, and on which side a
//! result was rounded. Most comparisons are settled by them.

use crate::formula::evaluated::Evaluated;
use crate::formula::tree::Folding;
use crate::quantity::{Interval, Measure, Meters, spread_of};

/// An interval that holds that of a number, and what else a comparison needs to know.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wide {
    pub(super) range: Interval,
    /// Whether a missing fact takes part.
    pub(super) missing: bool,
    /// The meters whose readings take part, and whether two are by the same. Where none are, the number
    /// is no narrower than this but for the last digits.
    meters: Meters,
}

impl Wide {
    pub(super) const fn of(value: &Measure, missing: bool) -> Self {
        Self {
            range: value.range(),
            missing,
            meters: Meters::of(value),
        }
    }

    pub(super) const fn known(value: &Measure) -> Self {
        Self::of(value, false)
    }

    pub(super) const fn evaluated(worked: &Evaluated) -> Self {
        Self::of(&worked.value, worked.missing)
    }

    /// Whether nothing but the last digits of the number can be narrower.
    pub(super) const fn is_nearly_all(&self) -> bool {
        !self.meters.are_shared()
    }

    pub(super) fn join(
        self,
        other: Self,
        with: impl FnOnce(Interval, Interval) -> Interval,
    ) -> Self {
        Self {
            range: with(self.range, other.range),
            missing: self.missing || other.missing,
            meters: self.meters.and(other.meters),
        }
    }

    pub(super) fn map(self, with: impl FnOnce(Interval) -> Interval) -> Self {
        Self {
            range: with(self.range),
            ..self
        }
    }
}

/// Values, each so many times, folded; none where that is not had more cheaply than the number.
pub(super) fn wide_folded(
    folding: Folding,
    mut each: impl Iterator<Item = (Wide, usize)>,
) -> Option<Wide> {
    let once = |(value, _): (Wide, usize)| value;
    match folding {
        Folding::Min => each
            .map(once)
            .reduce(|one, two| one.join(two, Interval::min)),
        Folding::Max => each
            .map(once)
            .reduce(|one, two| one.join(two, Interval::max)),
        Folding::Spread => wide_spread(each),
        Folding::Sum => {
            let first = times(each.next()?)?;
            each.try_fold(first, |so_far, next| {
                Some(so_far.join(times(next)?, Interval::wide_sum))
            })
        }
        Folding::Mean | Folding::Distinct => None,
    }
}

fn wide_spread(each: impl Iterator<Item = (Wide, usize)>) -> Option<Wide> {
    let mut all: Option<Wide> = None;
    let range = spread_of(each.flat_map(|(value, times)| {
        all = Some(all.map_or(value, |all| all.join(value, Interval::hull)));
        // Two already show how far apart they may be.
        std::iter::repeat_n(value.range, times.min(2))
    }))?;
    all.map(|all| Wide { range, ..all })
}

fn times((value, times): (Wide, usize)) -> Option<Wide> {
    if times == 1 {
        return Some(value);
    }
    let times = Interval::point(u32::try_from(times).ok()?.into());
    Some(value.map(|value| value.wide_product(times)))
}
