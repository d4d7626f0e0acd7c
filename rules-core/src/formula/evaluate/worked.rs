//! Figures of the library, worked out from the facts of the sheet.

use super::{Bound, Evaluated, Evaluator};
use crate::facts::{SubjectId, Worked, WorkedId, Workings};
use crate::quantity::{Interval, Measure};

/// What works out figures for one sheet, opened when the first is asked for.
pub(super) struct Open<'e>(std::cell::OnceCell<Box<dyn Workings + 'e>>);

impl Open<'_> {
    pub(super) const fn new() -> Self {
        Self(std::cell::OnceCell::new())
    }
}

impl std::fmt::Debug for Open<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(if self.0.get().is_some() {
            "open"
        } else {
            "not open"
        })
    }
}

impl Evaluator<'_> {
    /// A library figure is its interval in simple acceptance too: its width is the model's error and
    /// what tests that were not made leave open.
    pub(super) fn worked(&self, id: WorkedId, subject: SubjectId, bound: &Bound) -> Evaluated {
        if self.sheet.is_unsettled(subject) {
            return Evaluated {
                value: Measure::of(Interval::WHOLE),
                missing: true,
            };
        }
        let worked = self.work(id, bound.position(subject));
        Evaluated {
            value: worked.value,
            missing: !worked.missing.is_empty(),
        }
    }

    /// A library figure of one of its subject, with what it used and missed.
    #[must_use]
    pub fn work(&self, id: WorkedId, position: usize) -> Worked {
        let open = || {
            self.catalogue
                .figures()
                .open(self.catalogue.facts_of(self.sheet))
        };
        self.open.0.get_or_init(open).work(id, position)
    }
}
