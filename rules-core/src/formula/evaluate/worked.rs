//! Figures of the library, worked out from the facts of the sheet.

use super::{Bound, Evaluated, Evaluator};
use crate::facts::{Facts, SubjectId, Worked, WorkedId, Workings};
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
    /// In simple acceptance the nominal value decides. There is none where the model does not
    /// reach, or where the figure has no bound.
    pub(super) fn worked(&self, id: WorkedId, subject: SubjectId, bound: &Bound) -> Evaluated {
        if self.sheet.is_unsettled(subject) {
            return Evaluated {
                value: Measure::of(Interval::WHOLE),
                missing: true,
            };
        }
        let worked = self.work(id, bound.position(subject));
        let missing = !worked.missing.is_empty();
        let nominal =
            self.simple && !missing && worked.open.is_none() && worked.value.range().is_bounded();
        Evaluated {
            value: if nominal {
                worked.value.to_nominal()
            } else {
                worked.value
            },
            missing,
        }
    }

    /// A library figure of one of its subject, with what it used and missed.
    #[must_use]
    pub fn work(&self, id: WorkedId, position: usize) -> Worked {
        let open = || {
            self.catalogue
                .figures()
                .open(Facts::new(self.catalogue, self.sheet, self.simple))
        };
        self.open.0.get_or_init(open).work(id, position)
    }
}
