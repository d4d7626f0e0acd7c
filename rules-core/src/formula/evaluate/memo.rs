//! Results that hold for the whole sheet and are worked once: figures, by the one they are about, and folds over all.

use super::Evaluated;
use crate::formula::truth::Truth;
use crate::formula::typed::FigureId;

/// A result kept, of either form.
#[derive(Debug, Clone, Copy)]
enum Kept {
    Number(Evaluated),
    Truth(Truth),
}

/// Results kept so far.
#[derive(Debug)]
pub(super) struct Memo {
    figures: Vec<Vec<Option<Kept>>>,
    folds: Vec<Option<Kept>>,
}

impl Memo {
    pub(super) fn new(figures: usize, folds: usize) -> Self {
        Self { figures: vec![Vec::new(); figures], folds: vec![None; folds] }
    }

    fn kept(&self, id: FigureId, position: usize) -> Option<Kept> {
        self.figures.get(id.0).and_then(|of| of.get(position)).copied().flatten()
    }

    fn keep(&mut self, id: FigureId, position: usize, kept: Kept) {
        let Some(of) = self.figures.get_mut(id.0) else { return };
        if of.len() <= position && position < usize::MAX {
            of.resize(position + 1, None);
        }
        if let Some(place) = of.get_mut(position) {
            *place = Some(kept);
        }
    }

    pub(super) fn figure(&self, id: FigureId, position: usize) -> Option<Evaluated> {
        match self.kept(id, position) {
            Some(Kept::Number(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_figure(&mut self, id: FigureId, position: usize, worked: Evaluated) {
        self.keep(id, position, Kept::Number(worked));
    }

    pub(super) fn figure_truth(&self, id: FigureId, position: usize) -> Option<Truth> {
        match self.kept(id, position) {
            Some(Kept::Truth(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_figure_truth(&mut self, id: FigureId, position: usize, truth: Truth) {
        self.keep(id, position, Kept::Truth(truth));
    }

    pub(super) fn fold(&self, number: usize) -> Option<Evaluated> {
        match self.folds.get(number).copied().flatten() {
            Some(Kept::Number(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_fold(&mut self, number: usize, worked: Evaluated) {
        if let Some(place) = self.folds.get_mut(number) {
            *place = Some(Kept::Number(worked));
        }
    }

    pub(super) fn fold_truth(&self, number: usize) -> Option<Truth> {
        match self.folds.get(number).copied().flatten() {
            Some(Kept::Truth(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_fold_truth(&mut self, number: usize, truth: Truth) {
        if let Some(place) = self.folds.get_mut(number) {
            *place = Some(Kept::Truth(truth));
        }
    }
}
