//! A part of a set, with what is known of it.

use super::standing::{Head, Mark, Standing};

/// What is known of a part of a set.
#[derive(Debug, Clone)]
pub(super) struct Part {
    /// By cautions that look at single cells, and at packs.
    pub alone: Standing,
    pub packs: Vec<usize>,
    /// By cautions that only get worse, of the whole and of each group.
    pub marks: Vec<Vec<Mark>>,
    /// By those that only get worse as whole groups join.
    pub full: Vec<Mark>,
    pub groups: Vec<Vec<usize>>,
}

impl Part {
    /// What of that counts before margins do.
    pub(super) fn head(&self, joining: &Standing) -> Head {
        let marks = self.marks.iter().flatten().chain(&self.full);
        marks.fold(self.alone.head.and(joining.head), Head::with)
    }

    /// The best that can come of it, when what is still to join comes to this by itself.
    pub(super) fn standing(&self, joining: &Standing) -> Standing {
        self.alone
            .and(joining)
            .with(self.marks.iter().flatten().chain(&self.full))
    }
}
