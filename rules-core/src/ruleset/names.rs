//! What the formulas of a stack may name, as far as it is compiled.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use super::layer::Layer;
use crate::document::{Node, Problems, Suggestions};
use crate::facts::{Catalogue, SubjectId};
use crate::formula::{FigureId, FigureSort, FormulaFault, LimitId, UnreadSorts, Vocabulary};
use crate::quantity::Kind;

/// Names of limits, figures and faulty definitions, and what is counted over all formulas.
#[derive(Debug, Default)]
pub(crate) struct Names {
    /// Limits, without `limit.`.
    pub limits: BTreeMap<String, (LimitId, Kind)>,
    /// Limits by names that they had before.
    pub former_limits: BTreeMap<String, String>,
    /// Figures, by dotted name.
    pub figures: BTreeMap<String, (FigureId, SubjectId, FigureSort)>,
    /// Facts, figures and limits that are at fault, by dotted name.
    pub faulty: BTreeSet<String>,
    /// Whether more may be defined than could be read.
    pub unread: UnreadSorts,
    pub folds: Cell<usize>,
    pub suggestions: Suggestions,
}

impl Names {
    pub(crate) fn vocabulary<'v>(&'v self, catalogue: &'v Catalogue) -> Vocabulary<'v> {
        let Self {
            limits,
            former_limits,
            figures,
            faulty,
            unread,
            folds,
            suggestions,
        } = self;
        Vocabulary {
            catalogue,
            limits,
            former_limits,
            figures,
            faulty,
            unread: *unread,
            folds,
            suggestions,
        }
    }

    /// Notes a dotted name of which the definition is at fault. If its subject is unknown, any may
    /// be meant.
    pub(super) fn note_faulty(&mut self, full: &str, catalogue: &Catalogue) {
        let (subject, word) = full.split_once('.').unwrap_or(("", full));
        if catalogue.subject_named(subject).is_none() {
            let meant = catalogue
                .subjects()
                .iter()
                .map(|subject| format!("{}.{word}", subject.name));
            self.faulty
                .extend(meant.filter(|name| catalogue.find(name).is_none()));
        }
        self.faulty.insert(full.to_owned());
    }

    /// Notes the names that limits of a layer had before.
    pub(super) fn note_former(&mut self, layer: &Layer) {
        for limit in &layer.limits {
            let former = limit.body.written.formerly.iter().cloned();
            let called = former.map(|former| (former, limit.name.clone()));
            self.former_limits.extend(called);
        }
    }

    /// Notes what could not be read of a layer.
    pub(super) fn note_unread(&mut self, layer: &Layer, catalogue: &Catalogue) {
        let unread = &layer.unread;
        self.faulty.extend(
            unread
                .limits
                .names
                .keys()
                .map(|name| format!("limit.{name}")),
        );
        unread
            .facts
            .names
            .keys()
            .chain(unread.figures.names.keys())
            .for_each(|name| self.note_faulty(name, catalogue));
        self.unread.limits |= unread.limits.nameless;
        self.unread.others |= unread.facts.nameless || unread.figures.nameless;
    }
}

/// What came of a formula; its faults are added.
pub(super) fn told<T>(
    resolved: Result<T, Vec<FormulaFault>>,
    formula: &Node<'_>,
    problems: &mut Problems<'_>,
) -> Option<T> {
    resolved
        .map_err(|faults| {
            faults
                .into_iter()
                .for_each(|fault| tell(fault, formula, problems))
        })
        .ok()
}

/// Adds a fault at its place in a text.
pub(super) fn tell(fault: FormulaFault, text: &Node<'_>, problems: &mut Problems<'_>) {
    problems.add_within(fault.fault, text, fault.span, fault.message, fault.help);
}
