//! Which one of each subject a formula is evaluated for.

use crate::facts::{MOST_SUBJECTS, SubjectId};

/// Which one of each subject a formula is being evaluated for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Bound([u32; MOST_SUBJECTS]);

impl Bound {
    /// The position of the one of a subject.
    #[must_use]
    pub fn position(self, subject: SubjectId) -> usize {
        self.0
            .get(subject.position())
            .map_or(usize::MAX, |position| *position as usize)
    }

    pub(super) fn set(&mut self, subject: SubjectId, position: usize) {
        if let Some(place) = self.0.get_mut(subject.position()) {
            // There are never so many of a subject. If there were, the last position would be
            // nobody's.
            *place = u32::try_from(position).unwrap_or(u32::MAX);
        }
    }
}
