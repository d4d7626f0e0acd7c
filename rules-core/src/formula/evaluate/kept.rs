//! Results that hold for the whole sheet and are worked out once: figures, by the one they are
//! about, and folds over all.

use super::wide::Wide;
use crate::formula::evaluated::Evaluated;
use crate::formula::truth::Truth;
use crate::formula::typed::FigureId;

/// A result kept, of any form.
#[derive(Debug, Clone, Copy)]
enum KeptResult {
    Number(Evaluated),
    Truth(Truth),
    /// Of a number that is not worked out yet.
    Wide(Wide),
}

impl KeptResult {
    /// As a wide interval: a number that is worked out is one too.
    fn wide(self) -> Option<Wide> {
        match self {
            Self::Number(kept) => Some(Wide::evaluated(&kept)),
            Self::Wide(kept) => Some(kept),
            Self::Truth(_) => None,
        }
    }
}

/// What was worked out, by its number and the one it is about. Most of what there could be is never
/// asked for.
#[derive(Debug)]
pub(super) struct KeptByOne<T> {
    numbers: usize,
    /// Where those of each number begin, counted from 1, one for each of its subject; 0 while there
    /// is none.
    begins: Vec<u32>,
    kept: Vec<Option<T>>,
}

/// Room for what most checks ask for.
const USUALLY_ASKED: usize = 16;

impl<T: Copy> KeptByOne<T> {
    /// Nothing is kept, of so many numbers, and there is no room for anything yet.
    pub(super) const fn of(numbers: usize) -> Self {
        Self {
            numbers,
            begins: Vec::new(),
            kept: Vec::new(),
        }
    }

    /// What is kept for the one at a position.
    pub(super) fn get(&self, number: usize, position: usize) -> Option<T> {
        let first = begin(&self.begins, number)?;
        *self.kept.get(first.checked_add(position)?)?
    }

    /// Keeps something for the one at a position, of so many.
    pub(super) fn keep(&mut self, number: usize, (position, of): (usize, usize), kept: T) {
        if self.begins.is_empty() {
            self.begins.resize(self.numbers, 0);
            self.kept.reserve(USUALLY_ASKED);
        }
        let Some(begins) = self.begins.get_mut(number).filter(|_| position < of) else {
            return;
        };
        if *begins == 0 {
            *begins = u32::try_from(self.kept.len() + 1).unwrap_or(0);
            self.kept.resize(self.kept.len() + of, None);
        }
        let place =
            begin(&self.begins, number).and_then(|first| self.kept.get_mut(first + position));
        if let Some(place) = place {
            *place = Some(kept);
        }
    }
}

/// Results kept so far. Most rulesets have many folds, and most checks ask for few.
#[derive(Debug)]
pub(super) struct KeptResults {
    figures: KeptByOne<KeptResult>,
    /// Where the result of each fold is, counted from 1; 0 while there is none.
    folds: Vec<u32>,
    of_folds: Vec<KeptResult>,
}

impl KeptResults {
    pub(super) fn new(figures: usize, folds: usize) -> Self {
        Self {
            figures: KeptByOne::of(figures),
            folds: vec![0; folds],
            of_folds: Vec::new(),
        }
    }

    pub(super) fn figure(&self, id: FigureId, position: usize) -> Option<Evaluated> {
        match self.figures.get(id.0, position) {
            Some(KeptResult::Number(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_figure(&mut self, id: FigureId, at: (usize, usize), worked: Evaluated) {
        self.figures.keep(id.0, at, KeptResult::Number(worked));
    }

    pub(super) fn wide_figure(&self, id: FigureId, position: usize) -> Option<Wide> {
        self.figures.get(id.0, position).and_then(KeptResult::wide)
    }

    pub(super) fn keep_wide_figure(&mut self, id: FigureId, at: (usize, usize), wide: Wide) {
        self.figures.keep(id.0, at, KeptResult::Wide(wide));
    }

    pub(super) fn figure_truth(&self, id: FigureId, position: usize) -> Option<Truth> {
        match self.figures.get(id.0, position) {
            Some(KeptResult::Truth(kept)) => Some(kept),
            _ => None,
        }
    }

    pub(super) fn keep_figure_truth(&mut self, id: FigureId, at: (usize, usize), truth: Truth) {
        self.figures.keep(id.0, at, KeptResult::Truth(truth));
    }

    pub(super) fn fold(&self, number: usize) -> Option<Evaluated> {
        match self.of_fold(number) {
            Some(KeptResult::Number(kept)) => Some(*kept),
            _ => None,
        }
    }

    pub(super) fn keep_fold(&mut self, number: usize, worked: Evaluated) {
        self.set_fold(number, KeptResult::Number(worked));
    }

    pub(super) fn wide_fold(&self, number: usize) -> Option<Wide> {
        self.of_fold(number).copied().and_then(KeptResult::wide)
    }

    pub(super) fn keep_wide_fold(&mut self, number: usize, wide: Wide) {
        self.set_fold(number, KeptResult::Wide(wide));
    }

    pub(super) fn fold_truth(&self, number: usize) -> Option<Truth> {
        match self.of_fold(number) {
            Some(KeptResult::Truth(kept)) => Some(*kept),
            _ => None,
        }
    }

    pub(super) fn keep_fold_truth(&mut self, number: usize, truth: Truth) {
        self.set_fold(number, KeptResult::Truth(truth));
    }

    fn of_fold(&self, number: usize) -> Option<&KeptResult> {
        self.of_folds.get(begin(&self.folds, number)?)
    }

    /// Keeps the result of a fold, in place of one that is less.
    fn set_fold(&mut self, number: usize, kept: KeptResult) {
        let before = begin(&self.folds, number).and_then(|at| self.of_folds.get_mut(at));
        if let Some(before) = before {
            *before = kept;
        } else if let Some(place) = self.folds.get_mut(number) {
            self.of_folds.push(kept);
            *place = u32::try_from(self.of_folds.len()).unwrap_or(0);
        }
    }
}

/// Where what is kept of a number begins, if there is any.
fn begin(places: &[u32], number: usize) -> Option<usize> {
    (*places.get(number)? as usize).checked_sub(1)
}
