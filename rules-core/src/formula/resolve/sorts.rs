//! Which kinds of numbers go together, and what comes of them.

use std::ops::Range;

use crate::document::Fault;
use crate::formula::fault::FormulaFault;
use crate::formula::tree::{Form, Tree};
use crate::formula::typed::Sort;
use crate::quantity::{Dimension, Kind};

/// A plain number.
pub(super) const PLAIN: Sort = Sort {
    dimension: Dimension::NONE,
    kind: None,
};

pub(super) const COUNT: Sort = Sort {
    dimension: Dimension::NONE,
    kind: Some(Kind::Count),
};

/// The sort of two numbers that must be of one kind.
pub(super) fn same_sort(a: Sort, b: Sort, span: &Range<usize>) -> Result<Sort, FormulaFault> {
    if a.dimension == b.dimension {
        // Beside a ratio a plain number is one too, whichever comes first.
        let kind = if a.kind == Some(Kind::Count) {
            b.kind.or(a.kind)
        } else {
            a.kind.or(b.kind)
        };
        return Ok(Sort {
            dimension: a.dimension,
            kind,
        });
    }
    Err(kinds_differ(a, b, span))
}

pub(super) fn added(
    a: Sort,
    b: Sort,
    minus: bool,
    span: &Range<usize>,
) -> Result<Sort, FormulaFault> {
    let dimension = if minus {
        a.dimension.minus(b.dimension)
    } else {
        a.dimension.plus(b.dimension)
    };
    let Some(dimension) = dimension else {
        return Err(kinds_differ(a, b, span));
    };
    let kind = if dimension == a.dimension {
        a.kind.or(b.kind)
    } else {
        dimension.kind()
    };
    Ok(Sort { dimension, kind })
}

/// The sort of two sides of a comparison; a fault names the sides, for the one that is wrong may be
/// defined elsewhere.
pub(super) fn compared_sort(
    (a, a_tree): (Sort, &Tree),
    (b, b_tree): (Sort, &Tree),
    span: &Range<usize>,
) -> Result<Sort, FormulaFault> {
    same_sort(a, b, span).map_err(|fault| {
        let side = |sort: Sort, tree: &Tree| match &tree.form {
            Form::Name { subject, word } => format!("`{subject}.{word}` is {}", sort_name(sort)),
            _ => format!("this side is {}", sort_name(sort)),
        };
        let message = format!(
            "{} and {}: they cannot be compared",
            side(a, a_tree),
            side(b, b_tree)
        );
        FormulaFault { message, ..fault }
    })
}

fn kinds_differ(a: Sort, b: Sort, span: &Range<usize>) -> FormulaFault {
    let message = format!("{} and {} do not go together", sort_name(a), sort_name(b));
    let plain = [a, b].iter().any(|sort| sort.dimension.is_none());
    let other = [a, b]
        .into_iter()
        .find(|sort| !sort.dimension.is_none())
        .and_then(|sort| sort.kind);
    let help = match (plain, other) {
        (true, Some(kind)) => format!(
            "{} needs a unit: {}",
            kind.with_article(),
            kind.unit_names().join(", ")
        ),
        _ => "both sides must be of one kind".to_owned(),
    };
    FormulaFault::new(Fault::KindsDiffer, span.clone(), message, help)
}

pub(super) fn not_absolute(sort: Sort, span: &Range<usize>) -> Result<(), FormulaFault> {
    if !sort.dimension.is_absolute() {
        return Ok(());
    }
    let message = "a temperature can only be compared, or changed by a temperature difference";
    Err(FormulaFault::new(
        Fault::KindsDiffer,
        span.clone(),
        message,
        "take the difference of two temperatures first",
    ))
}

/// A sort in the words of a message.
pub(super) fn sort_name(sort: Sort) -> String {
    match sort.kind {
        _ if sort.dimension.is_none() => "a plain number".to_owned(),
        Some(kind) => kind.with_article(),
        None => format!("a number in {}", sort.dimension),
    }
}
