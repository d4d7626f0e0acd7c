//! How a law is tried: on cases that are the same each time, or on as many others as are asked for.
#![allow(
    clippy::panic,
    clippy::unwrap_used,
    reason = "it serves tests, which stop where a law does not hold"
)]

use std::cell::Cell;
use std::fmt::Debug;
use std::io::Write as _;

use proptest::strategy::Strategy;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestError, TestRng, TestRunner};

/// How often a law really compared something, against cases in which its condition was not met.
#[derive(Default)]
pub struct Seen(Cell<u64>);

impl Seen {
    /// Counts comparisons.
    pub fn count(&self, comparisons: usize) {
        self.0.set(self.0.get() + comparisons as u64);
    }
}

/// Tries a law on `usual` cases, or on as many as `LAWS_CASES` says. The cases are the same each
/// time; `LAWS_SEED` gives others.
///
/// # Panics
///
/// The law does not hold, or nothing was compared.
pub fn law<S: Strategy>(
    name: &str,
    usual: u32,
    cases: S,
    holds: impl Fn(S::Value, &Seen) -> Result<(), TestCaseError>,
) where
    S::Value: Debug,
{
    let count =
        number_of("LAWS_CASES").map_or(usual, |count| u32::try_from(count).unwrap_or(u32::MAX));
    let config = Config {
        cases: count,
        failure_persistence: None,
        max_global_rejects: count.saturating_mul(4).saturating_add(1_000),
        max_shrink_iters: 20_000,
        max_shrink_time: 30_000,
        ..Config::default()
    };
    let mut runner = TestRunner::new_with_rng(
        config,
        TestRng::from_seed(RngAlgorithm::XorShift, &seed(name)),
    );
    let (seen, apart) = (Seen::default(), Seen::default());
    let outcome = runner.run(&cases, |case| {
        let came = holds(case, &seen);
        apart.count(usize::from(matches!(came, Err(TestCaseError::Reject(_)))));
        came
    });
    if let Err(error) = outcome {
        let said = match error {
            TestError::Fail(reason, _) => reason.to_string(),
            TestError::Abort(reason) => format!("given up: {reason}"),
        };
        panic!("the law `{name}` does not hold.\n{said}");
    }
    let compared = seen.0.get();
    let apart = match apart.0.get() {
        0 => String::new(),
        apart => format!(", {apart} contradictory apart"),
    };
    // Past the test harness, which would keep the line to itself.
    let mut terminal = std::io::stdout();
    writeln!(
        terminal,
        "law: {name}: {count} cases, {compared} comparisons{apart}"
    )
    .unwrap();
    assert!(compared > 0, "the law `{name}` compared nothing");
}

/// Tries a law that compares something in every case.
///
/// # Panics
///
/// The law does not hold.
pub fn always<S: Strategy>(
    name: &str,
    usual: u32,
    cases: S,
    holds: impl Fn(S::Value) -> Result<(), TestCaseError>,
) where
    S::Value: Debug,
{
    law(name, usual, cases, |case, seen| {
        holds(case)?;
        seen.count(1);
        Ok(())
    });
}

fn number_of(variable: &str) -> Option<u64> {
    std::env::var(variable).ok().map(|text| {
        text.trim()
            .parse()
            .unwrap_or_else(|_| panic!("{variable} is a whole number"))
    })
}

/// 16 bytes of the name and of `LAWS_SEED`, by the FNV-1a hash.
fn seed(name: &str) -> [u8; 16] {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64 ^ number_of("LAWS_SEED").unwrap_or(0);
    let mut seed = [0; 16];
    for chunk in seed.chunks_mut(8) {
        for byte in name.bytes() {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        chunk.copy_from_slice(&hash.to_le_bytes());
    }
    seed
}
