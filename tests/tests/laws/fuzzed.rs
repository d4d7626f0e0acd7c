//! The laws of the fuzz target `ignorance` on chance bytes: of a plan that says less, or the same in
//! another way, no verdict is better, by the shipped rules and by local practice on top.

use proptest::prelude::*;
use rules_tests::law::law;

#[allow(
    unreachable_pub,
    reason = "the fuzz targets are another crate, to which these are public"
)]
#[path = "../../fuzz/src/ignorance/mod.rs"]
mod ignorance;

/// Laws 5 and 9, of drops, wider intervals and meters, what is said twice, and order.
#[test]
fn plans_that_say_less_are_never_better_off() {
    law(
        "plans that say less are never better off",
        60,
        prop::collection::vec(any::<u8>(), 0..40),
        |bytes, seen| {
            // Where it does not hold it panics, which fails the case.
            seen.count(ignorance::holds(&bytes).telling);
            Ok(())
        },
    );
}
