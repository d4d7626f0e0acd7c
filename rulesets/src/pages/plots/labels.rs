//! Words beside marks, where there is room for them: none lies on another or on a mark.

use super::drawing::{Drawing, Place};

/// The size of a letter.
const LETTER: (f64, f64) = (8.5, 13.0);

/// A stretch of the drawing that is taken: from its upper left to its lower right.
type Taken = (Place, Place);

/// What is taken of a drawing, and from where to where across words may stand.
pub(super) struct Labels {
    within: (f64, f64),
    taken: Vec<Taken>,
}

impl Labels {
    pub(super) const fn within(within: (f64, f64)) -> Self {
        Self {
            within,
            taken: Vec::new(),
        }
    }

    /// Keeps a mark of half this size free.
    pub(super) fn keep(&mut self, (x, y): Place, half: f64) {
        self.taken
            .push(((x - half, y - half), (x + half, y + half)));
    }

    /// How wide a text is, about.
    pub(super) fn width(text: &str) -> f64 {
        let letters = u32::try_from(text.chars().count()).unwrap_or(u32::MAX);
        LETTER.0 * f64::from(letters)
    }

    /// Writes a text at the first of these starts of its base line where there is room; nowhere if
    /// there is none.
    pub(super) fn write(
        &mut self,
        class: &'static str,
        text: &str,
        starts: &[Place],
        drawing: &mut Drawing<'_>,
    ) {
        let width = Self::width(text);
        let room = |(x, y): Place| ((x, y - LETTER.1 + 2.0), (x + width, y + 2.0));
        let (left, right) = self.within;
        let is_free = |start: &&Place| {
            let wanted = room(**start);
            let inside = wanted.0.0 > left && wanted.1.0 < right;
            inside && !self.taken.iter().any(|one| meet(*one, wanted))
        };
        if let Some(start) = starts.iter().find(is_free) {
            drawing.text(class, *start, text);
            self.taken.push(room(*start));
        }
    }
}

fn meet(one: Taken, other: Taken) -> bool {
    one.0.0 < other.1.0 && other.0.0 < one.1.0 && one.0.1 < other.1.1 && other.0.1 < one.1.1
}
