//! What may have been meant by a word that is unknown.

use std::cell::Cell;

/// The known word most like `word`, if one is near enough to be meant.
#[must_use]
pub fn near_miss<'k>(word: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    if word.len() > LONGEST_WORD {
        return None;
    }
    let lower = word.to_lowercase();
    let scored = known
        .into_iter()
        .map(|k| (similarity(&lower, &k.to_lowercase()), k));
    let best = scored.fold(None, |best: Option<(f64, &str)>, next| match best {
        Some(kept) if kept.0 >= next.0 => Some(kept),
        _ => Some(next),
    });
    best.filter(|(score, _)| *score >= 0.75).map(|(_, k)| k)
}

/// Longer words are not compared: nothing known is as long.
const LONGEST_WORD: usize = 100;

/// How alike two words are, 0 to 1: few typing slips, or one inside the other.
fn similarity(a: &str, b: &str) -> f64 {
    if a == b {
        return 1.0;
    }
    let slips = strsim::normalized_damerau_levenshtein(a, b);
    let contained = a.len() >= 4 && b.len() >= 4 && (a.contains(b) || b.contains(a));
    slips
        .max(strsim::jaro_winkler(a, b) - 0.12)
        .max(if contained { 0.8 } else { 0.0 })
}

/// Looks for names that may have been meant, for as many unknown ones as takes little time.
#[derive(Debug, Clone)]
pub struct Suggestions {
    /// How many names may still be looked at.
    left: Cell<usize>,
}

/// How many names are looked at for one file, or for all formulas of a load; this takes two or
/// three seconds. With the shipped rules there are a hundred and fifty names to look at for each
/// unknown name of a formula. So about six thousand unknown names get a suggestion, and those after
/// them get none.
const MOST_LOOKED_AT: usize = 1_000_000;

impl Default for Suggestions {
    fn default() -> Self {
        Self {
            left: Cell::new(MOST_LOOKED_AT),
        }
    }
}

impl Suggestions {
    /// The known name most like a word, if one is near enough to be meant and there is time left to
    /// look.
    #[must_use]
    pub fn near<'k>(
        &self,
        word: &str,
        known: impl IntoIterator<Item = &'k str>,
    ) -> Option<&'k str> {
        near_miss(word, known.into_iter().take_while(|_| self.may_look()))
    }

    fn may_look(&self) -> bool {
        let left = self.left.get();
        self.left.set(left.saturating_sub(1));
        left > 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_misses_are_found_and_strangers_are_not() {
        let known = ["rest_voltage", "capacity", "resistance", "wrap"];
        assert_eq!(near_miss("rest_votlage", known), Some("rest_voltage"));
        assert_eq!(near_miss("capacty", known), Some("capacity"));
        assert_eq!(near_miss("Wrap", known), Some("wrap"));
        assert_eq!(near_miss("ambient", known), None);
    }

    #[test]
    fn names_are_looked_at_as_long_as_there_is_time() {
        let left = |left: usize| {
            Suggestions {
                left: Cell::new(left),
            }
            .near("flor", ["ceiling", "floor"])
        };
        assert_eq!(
            (left(0), left(1), left(2), left(3)),
            (None, None, Some("floor"), Some("floor"))
        );
        let suggestions = Suggestions { left: Cell::new(3) };
        assert_eq!(
            suggestions.near("flor", ["ceiling", "floor"]),
            Some("floor")
        );
        assert_eq!(
            suggestions.near("ceilin", ["ceiling", "floor"]),
            Some("ceiling")
        );
        assert_eq!(suggestions.near("ceilin", ["ceiling", "floor"]), None);
    }

    #[test]
    fn a_load_may_look_at_a_million() {
        let suggestions = Suggestions::default();
        let looked_at = (0..1_000_001).filter(|_| suggestions.may_look()).count();
        assert_eq!(looked_at, 1_000_000);
    }
}
