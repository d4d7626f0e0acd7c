//! A spread as a share of the greatest.

use super::program::{FigureCode, Program};
use super::tree::Folding;
use super::typed::{Number, Over};

/// What a number folds, if it is the spread of something over the greatest of the same, or a figure
/// that is.
pub(super) fn spread_over_greatest<'n>(
    number: &'n Number,
    program: &'n Program,
) -> Option<(Over, &'n Number)> {
    match number {
        Number::Figure(id, _) => match program.figures.get(id.0)? {
            FigureCode::Number(number, _) => spread_over_greatest(number, program),
            FigureCode::Condition(_) => None,
        },
        Number::Product(factors) => match factors.as_slice() {
            [
                (false, Number::Fold(Folding::Spread, over, body)),
                (true, Number::Fold(Folding::Max, other, same)),
            ] if body == same && over.is_like(*other) => Some((*over, body)),
            _ => None,
        },
        _ => None,
    }
}
