//! The facts and limits that take part in a condition, as they are collected.
//!
//! Figures and folds over all have the same result wherever they are named, so what takes part in
//! them is summed up once and kept. That also keeps the work linear where figures rest on one
//! another many times over, or where thousands of findings name one fold.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::context::Context;
use super::fact_at::{FactAt, RestsOn};
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
    summed: Summed,
}

impl Involved {
    /// Adds a fact.
    pub(super) fn fact(&mut self, fact: FactAt) {
        if fact.missing {
            self.missing.push(fact.id);
        }
        self.facts.push(fact);
    }

    /// Puts all but the facts in order, each once. The facts have an order of their own.
    pub(super) fn settle(&mut self) {
        each_once(&mut self.missing);
        each_once(&mut self.limits);
        each_once(&mut self.figures);
    }

    /// Forgets everything and keeps the memory.
    pub(super) fn clear(&mut self) {
        self.facts.clear();
        self.hidden = 0;
        self.missing.clear();
        self.limits.clear();
        self.figures.clear();
        self.summed.clear();
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

/// What was added so far. Most conditions add few sums, and need no memory of their own for it.
#[derive(Debug, Clone, Default)]
struct Summed {
    first: Vec<SumKey>,
    more: BTreeSet<SumKey>,
}

impl Summed {
    /// So many are looked through one by one.
    const FEW: usize = 8;

    /// Adds a key; whether it is new.
    fn insert(&mut self, key: SumKey) -> bool {
        if self.first.contains(&key) {
            return false;
        }
        if self.first.len() < Self::FEW {
            self.first.push(key);
            return true;
        }
        self.more.insert(key)
    }

    fn clear(&mut self) {
        self.first.clear();
        self.more.clear();
    }
}

fn each_once<T: Ord>(list: &mut Vec<T>) {
    list.sort_unstable();
    list.dedup();
}

/// What facts rest on, as it is listed.
impl From<Involved> for RestsOn {
    fn from(settled: Involved) -> Self {
        Self {
            facts: settled.facts,
            more_facts: settled.hidden,
        }
    }
}

/// A fact with its rank among those that it is put in order with.
pub(super) type Ranked = (u64, FactAt);

/// What was summed up so far, for one sheet, and memory that explanations use in turn.
#[derive(Debug, Default)]
pub(super) struct KeptInvolved {
    sums: BTreeMap<SumKey, Rc<Involved>>,
    spare: Involved,
    spare_ranked: Vec<Ranked>,
}

impl KeptInvolved {
    /// What was summed up under a key.
    pub(super) fn get(&self, key: SumKey) -> Option<&Involved> {
        self.sums.get(&key).map(|sum| &**sum)
    }

    /// Keeps what was summed up under a key.
    pub(super) fn keep(&mut self, key: SumKey, sum: Rc<Involved>) {
        self.sums.insert(key, sum);
    }

    /// Memory to explain a condition in.
    pub(super) fn take_spare(&mut self) -> Involved {
        std::mem::take(&mut self.spare)
    }

    /// Keeps that memory for the next condition.
    pub(super) fn give_back(&mut self, spare: Involved) {
        self.spare = spare;
    }

    /// Puts facts in the order of their ranks, each once.
    pub(super) fn order(&mut self, facts: &mut Vec<FactAt>, rank: impl Fn(&FactAt) -> u64) {
        if facts.len() < 2 {
            return;
        }
        let ranked = &mut self.spare_ranked;
        ranked.extend(facts.drain(..).map(|fact| (rank(&fact), fact)));
        ranked.sort_unstable();
        ranked.dedup();
        facts.extend(ranked.drain(..).map(|(_, fact)| fact));
    }
}
