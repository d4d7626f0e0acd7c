//! The tree of a formula, as written.

use std::ops::Range;

use crate::quantity::Unit;
use crate::snapshot::stored;

/// A part of a formula and where it is in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    /// What is there.
    pub form: Form,
    /// Bytes of the formula's text.
    pub span: Range<usize>,
}

impl Tree {
    /// Every dotted name in it: what is before the dot and what after.
    #[must_use]
    pub fn names(&self) -> Vec<(&str, &str)> {
        let mut found = Vec::new();
        self.add_names(&mut found);
        found
    }

    fn add_names<'t>(&'t self, found: &mut Vec<(&'t str, &'t str)>) {
        match &self.form {
            Form::Name { subject, word } => found.push((subject, word)),
            Form::Sum(parts) | Form::Product(parts) => {
                parts.iter().for_each(|(_, part)| part.add_names(found))
            }
            Form::Or(parts) | Form::And(parts) | Form::Call(_, parts) => {
                parts.iter().for_each(|part| part.add_names(found))
            }
            Form::Not(inner) | Form::Negative(inner) | Form::Known(inner) | Form::In(inner, _) => {
                inner.add_names(found)
            }
            Form::Fold(_, inner)
            | Form::Count(_, inner)
            | Form::Every(_, inner)
            | Form::Any(_, inner) => inner.add_names(found),
            Form::Compare(_, a, b) => {
                a.add_names(found);
                b.add_names(found);
            }
            Form::Number { .. } | Form::Word(_) | Form::YesNo(_) => {}
        }
    }
}

/// The forms a part can have.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// A number with or without a unit, as written.
    Number {
        /// The number before its unit.
        value: f64,
        /// The unit, if there is one.
        unit: Option<Unit>,
    },
    /// `subject.word` or `limit.word`.
    Name {
        /// What is before the dot.
        subject: String,
        /// What is after it.
        word: String,
    },
    /// A bare word: an option of a choice.
    Word(String),
    /// `yes` or `no`.
    YesNo(bool),
    /// `a or b or c`.
    Or(Vec<Tree>),
    /// `a and b and c`.
    And(Vec<Tree>),
    /// `not a`.
    Not(Box<Tree>),
    /// `a <= b`.
    Compare(Comparison, Box<Tree>, Box<Tree>),
    /// `a in [x, y]`.
    In(Box<Tree>, Vec<(String, Range<usize>)>),
    /// `a is known`.
    Known(Box<Tree>),
    /// `a + b - c`; the flag marks what is subtracted.
    Sum(Vec<(bool, Tree)>),
    /// `a * b / c`; the flag marks what divides.
    Product(Vec<(bool, Tree)>),
    /// `-a`.
    Negative(Box<Tree>),
    /// `min(a, b)`, `max(a, b)`, `abs(a)`.
    Call(Function, Vec<Tree>),
    /// `max of a`.
    Fold(Folding, Box<Tree>),
    /// `count of cables where a`, with the place of the subject's name.
    Count((String, Range<usize>), Box<Tree>),
    /// `every cable has a`.
    Every((String, Range<usize>), Box<Tree>),
    /// `any cable has a`.
    Any((String, Range<usize>), Box<Tree>),
}

/// Functions of several numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Function {
    /// The least.
    Min,
    /// The greatest.
    Max,
    /// The size without the sign.
    Abs,
}

/// Ways to make one number of many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Folding {
    /// The least.
    Min,
    /// The greatest.
    Max,
    /// All added up.
    Sum,
    /// The average.
    Mean,
    /// The greatest less the least.
    Spread,
    /// How many differ.
    Distinct,
}

/// Comparisons.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Comparison {
    /// `<`
    Below,
    /// `<=`
    AtMost,
    /// `>`
    Above,
    /// `>=`
    AtLeast,
    /// `==`
    Equal,
    /// `!=`
    NotEqual,
}

stored!(
    enum Folding {
        Min,
        Max,
        Sum,
        Mean,
        Spread,
        Distinct,
    }
);
stored!(
    enum Comparison {
        Below,
        AtMost,
        Above,
        AtLeast,
        Equal,
        NotEqual,
    }
);
