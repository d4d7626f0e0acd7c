//! The subject of a finding, a fact or a figure.

use std::cmp::Ordering;
use std::fmt;
use std::sync::Arc;

/// One of a kind of subject, or several of which nothing is known and that are told as one: the
/// cables that a proposal calls for and does not list, and groups of such cables.
///
/// It is one allocation that all who speak of it share.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Subject(Arc<Called>);

/// What a subject is called.
#[derive(Debug, PartialEq, Eq, Hash)]
struct Called {
    kind: Box<str>,
    who: Who,
    count: usize,
}

/// Which of its kind it is.
#[derive(Debug, PartialEq, Eq, Hash)]
enum Who {
    /// The only one.
    Only,
    /// One with a name.
    Named(Box<str>),
    /// One without a name, that stands for others: what reports call it.
    StandsIn { called: Box<str>, listed: bool },
}

impl Subject {
    /// The only one of its kind.
    #[must_use]
    pub fn only(kind: &str) -> Self {
        Self::new(kind, Who::Only, 1)
    }

    /// One of a kind, by its name.
    #[must_use]
    pub fn named(kind: &str, name: &str) -> Self {
        Self::new(kind, Who::Named(name.into()), 1)
    }

    /// What stands for those of a kind that nobody names. Reports call it so.
    #[must_use]
    pub fn nameless(kind: &str, called: &str) -> Self {
        let called = called.into();
        let who = Who::StandsIn {
            called,
            listed: true,
        };
        Self::new(kind, who, 1)
    }

    /// What stands for so many of a kind that a proposal calls for and does not list. Reports call it
    /// so.
    #[must_use]
    pub fn not_listed(kind: &str, called: &str, count: usize) -> Self {
        let called = called.into();
        let who = Who::StandsIn {
            called,
            listed: false,
        };
        Self::new(kind, who, count)
    }

    fn new(kind: &str, who: Who, count: usize) -> Self {
        let kind = kind.into();
        Self(Arc::new(Called { kind, who, count }))
    }

    /// The same for all clones of one, so that those are told from others without their names. Equal
    /// ones that were made apart differ in it.
    pub(crate) fn address(&self) -> usize {
        Arc::as_ptr(&self.0).addr()
    }

    /// The kind: `cable`, `site`.
    #[must_use]
    pub fn kind(&self) -> &str {
        &self.0.kind
    }

    /// The name, of one that has a name: `K4`.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        match &self.0.who {
            Who::Named(name) => Some(name),
            Who::Only | Who::StandsIn { .. } => None,
        }
    }

    /// What reports call one that has no name: `(not listed)`.
    #[must_use]
    pub fn called(&self) -> Option<&str> {
        match &self.0.who {
            Who::StandsIn { called, .. } => Some(called),
            Who::Only | Who::Named(_) => None,
        }
    }

    /// What tells it from others of its kind; none of the only one.
    #[must_use]
    pub fn own(&self) -> Option<&str> {
        self.name().or(self.called())
    }

    /// Whether it is the only one of its kind.
    #[must_use]
    pub fn is_only(&self) -> bool {
        matches!(self.0.who, Who::Only)
    }

    /// False for what a proposal calls for and does not list.
    #[must_use]
    pub fn is_listed(&self) -> bool {
        !matches!(self.0.who, Who::StandsIn { listed: false, .. })
    }

    /// How many it stands for.
    #[must_use]
    pub fn count(&self) -> usize {
        self.0.count
    }

    /// Kind and name as a person says them: `cable K4`, `site`, `cable (not listed)`.
    #[must_use]
    pub fn in_words(&self) -> String {
        match self.own() {
            Some(own) => format!("{} {own}", self.kind()),
            None => self.0.kind.to_string(),
        }
    }

    /// What tells it from others of its kind, of several with how many they are: `K4`,
    /// `(not listed; 498 of them)`.
    pub(crate) fn own_with_count(&self) -> Option<String> {
        let own = self.own()?;
        Some(match (self.0.count, own.strip_suffix(')')) {
            (1, _) => own.to_owned(),
            (count, Some(open)) => format!("{open}; {count} of them)"),
            (count, None) => format!("{own} ({count} of them)"),
        })
    }
}

/// By kind, then by name as it is written.
impl Ord for Subject {
    fn cmp(&self, other: &Self) -> Ordering {
        if Arc::ptr_eq(&self.0, &other.0) {
            return Ordering::Equal;
        }
        let key = |one: &Self| (one.name().is_some(), one.is_listed(), one.count());
        (self.kind(), self.own(), key(self)).cmp(&(other.kind(), other.own(), key(other)))
    }
}

impl PartialOrd for Subject {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// As a person says it; of several with how many they are: `cable (not listed; 498 of them)`.
impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.own_with_count() {
            Some(own) => write!(f, "{} {own}", self.kind()),
            None => f.write_str(&self.0.kind),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn several_say_how_many_they_are() {
        let told = |subject: Subject| subject.to_string();
        assert_eq!(told(Subject::only("site")), "site");
        assert_eq!(told(Subject::named("cable", "K4")), "cable K4");
        let unlisted = |count| told(Subject::not_listed("cable", "(not listed)", count));
        assert_eq!(unlisted(1), "cable (not listed)");
        assert_eq!(unlisted(2), "cable (not listed; 2 of them)");
        assert_eq!(
            told(Subject::not_listed("cable", "others", 2)),
            "cable others (2 of them)"
        );
    }

    /// What one is called in reports is never taken for a name.
    #[test]
    fn a_name_like_that_of_a_stand_in_is_a_name() {
        let named = Subject::named("cable", "(not listed)");
        let stands_in = Subject::not_listed("cable", "(not listed)", 1);
        assert_ne!(named, stands_in);
        assert_ne!(named.cmp(&stands_in), Ordering::Equal);
        assert_eq!(named.in_words(), stands_in.in_words());
        assert!(named.is_listed() && !stands_in.is_listed());
        assert_eq!(
            (named.name(), stands_in.name()),
            (Some("(not listed)"), None)
        );
        let nameless = Subject::nameless("circuit", "(not stated)");
        assert!(nameless.is_listed() && nameless.name().is_none());
    }
}
