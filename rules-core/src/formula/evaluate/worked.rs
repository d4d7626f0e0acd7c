//! Figures of the library, worked out from the facts of the sheet.

use super::evaluator::Evaluator;
use crate::facts::{Narrowing, SubjectId, Unused, Worked, WorkedId, Workings};
use crate::formula::bound::Bound;
use crate::formula::evaluated::Evaluated;

impl Evaluator<'_> {
    /// A library figure is its interval in simple acceptance too: its width is the model's error
    /// and what missing tests leave open.
    pub(super) fn worked(&self, id: WorkedId, subject: SubjectId, bound: &Bound) -> Evaluated {
        if self.sheet.is_unsettled(subject) {
            return Evaluated::unknown();
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
        let def = self.catalogue.worked_def(id);
        let of = def.map_or(0, |def| self.sheet.count(def.subject));
        let work = || self.workings().work(id, position);
        self.library.work(id, (position, of), work)
    }

    /// What would narrow a library figure of one of its subject.
    #[must_use]
    pub fn narrowings(&self, id: WorkedId, position: usize) -> Vec<Narrowing> {
        self.workings().narrowings(id, position)
    }

    /// Readings of the sheet that no library figure can use.
    #[must_use]
    pub fn unused(&self) -> Vec<Unused> {
        self.workings().unused()
    }

    fn workings(&self) -> &dyn Workings {
        let open = || {
            self.catalogue
                .figures()
                .open(self.catalogue.facts_of(self.sheet))
        };
        self.library.workings(open)
    }
}
