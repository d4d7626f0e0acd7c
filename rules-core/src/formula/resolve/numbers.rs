//! Arithmetic: numbers, what is made of them, and folds.

use std::ops::Range;

use super::resolver::{Resolver, Typed};
use super::sorts::{COUNT, PLAIN, added, not_absolute, same_sort};
use crate::document::Fault;
use crate::facts::SubjectId;
use crate::formula::tree::{Folding, Form, Function, Tree};
use crate::formula::typed::{FactRef, Number, Sort};
use crate::quantity::{Dimension, Kind, Measure, Unit};

impl Resolver<'_, '_> {
    pub(super) fn number(&mut self, tree: &Tree) -> Option<(Number, Sort)> {
        match self.value(tree)? {
            Typed::Number(number, sort) => Some((number, sort)),
            other => {
                let message = format!("a number belongs here; this is {}", other.what());
                self.fault(
                    Fault::KindsDiffer,
                    &tree.span,
                    message,
                    "name a fact, figure or limit that is a number",
                )
            }
        }
    }

    /// The forms that give numbers other than names.
    pub(super) fn number_form(&mut self, tree: &Tree) -> Option<(Number, Sort)> {
        match &tree.form {
            Form::Number { value, unit } => Some(constant(*value, *unit)),
            Form::Sum(terms) => self.sum(terms, &tree.span),
            Form::Product(factors) => self.product(factors),
            Form::Negative(inner) => {
                let (number, sort) = self.number(inner)?;
                self.keep(not_absolute(sort, &tree.span))?;
                Some((Number::Negative(Box::new(number)), sort))
            }
            Form::Call(function, arguments) => self.call(*function, arguments, &tree.span),
            Form::Fold(folding, body) => self.fold(*folding, body, &tree.span),
            Form::Count((plural, at), body) => self.count((plural, at), body, &tree.span),
            _ => self.fault(
                Fault::Syntax,
                &tree.span,
                "a number belongs here",
                "name a fact, figure or limit that is a number",
            ),
        }
    }

    /// Whether terms go together is asked only where all of them are resolved, as for factors and
    /// arguments.
    fn sum(&mut self, terms: &[(bool, Tree)], span: &Range<usize>) -> Option<(Number, Sort)> {
        let (numbers, sorts): (Vec<Number>, Vec<Sort>) = self
            .all(terms.iter().map(|(_, term)| term), Self::number)?
            .into_iter()
            .unzip();
        let mut rest = terms.iter().map(|(minus, _)| *minus).zip(sorts);
        let first = rest.next().map_or(PLAIN, |(_, sort)| sort);
        let total = self.keep(rest.try_fold(first, |so_far, (minus, sort)| {
            added(so_far, sort, minus, span)
        }))?;
        let parts = terms.iter().map(|(minus, _)| *minus).zip(numbers).collect();
        Some((Number::Sum(parts), total))
    }

    fn product(&mut self, factors: &[(bool, Tree)]) -> Option<(Number, Sort)> {
        let numbers = self.all(factors.iter().map(|(_, factor)| factor), Self::factor)?;
        let mut parts = Vec::with_capacity(factors.len());
        let mut dimension = Dimension::NONE;
        let mut whole = true;
        for ((divides, factor), (number, sort)) in factors.iter().zip(numbers) {
            let next = if *divides {
                dimension.per(sort.dimension)
            } else {
                dimension.times(sort.dimension)
            };
            let Some(next) = next else {
                let message = "this product has a unit that means nothing here";
                return self.fault(
                    Fault::KindsDiffer,
                    &factor.span,
                    message,
                    "split it into figures that each mean something",
                );
            };
            dimension = next;
            whole &= !divides && matches!(sort.kind, None | Some(Kind::Count));
            parts.push((*divides, number));
        }
        let kind = if dimension.is_none() && whole {
            Some(Kind::Count)
        } else {
            dimension.kind()
        };
        Some((Number::Product(parts), Sort { dimension, kind }))
    }

    fn factor(&mut self, tree: &Tree) -> Option<(Number, Sort)> {
        let (number, sort) = self.number(tree)?;
        self.keep(not_absolute(sort, &tree.span))?;
        Some((number, sort))
    }

    fn call(
        &mut self,
        function: Function,
        arguments: &[Tree],
        span: &Range<usize>,
    ) -> Option<(Number, Sort)> {
        let (mut numbers, sorts): (Vec<Number>, Vec<Sort>) =
            self.all(arguments, Self::number)?.into_iter().unzip();
        let mut rest = sorts.into_iter();
        let first = rest.next().unwrap_or(PLAIN);
        let sort = self.keep(rest.try_fold(first, |so_far, sort| same_sort(so_far, sort, span)))?;
        let number = match (function, numbers.pop()) {
            (Function::Abs, Some(only)) => {
                self.keep(not_absolute(sort, span))?;
                Number::Abs(Box::new(only))
            }
            (_, last) => {
                numbers.extend(last);
                if function == Function::Min {
                    Number::Least(numbers)
                } else {
                    Number::Greatest(numbers)
                }
            }
        };
        Some((number, sort))
    }

    fn fold(
        &mut self,
        folding: Folding,
        body: &Tree,
        span: &Range<usize>,
    ) -> Option<(Number, Sort)> {
        let subject = self.many_in(body).or_else(|| self.nothing_of_many(body));
        if folding == Folding::Distinct {
            let (over, fact) = self.in_fold(subject, span, |inner| inner.distinct_fact(body));
            return Some((Number::Distinct(over?, fact?), COUNT));
        }
        let (over, number) = self.in_fold(subject, span, |inner| inner.number(body));
        let (over, (number, sort)) = (over?, number?);
        if folding == Folding::Sum {
            self.keep(not_absolute(sort, span))?;
        }
        let sort = if folding == Folding::Spread {
            self.keep(added(sort, sort, true, span))?
        } else {
            sort
        };
        Some((Number::Fold(folding, over, Box::new(number)), sort))
    }

    /// A fold whose body names nothing that there are many of. An unknown name in it may be meant
    /// for one, and is reported on its own.
    fn nothing_of_many<T>(&mut self, body: &Tree) -> Option<T> {
        if !body.names().iter().all(|name| self.is_known(*name)) {
            return None;
        }
        let help = "name a fact of each, such as `max of subject.fact`";
        self.fault(
            Fault::KindsDiffer,
            &body.span,
            "nothing here has many values to fold",
            help,
        )
    }

    fn is_known(&self, (subject, word): (&str, &str)) -> bool {
        let full = [subject, ".", word].concat();
        let vocabulary = self.vocabulary;
        (subject == "limit" && vocabulary.limits.contains_key(word))
            || vocabulary.figures.contains_key(&full)
            || self.catalogue().find(&full).is_some()
    }

    fn distinct_fact(&mut self, body: &Tree) -> Option<FactRef> {
        match self.value(body)? {
            Typed::Choice(fact) | Typed::Text(fact) => Some(fact),
            other => {
                let message = format!(
                    "`distinct of` counts choices or texts; this is {}",
                    other.what()
                );
                self.fault(
                    Fault::KindsDiffer,
                    &body.span,
                    message,
                    "for numbers, set a limit on `spread of`",
                )
            }
        }
    }

    fn count(
        &mut self,
        (plural, at): (&str, &Range<usize>),
        body: &Tree,
        span: &Range<usize>,
    ) -> Option<(Number, Sort)> {
        let many = self
            .catalogue()
            .subject_of_plural(plural)
            .or_else(|| self.not_counted(plural, at));
        let (over, body) = self.in_fold(many, span, |inner| inner.condition(body));
        Some((Number::Count(over?, Box::new(body?)), COUNT))
    }

    fn not_counted<T>(&mut self, plural: &str, span: &Range<usize>) -> Option<T> {
        let many: Vec<String> = self
            .catalogue()
            .subjects()
            .iter()
            .filter_map(|s| s.plural.as_deref())
            .map(|p| format!("`{p}`"))
            .collect();
        let help = format!("what can be counted are {}", many.join(", "));
        self.fault(
            Fault::UnknownName,
            span,
            format!("`{plural}` cannot be counted"),
            help,
        )
    }

    /// The innermost subject of many that a fold's body names.
    fn many_in(&self, tree: &Tree) -> Option<SubjectId> {
        let named = tree
            .names()
            .into_iter()
            .filter_map(|(subject, _)| self.catalogue().subject_named(subject));
        let many = named.filter(|id| self.catalogue().is_many(*id));
        many.reduce(|a, b| {
            if self.catalogue().container(b) == Some(a) {
                b
            } else {
                a
            }
        })
    }
}

fn constant(value: f64, unit: Option<Unit>) -> (Number, Sort) {
    let sort = unit.map_or(PLAIN, |unit| Sort {
        dimension: unit.dimension(),
        kind: unit.dimension().kind(),
    });
    let base = unit.map_or(value, |unit| unit.to_base(value));
    (Number::Constant(Measure::exact(base)), sort)
}
