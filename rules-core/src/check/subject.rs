//! The subject of a finding, a fact or a figure.

use std::fmt;
use std::ops::Deref;
use std::sync::Arc;

/// `cable K4`, `site`; or several of which nothing is known and that are reported as one: the
/// cables that a proposal calls for and does not list, and groups of such cables. It reads as its
/// name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Subject {
    name: Arc<str>,
    count: usize,
}

impl Subject {
    /// One of a name.
    #[must_use]
    pub fn one(name: &str) -> Self {
        Self::of(name, 1)
    }

    /// So many that go by one name.
    #[must_use]
    pub fn of(name: &str, count: usize) -> Self {
        Self {
            name: name.into(),
            count,
        }
    }

    /// The name.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.name
    }

    /// How many go by it.
    #[must_use]
    pub const fn count(&self) -> usize {
        self.count
    }
}

impl Deref for Subject {
    type Target = str;

    fn deref(&self) -> &str {
        &self.name
    }
}

impl PartialEq<str> for Subject {
    fn eq(&self, name: &str) -> bool {
        *self.name == *name
    }
}

impl PartialEq<&str> for Subject {
    fn eq(&self, name: &&str) -> bool {
        *self.name == **name
    }
}

/// The name; of several with how many they are: `cable (not listed; 498 of them)`.
impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.count, self.name.strip_suffix(')')) {
            (1, _) => f.write_str(&self.name),
            (count, Some(open)) => write!(f, "{open}; {count} of them)"),
            (count, None) => write!(f, "{} ({count} of them)", self.name),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn several_say_how_many_they_are() {
        assert_eq!(Subject::one("cable K4").to_string(), "cable K4");
        assert_eq!(
            Subject::of("cable (not listed)", 1).to_string(),
            "cable (not listed)"
        );
        assert_eq!(
            Subject::of("cable (not listed)", 2).to_string(),
            "cable (not listed; 2 of them)"
        );
        assert_eq!(Subject::of("cable", 2).to_string(), "cable (2 of them)");
    }
}
