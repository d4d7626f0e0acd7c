//! Sums, products and quotients of doubles with a lower and an upper bound on the exact result.
//!
//! Each result is a pair of the nearest double and its neighbour on the side of the exact result
//! (or on both sides, where the side is not known), or the result twice where it is exact. Nothing
//! here is NaN.

/// A lower and an upper bound.
pub(super) type Bounds = (f64, f64);

/// Bounds on `x + y`. Infinities of unlike sign must not meet.
pub(super) fn sum(x: f64, y: f64) -> Bounds {
    let sum = x + y;
    if sum.is_infinite() {
        return infinite(sum, x.is_infinite() || y.is_infinite());
    }
    // The rounding error of a sum is itself a double (Knuth, The Art of Computer Programming, vol.
    // 2, 4.2.2, theorem B).
    let rest = sum - x;
    let error = (x - (sum - rest)) + (y - rest);
    if error == 0.0 {
        (sum, sum)
    } else if error > 0.0 {
        (sum, sum.next_up())
    } else if error < 0.0 {
        (sum.next_down(), sum)
    } else {
        (sum.next_down(), sum.next_up())
    }
}

/// Bounds on `x · y`, where 0 · ∞ is 0.
pub(super) fn product(x: f64, y: f64) -> Bounds {
    if x == 0.0 || y == 0.0 {
        return (0.0, 0.0);
    }
    let product = x * y;
    if product.is_infinite() {
        return infinite(product, x.is_infinite() || y.is_infinite());
    }
    if product.is_normal() && multiplies_exactly(x, y) {
        return (product, product);
    }
    around(product, (x < 0.0) != (y < 0.0))
}

/// Bounds on `x / y`, where `y` is not 0, and anything by an infinity is 0.
pub(super) fn quotient(x: f64, y: f64) -> Bounds {
    if x == 0.0 || y.is_infinite() {
        return (0.0, 0.0);
    }
    let quotient = x / y;
    if quotient.is_infinite() {
        return infinite(quotient, x.is_infinite());
    }
    #[expect(
        clippy::float_cmp,
        reason = "an exact product gives back the dividend to the last bit"
    )]
    let is_exact = quotient.is_normal() && multiplies_exactly(quotient, y) && quotient * y == x;
    if is_exact {
        return (quotient, quotient);
    }
    around(quotient, (x < 0.0) != (y < 0.0))
}

/// The neighbours of a rounded result that is not exactly 0; a result never changes its sign.
fn around(result: f64, negative: bool) -> Bounds {
    match (result == 0.0, negative) {
        (true, true) => (0.0_f64.next_down(), 0.0),
        (true, false) => (0.0, 0.0_f64.next_up()),
        (false, _) => (result.next_down(), result.next_up()),
    }
}

/// An infinity that was there before is kept; one from an overflow bounds one side only.
fn infinite(result: f64, was_there: bool) -> Bounds {
    match (was_there, result > 0.0) {
        (true, _) => (result, result),
        (false, true) => (f64::MAX, f64::INFINITY),
        (false, false) => (f64::NEG_INFINITY, f64::MIN),
    }
}

/// Whether the significant bits of both fit into a product, or one is a power of two. Subnormal
/// operands are left out.
fn multiplies_exactly(x: f64, y: f64) -> bool {
    /// Bits of a double after the leading one.
    const FRACTION: u32 = 52;
    let trailing = |x: f64| (x.to_bits() | 1 << FRACTION).trailing_zeros();
    let (x_zeros, y_zeros) = (trailing(x), trailing(y));
    let fits = x_zeros + y_zeros > FRACTION || x_zeros == FRACTION || y_zeros == FRACTION;
    fits && x.is_normal() && y.is_normal()
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "these tests are about the last bit")]
mod tests {
    use super::*;

    #[test]
    fn exact_results_stay_points() {
        assert_eq!(sum(1.5, 2.25), (3.75, 3.75));
        assert_eq!(product(3.0, 5.0), (15.0, 15.0));
        assert_eq!(product(0.1, 4.0), (0.4, 0.4));
        assert_eq!(quotient(15.0, 4.0), (3.75, 3.75));
        assert_eq!(quotient(0.1, -2.0), (-0.05, -0.05));
    }

    #[test]
    fn inexact_results_are_neighbours() {
        let (low, high) = sum(0.1, 0.2);
        assert!(low < high && low.next_up() == high);
        assert_eq!(high, 0.1 + 0.2);
        let (low, high) = product(4.2, 3.0);
        assert!(low < 4.2 * 3.0 && 4.2 * 3.0 < high);
        let (low, high) = quotient(1.0, 3.0);
        assert!(low < 1.0 / 3.0 && 1.0 / 3.0 < high);
    }

    #[test]
    fn a_sum_gets_one_neighbour_only() {
        assert_eq!(sum(1.0, 1e-30), (1.0, 1.0_f64.next_up()));
        assert_eq!(sum(1.0, -1e-30), (1.0_f64.next_down(), 1.0));
        assert_eq!(sum(-1.0, 1e-30), (-1.0, (-1.0_f64).next_up()));
    }

    /// Of two numbers of 26 and 27 bits the product has 53 at most and fits. The square of 27 ones
    /// has 54, that of 43 bits up to 86.
    #[test]
    fn a_product_is_exact_if_its_bits_fit() {
        let is_exact = |x: f64, y: f64| product(x, y).0 == product(x, y).1;
        let (of_26_bits, of_27_bits) = (1.0 + 2.0_f64.powi(-25), 1.0 + 2.0_f64.powi(-26));
        assert!(is_exact(of_26_bits, of_27_bits));
        let (of_27_ones, of_43_bits) = (2.0 - 2.0_f64.powi(-26), 1.0 + 2.0_f64.powi(-42));
        assert!(!is_exact(of_27_ones, of_27_ones) && !is_exact(of_43_bits, of_43_bits));
    }

    #[test]
    fn overflow_and_underflow_keep_their_side() {
        assert_eq!(sum(f64::MAX, f64::MAX), (f64::MAX, f64::INFINITY));
        assert_eq!(product(f64::MAX, -2.0), (f64::NEG_INFINITY, f64::MIN));
        assert_eq!(product(1e-200, 1e-200), (0.0, f64::from_bits(1)));
        assert_eq!(product(-1e-200, 1e-200), (-f64::from_bits(1), 0.0));
        assert_eq!(product(1e-200, -1e-200), (-f64::from_bits(1), 0.0));
        assert_eq!(product(-1e-200, -1e-200), (0.0, f64::from_bits(1)));
        assert_eq!(quotient(1e-300, 1e300), (0.0, f64::from_bits(1)));
        assert_eq!(quotient(-1e-300, 1e300), (-f64::from_bits(1), 0.0));
        assert_eq!(quotient(1e-300, -1e300), (-f64::from_bits(1), 0.0));
        assert_eq!(quotient(-1e-300, -1e300), (0.0, f64::from_bits(1)));
        assert_eq!(quotient(1e300, 1e-300), (f64::MAX, f64::INFINITY));
    }

    #[test]
    fn infinities_stand() {
        assert_eq!(sum(f64::INFINITY, -1.0), (f64::INFINITY, f64::INFINITY));
        assert_eq!(product(0.0, f64::INFINITY), (0.0, 0.0));
        assert_eq!(product(f64::INFINITY, 2.0), (f64::INFINITY, f64::INFINITY));
        assert_eq!(
            product(-2.0, f64::INFINITY),
            (f64::NEG_INFINITY, f64::NEG_INFINITY)
        );
        assert_eq!(quotient(1.0, f64::NEG_INFINITY), (0.0, 0.0));
        assert_eq!(quotient(f64::INFINITY, 2.0), (f64::INFINITY, f64::INFINITY));
    }
}
