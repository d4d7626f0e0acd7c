//! What formulas refer to by number: the limits and figures of a ruleset.

use std::borrow::Cow;

use super::typed::{Condition, Number, Sort};
use crate::quantity::{Kind, Measure, Unit};
use crate::snapshot::stored;

/// A limit.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitCode {
    /// Its name, without `limit.`.
    pub name: Cow<'static, str>,
    /// Its value.
    pub value: Measure,
    /// Its kind.
    pub kind: Kind,
    /// The unit it was written in.
    pub unit: Option<Unit>,
}

/// What a figure gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FigureSort {
    /// A number.
    Number(Sort),
    /// A condition.
    Condition,
}

/// A figure's formula.
#[derive(Debug, Clone, PartialEq)]
pub enum FigureCode {
    /// It gives a number.
    Number(Number, Sort),
    /// It gives a condition.
    Condition(Condition),
}

/// Limits and figures by number, ready for evaluation.
#[derive(Debug, Clone, Default)]
pub struct Program {
    /// The limits.
    pub limits: Vec<LimitCode>,
    /// The figures, each after those it rests on.
    pub figures: Vec<FigureCode>,
    /// How many folds there are in all formulas.
    pub folds: usize,
}

stored!(struct LimitCode { name, value, kind, unit });
stored!(
    enum FigureCode {
        Number(number, sort),
        Condition(condition),
    }
);
stored!(struct Program { limits, figures, folds });
