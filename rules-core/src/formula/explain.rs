//! Which parts of a condition decided, on which facts, against which limits.

mod parts;

use std::collections::BTreeSet;
use std::ops::Range;

pub(super) use self::parts::Kept;
use self::parts::Parts;
use super::evaluate::{Bound, Evaluated, Evaluator};
use super::tree::Comparison;
use super::truth::Truth;
use super::typed::{Condition, LimitId, Number, Operand, Sort, Test};
use crate::facts::{FactId, SubjectId, WorkedId};

/// A fact of one of its subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FactAt {
    /// The fact.
    pub id: FactId,
    /// The subject.
    pub subject: SubjectId,
    /// Which one of the subject.
    pub position: usize,
    /// The slot of the fact.
    pub slot: usize,
    /// Whether nothing was given.
    pub missing: bool,
}

/// One side of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Bytes of the formula's text.
    pub span: Range<usize>,
    /// What it came to.
    pub value: Evaluated,
    /// The limit, where the side is nothing else.
    pub limit: Option<LimitId>,
}

/// A part of a condition that is not met, or not surely met.
#[derive(Debug, Clone, PartialEq)]
pub struct Clause {
    /// Bytes of the formula's text.
    pub span: Range<usize>,
    /// What the part came to, as it stands there.
    pub truth: Truth,
    /// Whether the part had to come out `no` (it stands under a `not`).
    pub negated: bool,
    /// For a comparison of numbers: how, the two sides, and what kind of numbers they are.
    pub compared: Option<(Comparison, Side, Side, Sort)>,
    /// The facts that take part, each once.
    pub facts: Vec<FactAt>,
    /// How many more facts take part than are listed.
    pub more_facts: usize,
    /// Every fact of which something is missing, listed or not.
    pub missing: BTreeSet<FactId>,
    /// The limits that take part.
    pub limits: Vec<LimitId>,
    /// The library's figures that take part, and which one of their subject they are of.
    pub figures: Vec<(WorkedId, usize)>,
}

/// Where a walk over a condition is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Walk {
    /// At the top.
    Top,
    /// Inside a joined condition that is still open, or at the top.
    Joined,
    /// Inside a part that is settled the other way.
    Settled,
    /// In what is counted: whichever way each part came out, it took part.
    All,
    /// In a condition that is undecided, for what leaves it so: what is decided did its part.
    Open,
}

impl Walk {
    /// Where the walk is inside a joined condition that came to this.
    pub(super) fn inside(self, truth: Truth) -> Self {
        match self {
            Self::All | Self::Open => self,
            Self::Top => Self::Joined,
            _ if truth.is_undecided() => Self::Joined,
            _ => Self::Settled,
        }
    }

    /// Whether a part that came to this cannot matter any more.
    pub(super) fn leaves_out(self, truth: Truth) -> bool {
        match self {
            Self::Settled => truth.is_undecided(),
            Self::Open => !truth.is_undecided(),
            _ => false,
        }
    }
}

/// What a number or a condition rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Rest {
    /// The facts that take part, each once, missing ones first.
    pub facts: Vec<FactAt>,
    /// How many more facts take part than are listed.
    pub more_facts: usize,
}

impl Evaluator<'_> {
    /// What a number rests on.
    #[must_use]
    pub fn number_rests_on(&self, number: &Number, bound: &Bound) -> Rest {
        let mut parts = Parts::default();
        self.number_parts(number, bound, &mut parts);
        self.listed(&parts)
    }

    /// What a condition rests on, whichever way it comes out.
    #[must_use]
    pub fn condition_rests_on(&self, condition: &Condition, bound: &Bound) -> Rest {
        let mut parts = Parts::default();
        self.counted_parts(condition, bound, &mut parts);
        self.listed(&parts)
    }

    /// The parts that keep a condition from being surely met; empty if it is.
    #[must_use]
    pub fn unmet(&self, condition: &Condition, bound: &Bound) -> Vec<Clause> {
        let mut clauses = Vec::new();
        self.collect(condition, bound, Truth::Yes, Walk::Top, &mut clauses);
        clauses
    }

    /// The parts that leave a condition undecided; empty if it is decided.
    #[must_use]
    pub fn undecided(&self, condition: &Condition, bound: &Bound) -> Vec<Clause> {
        let mut clauses = Vec::new();
        self.collect(condition, bound, Truth::Yes, Walk::Open, &mut clauses);
        clauses
    }

    /// Adds the parts that do not come out as wanted. Inside a joined part that is settled the
    /// other way, what is still undecided cannot matter and is left out; at the top it is named all
    /// the same, so that nothing missing goes unsaid.
    fn collect(
        &self,
        condition: &Condition,
        bound: &Bound,
        wanted: Truth,
        within: Walk,
        clauses: &mut Vec<Clause>,
    ) {
        let truth = self.condition(condition, bound);
        if truth == wanted || within.leaves_out(truth) {
            return;
        }
        match &condition.form {
            Test::And(parts) | Test::Or(parts) => {
                let inner = within.inside(truth);
                parts
                    .iter()
                    .for_each(|part| self.collect(part, bound, wanted, inner, clauses));
            }
            Test::Not(inner) => self.collect(inner, bound, wanted.negated(), within, clauses),
            _ => clauses.push(self.clause(condition, bound, wanted, within)),
        }
    }

    fn clause(&self, condition: &Condition, bound: &Bound, wanted: Truth, within: Walk) -> Clause {
        let mut parts = Parts::default();
        self.condition_parts(condition, bound, (wanted, within), &mut parts);
        let Rest { facts, more_facts } = self.listed(&parts);
        Clause {
            span: condition.span.clone(),
            truth: self.condition(condition, bound),
            negated: wanted == Truth::No,
            compared: self.compared(condition, bound),
            facts,
            more_facts,
            missing: parts.missing,
            limits: parts.limits.into_iter().collect(),
            figures: parts.figures.into_iter().collect(),
        }
    }

    fn compared(
        &self,
        condition: &Condition,
        bound: &Bound,
    ) -> Option<(Comparison, Side, Side, Sort)> {
        let Test::Compare {
            comparison,
            left,
            right,
            sort,
        } = &condition.form
        else {
            return None;
        };
        Some((
            *comparison,
            self.side(left, bound),
            self.side(right, bound),
            *sort,
        ))
    }

    fn side(&self, operand: &Operand, bound: &Bound) -> Side {
        let limit = match operand.number {
            Number::Limit(id) => Some(id),
            _ => None,
        };
        Side {
            span: operand.span.clone(),
            value: self.number(&operand.number, bound),
            limit,
        }
    }
}
