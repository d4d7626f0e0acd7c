//! What the formulas of a stack may name, as far as it is compiled.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use crate::document::{Node, Problems, Suggestions};
use crate::facts::{Catalogue, SubjectId};
use crate::formula::{FigureId, FigureSort, FormulaFault, LimitId, Vocabulary};
use crate::quantity::Kind;

/// Names of limits, figures and faulty definitions, and what is counted over all formulas.
#[derive(Debug, Default)]
pub(super) struct Names {
    /// Limits, without `limit.`.
    pub limits: BTreeMap<String, (LimitId, Kind)>,
    /// Figures, by dotted name.
    pub figures: BTreeMap<String, (FigureId, SubjectId, FigureSort)>,
    /// Facts and figures that are at fault, by dotted name.
    pub faulty: BTreeSet<String>,
    pub folds: Cell<usize>,
    pub suggestions: Suggestions,
}

impl Names {
    pub(super) fn vocabulary<'v>(&'v self, catalogue: &'v Catalogue) -> Vocabulary<'v> {
        let Self { limits, figures, faulty, folds, suggestions } = self;
        Vocabulary { catalogue, limits, figures, faulty, folds, suggestions }
    }
}

/// What came of a formula; its faults are added.
pub(super) fn told<T>(resolved: Result<T, Vec<FormulaFault>>, formula: &Node<'_>, problems: &mut Problems<'_>) -> Option<T> {
    resolved.map_err(|faults| faults.into_iter().for_each(|fault| tell(fault, formula, problems))).ok()
}

/// Adds a fault at its place in a text.
pub(super) fn tell(fault: FormulaFault, text: &Node<'_>, problems: &mut Problems<'_>) {
    problems.add_within(fault.fault, text, fault.span, fault.message, fault.help);
}
