//! How many sets there are, without going through them.

/// How many ways there are to fill up groups with so many of the cells that are left: `open` has the
/// room in each group that was begun, and `unopened` groups of `parallel` cells are to be begun. Groups
/// that are to be begun are not told apart. More than can be counted are `u64::MAX`.
pub(super) fn ways(left: usize, open: &[usize], unopened: usize, parallel: usize) -> u64 {
    let wanted = open.iter().sum::<usize>() + unopened * parallel;
    let mut left = left;
    let mut all = choices(left, wanted);
    left = wanted;
    for room in open {
        all = times(all, choices(left, *room));
        left -= room;
    }
    // Of the cells that are left, the first is in some group, and it does not matter in which.
    for _ in 0..unopened {
        all = times(
            all,
            choices(left.saturating_sub(1), parallel.saturating_sub(1)),
        );
        left = left.saturating_sub(parallel);
    }
    u64::try_from(all).unwrap_or(u64::MAX)
}

/// How many ways there are to choose some.
fn choices(of: usize, some: usize) -> u128 {
    if some > of {
        return 0;
    }
    let some = some.min(of - some);
    let mut all = 1_u128;
    for at in 0..some {
        let (next, by) = ((of - at) as u128, (at + 1) as u128);
        match all.checked_mul(next) {
            Some(product) => all = product / by,
            None => return u128::MAX,
        }
    }
    all
}

/// A product, where too many to count stay too many.
fn times(one: u128, other: u128) -> u128 {
    one.saturating_mul(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sets_are_counted_without_mirror_images() {
        // Binomial coefficients, and those over the ways to order like groups: 60! / (54! 2!^3 3!).
        assert_eq!(ways(60, &[], 1, 4), 487_635);
        assert_eq!(ways(60, &[], 4, 1), 487_635);
        assert_eq!(ways(60, &[], 2, 2), 487_635 * 3);
        assert_eq!(ways(60, &[], 3, 2), 50_063_860 * 15);
        assert_eq!(ways(3, &[], 2, 2), 0);
        assert_eq!(ways(0, &[], 0, 1), 1);
    }

    #[test]
    fn what_was_begun_is_filled_up() {
        // One cell of 2S2P is chosen and five are left: a partner for it, and a pair of the other four.
        assert_eq!(ways(5, &[1], 1, 2), 5 * 6);
        assert_eq!(ways(5, &[1, 0], 0, 2), 5);
        assert_eq!(ways(4, &[1, 1], 0, 2), 4 * 3);
    }

    #[test]
    fn more_than_can_be_counted_are_the_most() {
        assert_eq!(ways(10_000, &[], 10, 10), u64::MAX);
    }
}
