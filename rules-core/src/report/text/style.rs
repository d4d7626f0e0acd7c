//! What parts of a text are, for those who want to dress them.

use crate::check::Verdict;

/// What a stretch of text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Running text.
    Text,
    /// The word of a verdict.
    Verdict(Verdict),
    /// A title or heading.
    Heading,
    /// A label before an entry.
    Label,
    /// What matters less: names and places.
    Quiet,
}

/// Puts something before and after a stretch of text, such as the codes that colour a terminal. The
/// text says the same without it.
pub trait Style {
    /// What comes before and after text of a role. Neither takes up room on the page.
    fn around(&self, role: Role) -> (&'static str, &'static str);
}

/// No dress at all.
#[derive(Debug, Clone, Copy, Default)]
pub struct Plain;

impl Style for Plain {
    fn around(&self, _: Role) -> (&'static str, &'static str) {
        ("", "")
    }
}
