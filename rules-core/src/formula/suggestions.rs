//! What may have been meant by a name that is unknown.

use std::cell::Cell;

use crate::document::near_miss;

/// Looks for names that may have been meant, for as many unknown ones as takes little time.
#[derive(Debug)]
pub struct Suggestions {
    /// How many names may still be looked at.
    left: Cell<usize>,
}

/// Names that are looked at in one load, which takes two or three seconds. With the shipped rules there are a hundred and fifty to look at for an unknown one: that is
/// enough for some six thousand; those that come after have no suggestion.
const MOST_LOOKED_AT: usize = 1_000_000;

impl Default for Suggestions {
    fn default() -> Self {
        Self { left: Cell::new(MOST_LOOKED_AT) }
    }
}

impl Suggestions {
    /// The known name most like a word, if one is near enough to be meant and there is time left to look.
    #[must_use]
    pub fn near<'k>(&self, word: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
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
    fn names_are_looked_at_as_long_as_there_is_time() {
        let left = |left: usize| Suggestions { left: Cell::new(left) }.near("flor", ["ceiling", "floor"]);
        assert_eq!((left(0), left(1), left(2), left(3)), (None, None, Some("floor"), Some("floor")));
        let suggestions = Suggestions { left: Cell::new(3) };
        assert_eq!(suggestions.near("flor", ["ceiling", "floor"]), Some("floor"));
        assert_eq!(suggestions.near("ceilin", ["ceiling", "floor"]), Some("ceiling"));
        assert_eq!(suggestions.near("ceilin", ["ceiling", "floor"]), None);
    }

    #[test]
    fn a_load_may_look_at_a_million() {
        let suggestions = Suggestions::default();
        let looked_at = (0..1_000_001).filter(|_| suggestions.may_look()).count();
        assert_eq!(looked_at, 1_000_000);
    }
}
