//! The words and signs that stand for comparisons, folds and functions.

use crate::formula::tree::{Comparison, Folding, Function};

pub(super) fn comparison(symbol: &str) -> Option<Comparison> {
    Some(match symbol {
        "<" => Comparison::Below,
        "<=" => Comparison::AtMost,
        ">" => Comparison::Above,
        ">=" => Comparison::AtLeast,
        "==" => Comparison::Equal,
        "!=" => Comparison::NotEqual,
        _ => return None,
    })
}

pub(super) fn folding(word: &str) -> Option<Folding> {
    Some(match word {
        "min" => Folding::Min,
        "max" => Folding::Max,
        "sum" => Folding::Sum,
        "mean" => Folding::Mean,
        "spread" => Folding::Spread,
        "distinct" => Folding::Distinct,
        _ => return None,
    })
}

pub(super) fn function(word: &str) -> Option<Function> {
    Some(match word {
        "min" => Function::Min,
        "max" => Function::Max,
        "abs" => Function::Abs,
        _ => return None,
    })
}
