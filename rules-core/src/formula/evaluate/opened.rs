//! The library that works out figures, opened for one sheet.

use std::cell::{OnceCell, RefCell};
use std::fmt;

use super::kept::KeptByOne;
use crate::facts::{Worked, WorkedId, Workings};

/// What works out figures for one sheet, opened when the first is asked for, and what it came to.
pub(super) struct OpenedLibrary<'e> {
    workings: OnceCell<Box<dyn Workings + 'e>>,
    worked: RefCell<KeptByOne<Worked>>,
}

impl<'e> OpenedLibrary<'e> {
    /// Not opened yet, of so many figures.
    pub(super) const fn of(figures: usize) -> Self {
        Self {
            workings: OnceCell::new(),
            worked: RefCell::new(KeptByOne::of(figures)),
        }
    }

    /// A figure of the one at a position, of so many, worked out if it was not yet.
    pub(super) fn work(
        &self,
        id: WorkedId,
        (position, of): (usize, usize),
        work: impl FnOnce() -> Worked,
    ) -> Worked {
        if let Some(worked) = self.worked.borrow().get(id.position(), position) {
            return worked;
        }
        let worked = work();
        let mut kept = self.worked.borrow_mut();
        kept.keep(id.position(), (position, of), worked);
        worked
    }

    /// What works out figures, opened if it is not.
    pub(super) fn workings(
        &self,
        open: impl FnOnce() -> Box<dyn Workings + 'e>,
    ) -> &(dyn Workings + 'e) {
        &**self.workings.get_or_init(open)
    }
}

impl fmt::Debug for OpenedLibrary<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.workings.get().is_some() {
            "open"
        } else {
            "not open"
        })
    }
}
