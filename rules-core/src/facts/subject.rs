//! Subjects: what facts are about.

use crate::snapshot::stored;
use std::borrow::Cow;

/// The most subjects a catalogue may have.
pub const MOST_SUBJECTS: usize = 8;

/// A subject by number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SubjectId(u8);

impl SubjectId {
    /// The subject at a position of the catalogue's list.
    #[must_use]
    pub const fn new(position: u8) -> Self {
        Self(position)
    }

    /// The position in the catalogue's list.
    #[must_use]
    pub const fn position(self) -> usize {
        self.0 as usize
    }
}

/// What facts are about: one thing, or each of many.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SubjectDef {
    /// The name in formulas: `cable`.
    pub name: Cow<'static, str>,
    /// The name of all of them, where there are many: `cables`.
    pub plural: Option<Cow<'static, str>>,
    /// The subject each of the many belongs to.
    pub container: Option<SubjectId>,
    /// Whether a proposal has a section for it, where facts that rulesets declare can be written
    /// under `extra`.
    pub has_section: bool,
    /// What a report says of an optional subject, if a proposal has none.
    pub if_none: Option<Cow<'static, str>>,
    /// What it is.
    pub meaning: Cow<'static, str>,
}

impl SubjectDef {
    /// A subject there is one of.
    #[must_use]
    pub const fn single(name: &'static str, meaning: &'static str) -> Self {
        Self {
            name: Cow::Borrowed(name),
            plural: None,
            container: None,
            has_section: true,
            if_none: None,
            meaning: Cow::Borrowed(meaning),
        }
    }

    /// A subject there are many of.
    #[must_use]
    pub const fn many(
        name: &'static str,
        plural: &'static str,
        container: Option<SubjectId>,
        meaning: &'static str,
    ) -> Self {
        Self {
            name: Cow::Borrowed(name),
            plural: Some(Cow::Borrowed(plural)),
            container,
            has_section: true,
            if_none: None,
            meaning: Cow::Borrowed(meaning),
        }
    }

    /// The same, of which there may be none. A report then says this.
    #[must_use]
    pub fn or_none(self, says: &'static str) -> Self {
        Self {
            if_none: Some(Cow::Borrowed(says)),
            ..self
        }
    }

    /// The same, without a section of its own: everything known of it is worked out.
    #[must_use]
    pub fn without_section(self) -> Self {
        Self {
            has_section: false,
            ..self
        }
    }
}

stored!(struct SubjectId(position));
stored!(struct SubjectDef { name, plural, container, has_section, if_none, meaning });
