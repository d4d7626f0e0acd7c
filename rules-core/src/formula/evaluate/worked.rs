//! Figures of the library, worked out from the facts of the sheet.

use super::{Bound, Evaluated, Evaluator};
use crate::facts::{Inputs, OptionSet, SubjectId, Value, Worked, WorkedDef, WorkedId};
use crate::formula::typed::FactRef;
use crate::quantity::{Interval, Measure};

impl Evaluator<'_> {
    pub(super) fn worked(&self, id: WorkedId, subject: SubjectId, bound: Bound) -> Evaluated {
        let unsettled = self.sheet.is_unsettled(subject);
        match self.work(id, bound).filter(|_| !unsettled) {
            Some(worked) => Evaluated { value: worked.value, missing: worked.missing != 0 },
            None => Evaluated { value: Measure::of(Interval::WHOLE), missing: true },
        }
    }

    /// A library figure with what it used and missed.
    pub(in crate::formula) fn work(&self, id: WorkedId, bound: Bound) -> Option<Worked> {
        let def = self.catalogue.worked_def(id)?;
        Some((def.work)(&Looking { evaluator: self, def, bound }))
    }

    /// The fact a library figure names at a position of its needs.
    pub(in crate::formula) fn need(&self, def: &WorkedDef, need: usize) -> Option<FactRef> {
        let (id, fact) = self.catalogue.fact_named(def.needs.get(need)?)?;
        Some(FactRef { id, subject: fact.subject, slot: self.catalogue.slot(id) })
    }
}

/// What a library figure sees.
struct Looking<'l, 'e> {
    evaluator: &'l Evaluator<'e>,
    def: &'l WorkedDef,
    bound: Bound,
}

impl Inputs for Looking<'_, '_> {
    fn number(&self, need: usize) -> Option<Measure> {
        let fact = self.evaluator.need(self.def, need)?;
        let found = self.evaluator.fact(fact, self.bound);
        (!found.missing).then_some(found.value)
    }

    fn choice(&self, need: usize) -> Option<OptionSet> {
        let fact = self.evaluator.need(self.def, need)?;
        match self.evaluator.given(fact, self.bound) {
            Some(Value::Choice(set)) => Some(*set),
            _ => None,
        }
    }

    fn each(&self, need: usize) -> Vec<Option<Measure>> {
        let Some(fact) = self.evaluator.need(self.def, need) else { return Vec::new() };
        let one = |at| {
            let found = self.evaluator.fact(fact, self.evaluator.bind(self.bound, fact.subject, at));
            (!found.missing).then_some(found.value)
        };
        (0..self.evaluator.sheet.count(fact.subject)).map(one).collect()
    }
}
