//! The names a formula may use.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use crate::document::Suggestions;
use crate::facts::{Catalogue, SubjectId};
use crate::formula::program::FigureSort;
use crate::formula::typed::{FigureId, LimitId};
use crate::quantity::Kind;

/// The names a formula may use.
#[derive(Debug)]
pub struct Vocabulary<'v> {
    /// Subjects, facts and library figures.
    pub catalogue: &'v Catalogue,
    /// Limits by name, without `limit.`.
    pub limits: &'v BTreeMap<String, (LimitId, Kind)>,
    /// Limits by names that they had before.
    pub former_limits: &'v BTreeMap<String, String>,
    /// Figures by dotted name.
    pub figures: &'v BTreeMap<String, (FigureId, SubjectId, FigureSort)>,
    /// Dotted names of facts, figures and limits that are defined, but not well: what rests on them
    /// is not reported again.
    pub faulty: &'v BTreeSet<String>,
    /// Whether more may be defined than could be read.
    pub unread: UnreadSorts,
    /// How many folds have been numbered.
    pub folds: &'v Cell<usize>,
    /// What may have been meant by names that are unknown.
    pub suggestions: &'v Suggestions,
}

/// Which sorts of definitions there may be more of than could be read. Of these a name that is
/// unknown is no fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct UnreadSorts {
    /// Limits.
    pub limits: bool,
    /// Facts or figures.
    pub others: bool,
}

impl Vocabulary<'_> {
    /// Whether a dotted name that is not known may be defined all the same, by what is at fault or
    /// could not be read.
    #[must_use]
    pub fn may_be_defined(&self, full: &str) -> bool {
        let unread = if full.starts_with("limit.") {
            self.unread.limits
        } else {
            self.unread.others
        };
        unread || self.faulty.contains(full)
    }
}
