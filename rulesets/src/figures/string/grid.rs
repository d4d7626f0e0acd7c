//! The charges at which voltages of a string are worked out, whatever the inputs. They are joined by
//! straight lines: so a worse corner never comes out better.

use std::sync::LazyLock;

/// The least charge of the grid but 0, in Ah, and the ratio of neighbours.
const FIRST: f64 = 1e-3;
const STEP: f64 = 1.01;

/// Charges up to 1 MAh, well above what a cell or group may hold in the model.
pub(super) const GRID_LENGTH: usize = 2086;

/// A place of the grid near 2 Ah, from which to look.
pub(super) const MIDDLE: usize = 765;

static GRID: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let steps = std::iter::successors(Some(FIRST), |charge| Some(charge * STEP));
    std::iter::once(0.0)
        .chain(steps)
        .take(GRID_LENGTH)
        .collect()
});

/// The charges, in Ah, at which voltages are worked out, in rising order.
pub(super) fn grid() -> &'static [f64] {
    &GRID
}

/// A voltage that falls over the grid: where it comes down to 0, between which two places and how
/// far after the first. At the first place if it starts there; none if it does not come down. It is
/// looked for outwards from a place where it may be: that makes it faster, and no other.
pub(super) fn crossing(from: usize, mut spare: impl FnMut(usize) -> f64) -> Option<(usize, f64)> {
    const LAST: usize = GRID_LENGTH - 1;
    let (mut above, mut below) = (None, None);
    let (mut place, mut stride) = (from.min(LAST), 1);
    while above.is_none() || below.is_none() {
        let value = spare(place);
        if value > 0.0 {
            above = Some((place, value));
            if place == LAST {
                return None;
            }
            place = (place + stride).min(LAST);
        } else {
            below = Some((place, value));
            if place == 0 {
                return Some((0, 0.0));
            }
            place = place.saturating_sub(stride);
        }
        stride *= 2;
    }
    let (mut above, mut below) = above.zip(below)?;
    while below.0 - above.0 > 1 {
        let middle = above.0.midpoint(below.0);
        let value = spare(middle);
        *(if value > 0.0 { &mut above } else { &mut below }) = (middle, value);
    }
    Some((above.0, above.1 / (above.1 - below.1)))
}
