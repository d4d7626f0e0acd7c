//! Chance: a list of words that a generator draws its choices from.

use proptest::prelude::*;

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

/// Fails a case with what a person needs to see of it.
pub(crate) fn broken(what: impl AsRef<str>, shows: &[(&str, &str)]) -> TestCaseError {
    let shown: String = shows
        .iter()
        .map(|(name, text)| format!("\n--- {name}\n{text}\n"))
        .collect();
    TestCaseError::fail(format!("{}{shown}", what.as_ref()))
}
