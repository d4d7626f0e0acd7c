//! Results that hold for the whole sheet and are worked out once: figures, by the one they are
//! about, and folds over all.

use crate::formula::evaluated::Evaluated;
use crate::formula::truth::Truth;
use crate::formula::typed::FigureId;

/// A result kept, of either form.
#[derive(Debug, Clone, Copy)]
enum KeptResult {
    Number(Evaluated),
    Truth(Truth),
}

/// Results kept so far.
#[derive(Debug)]
pub(super) struct KeptResults {
    figures: Vec<Vec<Option<KeptResult>>>,
    /// Where the result of each fold is, counted from 1; 0 while there is none. Most rulesets have
    /// many folds, and most checks ask for few.
    folds: Vec<u32>,
    of_folds: Vec<KeptResult>,
}

impl KeptResults {
    pub(super) fn new(figures: usize, folds: usize) -> Self {
        Self {
            figures: vec![Vec::new(); figures],
            folds: vec![0; folds],
            of_folds: Vec::new(),
        }
    }

    fn kept(&self, id: FigureId, position: usize) -> Option<KeptResult> {
        self.figures
            .get(id.0)
            .and_then(|of| of.get(position))
            .copied()
            .flatten()
    }

    fn keep(&mut self, id: FigureId, position: usize, kept: KeptResult) {
        let Some(of) = self.figures.get_mut(id.0) else {
            return;
        };
        if of.len() <= position && position < usize::MAX {
            of.resize(position + 1, None);
        }
        if let Some(place) = of.get_mut(position) {
            *place = Some(kept);
        }
    }

    pub(super) fn figure(&self, id: FigureId, position: usize) -> Option<Evaluated> {
        match self.kept(id, position) {
            Some(KeptResult::Number(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_figure(&mut self, id: FigureId, position: usize, worked: Evaluated) {
        self.keep(id, position, KeptResult::Number(worked));
    }

    pub(super) fn figure_truth(&self, id: FigureId, position: usize) -> Option<Truth> {
        match self.kept(id, position) {
            Some(KeptResult::Truth(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_figure_truth(&mut self, id: FigureId, position: usize, truth: Truth) {
        self.keep(id, position, KeptResult::Truth(truth));
    }

    pub(super) fn fold(&self, number: usize) -> Option<Evaluated> {
        match self.of_fold(number) {
            Some(KeptResult::Number(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_fold(&mut self, number: usize, worked: Evaluated) {
        self.add_fold(number, KeptResult::Number(worked));
    }

    pub(super) fn fold_truth(&self, number: usize) -> Option<Truth> {
        match self.of_fold(number) {
            Some(KeptResult::Truth(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_fold_truth(&mut self, number: usize, truth: Truth) {
        self.add_fold(number, KeptResult::Truth(truth));
    }

    fn of_fold(&self, number: usize) -> Option<KeptResult> {
        let place = self.folds.get(number)?.checked_sub(1)?;
        self.of_folds.get(place as usize).copied()
    }

    /// Keeps the result of a fold that has none yet.
    fn add_fold(&mut self, number: usize, kept: KeptResult) {
        if let Some(place) = self.folds.get_mut(number) {
            self.of_folds.push(kept);
            *place = u32::try_from(self.of_folds.len()).unwrap_or(0);
        }
    }
}
