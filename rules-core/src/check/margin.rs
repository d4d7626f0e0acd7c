//! By how much a comparison is met.

use super::values::ToldNumber;
use crate::formula::{Compared, Comparison};
use crate::quantity::{Dimension, Holds, Interval, Kind};

/// By how much a limit is kept, at the worst.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Margin {
    /// The amount, in the base unit of the kind. Negative where the limit is not kept.
    pub amount: f64,
    /// How it is shown.
    pub(crate) shown: MarginShown,
    /// In per cent of the right side, where that is not equal to zero and the percentage is finite.
    pub percent: Option<f64>,
}

/// How a margin is shown.
#[derive(Debug, Clone)]
pub(crate) enum MarginShown {
    /// As an amount of this kind.
    As(Kind),
    /// As it was told in a report that was read.
    Told(ToldNumber),
}

/// In per cent of a size; nothing where comparisons take that for zero, or beyond the doubles.
fn per_cent_of(amount: f64, size: f64) -> Option<f64> {
    let is_nothing = Interval::point(size).equals(Interval::point(0.0)) == Holds::Yes;
    let percent = 100.0 * amount / size.abs();
    (!is_nothing && percent.is_finite()).then_some(percent)
}

/// By how much a comparison is met at the worst, negative where it is not. Nothing for what has no
/// order or no bound.
pub(super) fn margin(
    Compared {
        comparison,
        left,
        right,
        sort,
    }: Compared,
    negated: bool,
) -> Option<Margin> {
    let (a, b) = (left.value.value.range(), right.value.value.range());
    let wants_high = match comparison {
        Comparison::AtLeast | Comparison::Above => !negated,
        Comparison::AtMost | Comparison::Below => negated,
        Comparison::Equal | Comparison::NotEqual => return None,
    };
    let amount = if wants_high {
        a.lo() - b.hi()
    } else {
        b.lo() - a.hi()
    };
    if left.value.missing || right.value.missing || !amount.is_finite() {
        return None;
    }
    let difference = sort
        .dimension
        .minus(sort.dimension)
        .and_then(Dimension::kind);
    let kind = if sort.dimension.is_absolute() {
        difference.unwrap_or(Kind::TemperatureDifference)
    } else {
        sort.shown_kind()
    };
    let against = if wants_high { b.hi() } else { b.lo() };
    let percent = per_cent_of(amount, against).filter(|_| !sort.dimension.is_absolute());
    Some(Margin {
        amount,
        shown: MarginShown::As(kind),
        percent,
    })
}
