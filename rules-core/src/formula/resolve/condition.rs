//! Conditions, and which form a part of a formula has.

use std::ops::Range;

use super::resolver::{Resolver, Typed};
use super::sorts::compared_sort;
use crate::document::Fault;
use crate::formula::tree::{Comparison, Form, Tree};
use crate::formula::typed::{Condition, Operand, Over, Test};

impl Resolver<'_, '_> {
    pub(super) fn condition(&mut self, tree: &Tree) -> Option<Condition> {
        match self.value(tree)? {
            Typed::Condition(condition) => Some(condition),
            other => {
                let message = format!("a condition belongs here; this is {}", other.what());
                self.fault(
                    Fault::KindsDiffer,
                    &tree.span,
                    message,
                    "compare it, such as `... >= 3 V`",
                )
            }
        }
    }

    pub(super) fn value(&mut self, tree: &Tree) -> Option<Typed> {
        let test = match &tree.form {
            Form::Word(word) => return Some(Typed::Word(word.clone())),
            Form::Name { subject, word } => return self.name(subject, word, &tree.span),
            Form::YesNo(yes) => Test::Constant(*yes),
            Form::Or(parts) => Test::Or(self.all(parts, Self::condition)?),
            Form::And(parts) => Test::And(self.all(parts, Self::condition)?),
            Form::Not(inner) => Test::Not(Box::new(self.condition(inner)?)),
            Form::Compare(comparison, left, right) => {
                self.compare(*comparison, left, right, &tree.span)?
            }
            Form::In(left, options) => self.in_options(left, options)?,
            Form::Known(inner) => Test::Known(self.known_fact(inner)?),
            Form::Every((subject, at), body) => {
                self.quantified((subject, at), body, &tree.span, Test::Every)?
            }
            Form::Any((subject, at), body) => {
                self.quantified((subject, at), body, &tree.span, Test::Any)?
            }
            _ => {
                let (number, sort) = self.number_form(tree)?;
                return Some(Typed::Number(number, sort));
            }
        };
        Some(Typed::Condition(Condition {
            form: test,
            span: tree.span.clone(),
        }))
    }

    fn compare(
        &mut self,
        comparison: Comparison,
        left: &Tree,
        right: &Tree,
        span: &Range<usize>,
    ) -> Option<Test> {
        match (self.value(left), self.value(right)) {
            (Some(Typed::Number(a, a_sort)), Some(Typed::Number(b, b_sort))) => {
                let sort = self.keep(compared_sort((a_sort, left), (b_sort, right), span))?;
                let left = Operand {
                    number: a,
                    span: left.span.clone(),
                };
                let right = Operand {
                    number: b,
                    span: right.span.clone(),
                };
                Some(Test::Compare {
                    comparison,
                    left,
                    right,
                    sort,
                })
            }
            (Some(a), Some(b)) => self.compare_words(comparison, (a, left), (b, right), span),
            (Some(alone), None) => self.compare_alone(comparison, &alone, &left.span),
            (None, Some(alone)) => self.compare_alone(comparison, &alone, &right.span),
            (None, None) => None,
        }
    }

    fn quantified(
        &mut self,
        (subject, at): (&str, &Range<usize>),
        body: &Tree,
        span: &Range<usize>,
        test: fn(Over, Box<Condition>) -> Test,
    ) -> Option<Test> {
        let many = self
            .catalogue()
            .subject_named(subject)
            .filter(|id| self.catalogue().is_many(*id));
        let many = many.or_else(|| self.not_many(subject, at));
        let (over, body) = self.in_fold(many, span, |inner| inner.condition(body));
        Some(test(over?, Box::new(body?)))
    }

    fn not_many<T>(&mut self, name: &str, span: &Range<usize>) -> Option<T> {
        let many: Vec<String> = self
            .catalogue()
            .subjects()
            .iter()
            .filter(|s| s.plural.is_some())
            .map(|s| format!("`{}`", s.name))
            .collect();
        let help = format!("there are many of {}", many.join(", "));
        self.fault(
            Fault::UnknownName,
            span,
            format!("there is only one `{name}`, so there is nothing to go over"),
            help,
        )
    }
}
