//! The problems of all files, from reading them to compiling them: those of each file are counted
//! and reported together.

use crate::document::{Problem, ProblemList, Problems, SetAside};

use super::layer::Layer;

/// The problems of a stack's layers, and those that concern no single place.
pub(crate) struct Ledger<'s> {
    /// Those of each layer.
    pub layers: Vec<Problems<'s>>,
    /// Those without a place.
    pub apart: Vec<Problem>,
}

impl<'s> Ledger<'s> {
    /// Goes on from what was found when the layers were read.
    pub(super) fn new(layers: &'s [Layer], found: Vec<SetAside>, apart: Vec<Problem>) -> Self {
        let layers = layers
            .iter()
            .zip(found)
            .map(|(layer, found)| Problems::resumed(&layer.source, found))
            .collect();
        Self { layers, apart }
    }

    /// The problems in the order of files and places; what has no place, or is only counted, comes
    /// last.
    pub(super) fn finish(self) -> ProblemList {
        let mut all: Vec<Problem> = self
            .layers
            .into_iter()
            .flat_map(Problems::finish)
            .chain(self.apart)
            .collect();
        all.sort_by(|a, b| (a.place.is_none(), &a.place).cmp(&(b.place.is_none(), &b.place)));
        all.into()
    }

    /// What was made, if there is no problem.
    pub(super) fn settle<T>(self, made: Option<T>) -> Result<T, ProblemList> {
        let problems = self.finish();
        made.filter(|_| problems.is_empty()).ok_or(problems)
    }
}
