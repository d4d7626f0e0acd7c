//! The library that works out figures, opened for one sheet.

use std::cell::OnceCell;
use std::fmt;

use crate::facts::Workings;

/// What works out figures for one sheet, opened when the first is asked for.
pub(super) struct OpenedLibrary<'e>(OnceCell<Box<dyn Workings + 'e>>);

impl<'e> OpenedLibrary<'e> {
    pub(super) const fn new() -> Self {
        Self(OnceCell::new())
    }

    /// What works out figures, opened if it is not.
    pub(super) fn workings(
        &self,
        open: impl FnOnce() -> Box<dyn Workings + 'e>,
    ) -> &(dyn Workings + 'e) {
        &**self.0.get_or_init(open)
    }
}

impl fmt::Debug for OpenedLibrary<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.0.get().is_some() {
            "open"
        } else {
            "not open"
        })
    }
}
