//! Chance: a list of words that a generator draws its choices from, and the running of a law.

use std::cell::Cell;
use std::fmt::Debug;
use std::io::Write as _;

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// Draws choices from words. Where the words run out every choice is the first, so that shorter
/// lists make simpler cases.
pub(crate) struct Choices<'w> {
    words: std::slice::Iter<'w, u16>,
}

impl<'w> Choices<'w> {
    pub(crate) fn of(words: &'w [u16]) -> Self {
        Self {
            words: words.iter(),
        }
    }

    /// A number from 0 to `n` - 1.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        usize::from(self.words.next().copied().unwrap_or(0)) % n.max(1)
    }

    /// True once in `n` times, and never when the words have run out.
    pub(crate) fn one_in(&mut self, n: usize) -> bool {
        self.below(n) + 1 == n
    }

    /// A part of one: 0, 1 and the middle often.
    pub(crate) fn part(&mut self) -> f64 {
        match self.below(6) {
            0 => 0.0,
            1 => 1.0,
            2 => 0.5,
            _ => f64::from(u16::try_from(self.below(65_536)).unwrap()) / 65_535.0,
        }
    }

    pub(crate) fn pick<'t, T>(&mut self, of: &'t [T]) -> &'t T {
        &of[self.below(of.len())]
    }

    /// The position of a weight, as often as it weighs.
    pub(crate) fn weighted(&mut self, weights: &[usize]) -> usize {
        let mut left = self.below(weights.iter().sum());
        let heavy = |weight: &usize| {
            let found = left < *weight;
            left = left.saturating_sub(*weight);
            found
        };
        weights.iter().position(heavy).unwrap_or(0)
    }

    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = last - self.below(last + 1);
            items.swap(last, other);
        }
    }
}

/// A list of chance words. It shrinks by its length first, which is quick.
pub(crate) fn words(most: usize) -> impl Strategy<Value = Vec<u16>> {
    let all = prop::collection::vec(any::<u16>(), most);
    (0..=most, all).prop_map(|(length, mut words)| {
        words.truncate(length);
        words
    })
}

/// Words for a ruleset, for a proposal, and for what the law does with them.
pub(crate) fn three() -> impl Strategy<Value = [Vec<u16>; 3]> {
    (words(400), words(400), words(150)).prop_map(|(rules, proposal, law)| [rules, proposal, law])
}

/// How often a law really compared something, against cases in which its condition was not met.
#[derive(Default)]
pub(crate) struct Seen(Cell<u64>);

impl Seen {
    pub(crate) fn count(&self, comparisons: usize) {
        self.0.set(self.0.get() + comparisons as u64);
    }
}

/// Tries a law on `usual` cases, or on as many as `LAWS_CASES` says. The cases are the same each
/// time; `LAWS_SEED` gives others.
pub(crate) fn law<S: Strategy>(
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
            proptest::test_runner::TestError::Fail(reason, _) => reason.to_string(),
            proptest::test_runner::TestError::Abort(reason) => format!("given up: {reason}"),
        };
        panic!("the law `{name}` does not hold.\n{said}");
    }
    let compared = seen.0.get();
    let apart = match apart.0.get() {
        0 => String::new(),
        apart => format!(", {apart} contradictory apart"),
    };
    // Past the test harness, which would keep the line to itself.
    writeln!(
        std::io::stdout(),
        "law: {name}: {count} cases, {compared} comparisons{apart}"
    )
    .unwrap();
    assert!(compared > 0, "the law `{name}` compared nothing");
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

/// Fails a case with what a person needs to see of it.
pub(crate) fn broken(what: impl AsRef<str>, shows: &[(&str, &str)]) -> TestCaseError {
    let shown: String = shows
        .iter()
        .map(|(name, text)| format!("\n--- {name}\n{text}\n"))
        .collect();
    TestCaseError::fail(format!("{}{shown}", what.as_ref()))
}
