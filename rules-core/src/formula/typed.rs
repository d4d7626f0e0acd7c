//! Formulas with names turned into slots and kinds settled: a number stays a number and a condition
//! a condition.

use std::ops::Range;

use super::tree::{Comparison, Folding};
use crate::facts::{FactId, OptionSet, SubjectId, WorkedId};
use crate::quantity::{Dimension, Kind, Measure};
#[cfg(any(test, feature = "snapshot"))]
use crate::snapshot::Writer;
use crate::snapshot::{Reader, Stored, stored};

/// A limit of a program, by position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LimitId(pub usize);

/// A figure of a program, by position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FigureId(pub usize);

/// A fact and the slot that holds it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FactRef {
    /// The fact.
    pub id: FactId,
    /// Its subject.
    pub subject: SubjectId,
    /// Its slot among the facts of the subject.
    pub slot: usize,
}

/// What a fold goes over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Over {
    /// Each of these.
    pub subject: SubjectId,
    /// Only those inside the one at hand of this subject.
    pub within: Option<SubjectId>,
    /// The fold's number in the program. Folds over all have one result per sheet, kept under it.
    pub number: usize,
}

impl Over {
    /// Whether it goes over all of a subject.
    pub(super) fn is_of_all(self, subject: SubjectId) -> bool {
        self.within.is_none() && self.subject == subject
    }

    /// Whether another fold goes over the same.
    pub(super) fn is_like(self, other: Self) -> bool {
        (self.subject, self.within) == (other.subject, other.within)
    }
}

/// The kind of number a formula gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sort {
    /// What decides whether two numbers go together.
    pub dimension: Dimension,
    /// How it is called and shown, where facts, units or figures say.
    pub kind: Option<Kind>,
}

impl Sort {
    /// That of a kind.
    #[must_use]
    pub const fn of(kind: Kind) -> Self {
        Self {
            dimension: kind.dimension(),
            kind: Some(kind),
        }
    }

    /// The kind, if it has one with a name.
    #[must_use]
    pub fn named_kind(self) -> Option<Kind> {
        self.kind.or_else(|| self.dimension.kind())
    }

    /// The kind a number is shown in.
    #[must_use]
    pub fn shown_kind(self) -> Kind {
        self.named_kind().unwrap_or(Kind::Ratio)
    }
}

/// A formula that gives a number.
#[derive(Debug, Clone, PartialEq)]
pub enum Number {
    /// A number written in the formula.
    Constant(Measure),
    /// A limit.
    Limit(LimitId),
    /// A fact.
    Fact(FactRef),
    /// A figure of the library.
    Worked(WorkedId, SubjectId),
    /// A figure of the ruleset.
    Figure(FigureId, SubjectId),
    /// Terms added, or subtracted where marked.
    Sum(Vec<(bool, Number)>),
    /// Factors multiplied, or divided by where marked.
    Product(Vec<(bool, Number)>),
    /// The number with its sign turned.
    Negative(Box<Number>),
    /// The size without the sign.
    Abs(Box<Number>),
    /// The least of several.
    Least(Vec<Number>),
    /// The greatest of several.
    Greatest(Vec<Number>),
    /// One number made of many.
    Fold(Folding, Over, Box<Number>),
    /// How many different values a choice or text has.
    Distinct(Over, FactRef),
    /// How many meet a condition.
    Count(Over, Box<Condition>),
}

/// One side of a comparison, and where it is in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Operand {
    /// The number.
    pub number: Number,
    /// Bytes of the formula's text.
    pub span: Range<usize>,
}

/// A formula that gives a condition, and where it is in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// The condition.
    pub form: Test,
    /// Bytes of the formula's text.
    pub span: Range<usize>,
}

/// Nothing meets it.
impl Default for Condition {
    fn default() -> Self {
        Self {
            form: Test::Constant(false),
            span: 0..0,
        }
    }
}

impl Condition {
    /// Whether it can be `no` at all: `is known` never is.
    #[must_use]
    pub fn can_be_no(&self) -> bool {
        match &self.form {
            Test::Known(_) => false,
            Test::And(parts) => parts.iter().any(Self::can_be_no),
            Test::Or(parts) => parts.iter().all(Self::can_be_no),
            Test::Every(_, body) | Test::Any(_, body) => body.can_be_no(),
            _ => true,
        }
    }
}

/// The forms of a condition.
#[derive(Debug, Clone, PartialEq)]
pub enum Test {
    /// `yes` or `no`.
    Constant(bool),
    /// A yes-no fact.
    Fact(FactRef),
    /// A figure that is a condition.
    Figure(FigureId, SubjectId),
    /// At least one part.
    Or(Vec<Condition>),
    /// Every part.
    And(Vec<Condition>),
    /// The opposite.
    Not(Box<Condition>),
    /// Two numbers compared.
    Compare {
        /// How.
        comparison: Comparison,
        /// The left side.
        left: Operand,
        /// The right side.
        right: Operand,
        /// What kind of numbers they are.
        sort: Sort,
    },
    /// A choice is one of these options.
    In(FactRef, OptionSet),
    /// Two choices are the same option.
    SameOption(FactRef, FactRef),
    /// Two texts are the same.
    SameText(FactRef, FactRef),
    /// A value was given.
    Known(FactRef),
    /// Every one meets the condition.
    Every(Over, Box<Condition>),
    /// At least one meets the condition.
    Any(Over, Box<Condition>),
}

/// Limits may have other numbers where rules are extended.
impl Stored for LimitId {
    #[cfg(any(test, feature = "snapshot"))]
    fn write(&self, to: &mut Writer) {
        to.number(self.0);
    }

    fn read(from: &mut Reader) -> Option<Self> {
        from.limit().map(Self)
    }
}

stored!(struct FigureId(at));
stored!(struct FactRef { id, subject, slot });
stored!(struct Over { subject, within, number });
stored!(struct Sort { dimension, kind });
stored!(
    enum Number {
        Constant(measure),
        Limit(id),
        Fact(fact),
        Worked(id, subject),
        Figure(id, subject),
        Sum(terms),
        Product(factors),
        Negative(inner),
        Abs(inner),
        Least(all),
        Greatest(all),
        Fold(folding, over, body),
        Distinct(over, fact),
        Count(over, body),
    }
);
stored!(struct Operand { number, span });
stored!(struct Condition { form, span });
stored!(enum Test { Constant(yes), Fact(fact), Figure(id, subject), Or(parts), And(parts), Not(inner), Compare { comparison, left, right, sort }, In(fact, options), SameOption(one, other), SameText(one, other), Known(fact), Every(over, body), Any(over, body) });
