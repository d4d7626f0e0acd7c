//! Parts of texts that many findings quote.

use std::fmt;
use std::ops::{Deref, Range};
use std::sync::Arc;

/// A part of a text that it shares with whoever else quotes it.
#[derive(Clone)]
pub struct Excerpt {
    of: Arc<str>,
    part: Range<usize>,
}

impl Excerpt {
    /// The part of a text without the space round it; of a stretch that is not there, the whole text.
    pub(crate) fn trimmed(of: &Arc<str>, stretch: &Range<usize>) -> Self {
        let (start, part) = match of.get(stretch.clone()) {
            Some(part) => (stretch.start, part),
            None => (0, &**of),
        };
        let from = start + (part.len() - part.trim_start().len());
        Self {
            part: from..from + part.trim().len(),
            of: Arc::clone(of),
        }
    }
}

/// All of a text.
impl From<&str> for Excerpt {
    fn from(text: &str) -> Self {
        Self {
            part: 0..text.len(),
            of: text.into(),
        }
    }
}

impl Deref for Excerpt {
    type Target = str;

    fn deref(&self) -> &str {
        self.of.get(self.part.clone()).unwrap_or_default()
    }
}

/// Excerpts are equal where they read alike.
impl PartialEq for Excerpt {
    fn eq(&self, other: &Self) -> bool {
        **self == **other
    }
}

impl fmt::Display for Excerpt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self)
    }
}

impl fmt::Debug for Excerpt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(&**self, f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_space_round_a_part_is_left_out() {
        let text: Arc<str> = "a and  b ".into();
        assert_eq!(&*Excerpt::trimmed(&text, &(5..9)), "b");
        assert_eq!(&*Excerpt::trimmed(&text, &(0..1)), "a");
        assert_eq!(&*Excerpt::trimmed(&text, &(1..2)), "");
        assert_eq!(&*Excerpt::trimmed(&text, &(5..10)), "a and  b");
        assert_eq!(Excerpt::trimmed(&text, &(6..8)), Excerpt::from("b"));
    }
}
