//! Formulas without facts, worked out by the library.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use rules_core::document::{Fault, Suggestions};
use rules_core::facts::{Catalogue, Sheet};
use rules_core::formula::{
    Bound, Evaluator, FigureCode, FormulaFault, Program, Sort, UnreadSorts, Vocabulary, parse,
    resolve_figure,
};
use rules_core::quantity::Interval;

/// Reads and works out formulas against a catalogue.
pub(crate) struct Desk {
    catalogue: Catalogue,
}

/// A number and what kind it is.
pub(crate) struct Worked {
    pub(crate) range: Interval,
    pub(crate) sort: Sort,
}

impl Desk {
    pub(crate) fn new() -> Self {
        Self {
            catalogue: rulesets::catalogue(),
        }
    }

    fn code(&self, text: &str) -> Result<FigureCode, Vec<FormulaFault>> {
        let vocabulary = Vocabulary {
            catalogue: &self.catalogue,
            limits: &BTreeMap::new(),
            former_limits: &BTreeMap::new(),
            figures: &BTreeMap::new(),
            faulty: &BTreeSet::new(),
            folds: &Cell::new(0),
            unread: UnreadSorts::default(),
            suggestions: &Suggestions::default(),
        };
        let about = self
            .catalogue
            .subject_named("build")
            .expect("the build is a subject");
        resolve_figure(
            &parse(text).map_err(|fault| vec![fault])?,
            Some(about),
            &vocabulary,
        )
    }

    /// What a formula of numbers comes to.
    pub(crate) fn work_out(&self, text: &str) -> Result<Worked, String> {
        let (number, sort) = match self.code(text) {
            Ok(FigureCode::Number(number, sort)) => (number, sort),
            Ok(FigureCode::Condition(_)) => return Err(format!("`{text}` is a condition")),
            Err(faults) => return Err(format!("`{text}`: {faults:?}")),
        };
        let (program, sheet) = (Program::default(), Sheet::new(&self.catalogue));
        let evaluated = Evaluator::new(&self.catalogue, &program, &sheet, false)
            .number(&number, &Bound::default());
        Ok(Worked {
            range: evaluated.value.range(),
            sort,
        })
    }

    /// Why a formula is refused before any number is worked out; none if it is not.
    pub(crate) fn refusal(&self, text: &str) -> Option<Fault> {
        self.code(text)
            .err()
            .and_then(|faults| faults.first().map(|fault| fault.fault))
    }
}
