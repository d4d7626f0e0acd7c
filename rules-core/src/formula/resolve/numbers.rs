//! Arithmetic: which kinds go together, and what comes of them.

use std::ops::Range;

use super::{Resolved, Resolver, Typed};
use crate::document::Fault;
use crate::facts::SubjectId;
use crate::formula::fault::FormulaFault;
use crate::formula::tree::{Folding, Form, Function, Tree};
use crate::formula::typed::{FactRef, Number, Sort};
use crate::quantity::{Dimension, Kind, Measure, Unit};

/// A plain number.
const PLAIN: Sort = Sort { dimension: Dimension::NONE, kind: None };
const COUNT: Sort = Sort { dimension: Dimension::NONE, kind: Some(Kind::Count) };

impl Resolver<'_, '_> {
    pub(super) fn number(&self, tree: &Tree) -> Resolved<(Number, Sort)> {
        match self.value(tree)? {
            Typed::Number(number, sort) => Ok((number, sort)),
            other => {
                let message = format!("a number belongs here; this is {}", other.what());
                Err(FormulaFault::new(Fault::KindsDiffer, tree.span.clone(), message, "name a fact, figure or limit that is a number"))
            }
        }
    }

    /// The forms that give numbers other than names.
    pub(super) fn number_form(&self, tree: &Tree) -> Resolved<(Number, Sort)> {
        match &tree.form {
            Form::Number { value, unit } => Ok(constant(*value, *unit)),
            Form::Sum(terms) => self.sum(terms, &tree.span),
            Form::Product(factors) => self.product(factors),
            Form::Negative(inner) => {
                let (number, sort) = self.number(inner)?;
                not_absolute(sort, &tree.span)?;
                Ok((Number::Negative(Box::new(number)), sort))
            }
            Form::Call(function, arguments) => self.call(*function, arguments, &tree.span),
            Form::Fold(folding, body) => self.fold(*folding, body, &tree.span),
            Form::Count((plural, at), body) => self.count((plural, at), body, &tree.span),
            _ => Err(FormulaFault::new(
                Fault::Syntax,
                tree.span.clone(),
                "a number belongs here",
                "name a fact, figure or limit that is a number",
            )),
        }
    }

    fn sum(&self, terms: &[(bool, Tree)], span: &Range<usize>) -> Resolved<(Number, Sort)> {
        let mut parts = Vec::with_capacity(terms.len());
        let mut total: Option<Sort> = None;
        for (minus, term) in terms {
            let (number, sort) = self.number(term)?;
            total = Some(match total {
                None => sort,
                Some(so_far) => added(so_far, sort, *minus, span)?,
            });
            parts.push((*minus, number));
        }
        Ok((Number::Sum(parts), total.unwrap_or(PLAIN)))
    }

    fn product(&self, factors: &[(bool, Tree)]) -> Resolved<(Number, Sort)> {
        let mut parts = Vec::with_capacity(factors.len());
        let mut dimension = Dimension::NONE;
        let mut whole = true;
        for (divides, factor) in factors {
            let (number, sort) = self.number(factor)?;
            not_absolute(sort, &factor.span)?;
            let next = if *divides { dimension.per(sort.dimension) } else { dimension.times(sort.dimension) };
            let Some(next) = next else {
                return Err(FormulaFault::new(
                    Fault::KindsDiffer,
                    factor.span.clone(),
                    "this product is of a kind without a meaning",
                    "split it into figures that have one",
                ));
            };
            dimension = next;
            whole &= !divides && matches!(sort.kind, None | Some(Kind::Count));
            parts.push((*divides, number));
        }
        let kind = if dimension.is_none() && whole { Some(Kind::Count) } else { dimension.kind() };
        Ok((Number::Product(parts), Sort { dimension, kind }))
    }

    fn call(&self, function: Function, arguments: &[Tree], span: &Range<usize>) -> Resolved<(Number, Sort)> {
        let mut numbers = Vec::with_capacity(arguments.len());
        let mut common: Option<Sort> = None;
        for argument in arguments {
            let (number, sort) = self.number(argument)?;
            common = Some(match common {
                None => sort,
                Some(so_far) => same_sort(so_far, sort, span)?,
            });
            numbers.push(number);
        }
        let sort = common.unwrap_or(PLAIN);
        let number = match (function, numbers.pop()) {
            (Function::Abs, Some(only)) => {
                not_absolute(sort, span)?;
                Number::Abs(Box::new(only))
            }
            (_, last) => {
                numbers.extend(last);
                if function == Function::Min { Number::Least(numbers) } else { Number::Greatest(numbers) }
            }
        };
        Ok((number, sort))
    }

    fn fold(&self, folding: Folding, body: &Tree, span: &Range<usize>) -> Resolved<(Number, Sort)> {
        let Some(subject) = self.many_in(body) else {
            let help = "name a fact of each, such as `max of cell.x`";
            return Err(FormulaFault::new(Fault::KindsDiffer, body.span.clone(), "there is nothing of many here to fold", help));
        };
        let (over, inner) = self.enter_fold(subject, span)?;
        if folding == Folding::Distinct {
            return Ok((Number::Distinct(over, inner.distinct_fact(body)?), COUNT));
        }
        let (number, sort) = inner.number(body)?;
        if folding == Folding::Sum {
            not_absolute(sort, span)?;
        }
        let sort = if folding == Folding::Spread { added(sort, sort, true, span)? } else { sort };
        Ok((Number::Fold(folding, over, Box::new(number)), sort))
    }

    fn distinct_fact(&self, body: &Tree) -> Resolved<FactRef> {
        match self.value(body)? {
            Typed::Choice(fact) | Typed::Text(fact) => Ok(fact),
            other => {
                let message = format!("`distinct of` counts choices or texts; this is {}", other.what());
                Err(FormulaFault::new(Fault::KindsDiffer, body.span.clone(), message, "for numbers, limit their `spread of`"))
            }
        }
    }

    fn count(&self, (plural, at): (&str, &Range<usize>), body: &Tree, span: &Range<usize>) -> Resolved<(Number, Sort)> {
        let Some(subject) = self.catalogue().subject_of_plural(plural) else {
            let many: Vec<String> = self.catalogue().subjects().iter().filter_map(|s| s.plural).map(|p| format!("`{p}`")).collect();
            let help = format!("what can be counted are {}", many.join(", "));
            return Err(FormulaFault::new(Fault::UnknownName, at.clone(), format!("`{plural}` cannot be counted"), help));
        };
        let (over, inner) = self.enter_fold(subject, span)?;
        Ok((Number::Count(over, Box::new(inner.condition(body)?)), COUNT))
    }

    /// The innermost subject of many that a fold's body names.
    fn many_in(&self, tree: &Tree) -> Option<SubjectId> {
        let named = tree.names().into_iter().filter_map(|(subject, _)| self.catalogue().subject_named(subject));
        let many = named.filter(|id| self.catalogue().is_many(*id));
        many.reduce(|a, b| if self.catalogue().container(b) == Some(a) { b } else { a })
    }
}

fn constant(value: f64, unit: Option<Unit>) -> (Number, Sort) {
    let sort = unit.map_or(PLAIN, |unit| Sort { dimension: unit.dimension(), kind: unit.dimension().kind() });
    let base = unit.map_or(value, |unit| unit.to_base(value));
    (Number::Constant(Measure::exact(base)), sort)
}

/// The sort of two numbers that must be of one kind.
pub(super) fn same_sort(a: Sort, b: Sort, span: &Range<usize>) -> Resolved<Sort> {
    if a.dimension == b.dimension {
        // Beside a ratio a plain number is one too, whichever stands first.
        let kind = if a.kind == Some(Kind::Count) { b.kind.or(a.kind) } else { a.kind.or(b.kind) };
        return Ok(Sort { dimension: a.dimension, kind });
    }
    Err(kinds_differ(a, b, span))
}

fn added(a: Sort, b: Sort, minus: bool, span: &Range<usize>) -> Resolved<Sort> {
    let dimension = if minus { a.dimension.minus(b.dimension) } else { a.dimension.plus(b.dimension) };
    let Some(dimension) = dimension else { return Err(kinds_differ(a, b, span)) };
    let kind = if dimension == a.dimension { a.kind.or(b.kind) } else { dimension.kind() };
    Ok(Sort { dimension, kind })
}

/// The sort of two sides of a comparison; a fault names the sides, for the one that is wrong may be defined elsewhere.
pub(super) fn compared_sort((a, a_tree): (Sort, &Tree), (b, b_tree): (Sort, &Tree), span: &Range<usize>) -> Resolved<Sort> {
    same_sort(a, b, span).map_err(|fault| {
        let side = |sort: Sort, tree: &Tree| match &tree.form {
            Form::Name { subject, word } => format!("`{subject}.{word}` is {}", sort_name(sort)),
            _ => format!("this side is {}", sort_name(sort)),
        };
        let message = format!("{} and {}: they do not compare", side(a, a_tree), side(b, b_tree));
        FormulaFault { message, ..fault }
    })
}

fn kinds_differ(a: Sort, b: Sort, span: &Range<usize>) -> FormulaFault {
    let message = format!("{} and {} do not go together", sort_name(a), sort_name(b));
    let plain = [a, b].iter().any(|sort| sort.dimension.is_none());
    let other = [a, b].into_iter().find(|sort| !sort.dimension.is_none()).and_then(|sort| sort.kind);
    let help = match (plain, other) {
        (true, Some(kind)) => format!("{} needs a unit: {}", kind.with_article(), kind.unit_names().join(", ")),
        _ => "both sides must be of one kind".to_owned(),
    };
    FormulaFault::new(Fault::KindsDiffer, span.clone(), message, help)
}

fn not_absolute(sort: Sort, span: &Range<usize>) -> Resolved<()> {
    if !sort.dimension.is_absolute() {
        return Ok(());
    }
    let message = "a temperature can only be compared, or have a difference added to it or taken from it";
    Err(FormulaFault::new(Fault::KindsDiffer, span.clone(), message, "take the difference of two temperatures first"))
}

/// A sort in the words of a message.
pub(super) fn sort_name(sort: Sort) -> String {
    match sort.kind {
        _ if sort.dimension.is_none() => "a plain number".to_owned(),
        Some(kind) => kind.with_article(),
        None => format!("a number in {}", sort.dimension),
    }
}
