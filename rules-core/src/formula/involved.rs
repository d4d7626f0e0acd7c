//! The facts and limits that take part in a condition, as they are collected.
//!
//! Figures and folds over all have the same result wherever they are named, so what takes part in
//! them is summed up once and kept. That also keeps the work linear where figures rest on one
//! another many times over, or where thousands of findings name one fold.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::context::Context;
use super::fact_at::FactAt;
use super::typed::{FigureId, LimitId};
use crate::facts::{FactId, Needs, WorkedId};

/// What is summed up once: a figure of one of its subject, or a fold over all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum SumKey {
    Figure(FigureId, usize, bool, Context),
    Worked(WorkedId, SumFor),
    Fold(usize, bool, Context),
}

/// For whom a sum of a library figure holds: with the facts used and missed, for they may have used
/// different ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum SumFor {
    One(usize),
    In(usize, Needs, Needs),
    All(Needs, Needs),
}

/// Facts and limits being collected; of what was summed up, only the facts to list. Until they are
/// [settled](Self::settled), they stand as they were met, the same many times.
#[derive(Debug, Clone, Default)]
pub(super) struct Involved {
    pub facts: Vec<FactAt>,
    /// How many are left out of what was summed up.
    pub hidden: usize,
    pub missing: Vec<FactId>,
    pub limits: Vec<LimitId>,
    /// Figures of the library, and which one of their subject they are of.
    pub figures: Vec<(WorkedId, usize)>,
    summed: BTreeSet<SumKey>,
}

impl Involved {
    /// Adds a fact.
    pub(super) fn fact(&mut self, fact: FactAt) {
        if fact.missing {
            self.missing.push(fact.id);
        }
        self.facts.push(fact);
    }

    /// All but the facts in order, each once. The facts are put in an order of their own.
    pub(super) fn settled(mut self) -> Self {
        each_once(&mut self.missing);
        each_once(&mut self.limits);
        each_once(&mut self.figures);
        self
    }

    /// Adds what was summed up under a key, once.
    pub(super) fn add(&mut self, key: SumKey, sum: &Self) {
        if !self.summed.insert(key) {
            return;
        }
        self.facts.extend(&sum.facts);
        self.hidden += sum.hidden;
        self.missing.extend(&sum.missing);
        self.limits.extend(&sum.limits);
        self.figures.extend(&sum.figures);
    }
}

fn each_once<T: Ord>(list: &mut Vec<T>) {
    list.sort_unstable();
    list.dedup();
}

/// What was summed up so far, for one sheet.
#[derive(Debug, Default)]
pub(super) struct KeptInvolved(BTreeMap<SumKey, Rc<Involved>>);

impl KeptInvolved {
    /// What was summed up under a key.
    pub(super) fn get(&self, key: SumKey) -> Option<&Involved> {
        self.0.get(&key).map(|sum| &**sum)
    }

    /// Keeps what was summed up under a key.
    pub(super) fn keep(&mut self, key: SumKey, sum: Rc<Involved>) {
        self.0.insert(key, sum);
    }
}
