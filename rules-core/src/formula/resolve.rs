//! Trees to typed formulas: names become slots, kinds are checked, scopes are settled.

mod choices;
mod names;
mod numbers;

use std::cell::Cell;
use std::collections::BTreeMap;
use std::ops::Range;

use super::fault::FormulaFault;
use super::program::{FigureCode, FigureSort};
use super::tree::{Comparison, Form, Tree};
use super::typed::{Condition, FactRef, FigureId, LimitId, Number, Operand, Over, Sort, Test};
use crate::document::Fault;
use crate::facts::{Catalogue, SubjectId};
use crate::quantity::Kind;

/// The names a formula may use.
#[derive(Debug)]
pub struct Vocabulary<'v> {
    /// Subjects, facts and library figures.
    pub catalogue: &'v Catalogue,
    /// Limits by name, without `limit.`.
    pub limits: &'v BTreeMap<String, (LimitId, Kind)>,
    /// Figures by dotted name.
    pub figures: &'v BTreeMap<String, (FigureId, SubjectId, FigureSort)>,
    /// How many folds have been numbered.
    pub folds: &'v Cell<usize>,
}

type Resolved<T> = Result<T, FormulaFault>;

/// Resolves a formula that must be a condition about a subject.
///
/// # Errors
///
/// The first fault: an unknown or unseen name, kinds that do not go together, a number where a condition belongs.
pub fn resolve_condition(tree: &Tree, about: SubjectId, vocabulary: &Vocabulary<'_>) -> Resolved<Condition> {
    Resolver { vocabulary, about, inside: None }.condition(tree)
}

/// Resolves a figure's formula, which may be a number or a condition.
///
/// # Errors
///
/// The first fault, as for conditions.
pub fn resolve_figure(tree: &Tree, about: SubjectId, vocabulary: &Vocabulary<'_>) -> Resolved<FigureCode> {
    let resolver = Resolver { vocabulary, about, inside: None };
    match resolver.value(tree)? {
        Typed::Number(number, sort) => Ok(FigureCode::Number(number, sort)),
        Typed::Condition(condition) => Ok(FigureCode::Condition(condition)),
        other => {
            let message = format!("a figure is a number or a condition; this is {}", other.what());
            Err(FormulaFault::new(Fault::KindsDiffer, tree.span.clone(), message, "name the fact itself where you need it"))
        }
    }
}

/// What a placeholder in a text stands for.
#[derive(Debug, Clone, PartialEq)]
pub enum Shown {
    /// A fact of any kind.
    Fact(FactRef),
    /// A limit or figure.
    Code(FigureCode),
}

/// Resolves a name that a text shows about a subject.
///
/// # Errors
///
/// The name is unknown or not seen from there.
pub fn resolve_placeholder(tree: &Tree, about: SubjectId, vocabulary: &Vocabulary<'_>) -> Resolved<Shown> {
    let resolver = Resolver { vocabulary, about, inside: None };
    Ok(match resolver.value(tree)? {
        Typed::Number(Number::Fact(fact), _) | Typed::Choice(fact) | Typed::Text(fact) => Shown::Fact(fact),
        Typed::Condition(Condition { form: Test::Fact(fact), .. }) => Shown::Fact(fact),
        Typed::Number(number, sort) => Shown::Code(FigureCode::Number(number, sort)),
        Typed::Condition(condition) => Shown::Code(FigureCode::Condition(condition)),
        Typed::Word(word) => {
            let message = format!("`{word}` is no name of a fact, figure or limit");
            return Err(FormulaFault::new(Fault::UnknownName, tree.span.clone(), message, "names have two parts, such as `limit.x`"));
        }
    })
}

/// What a part of a formula turned out to be.
enum Typed {
    Number(Number, Sort),
    Condition(Condition),
    Choice(FactRef),
    Text(FactRef),
    Word(String),
}

impl Typed {
    fn what(&self) -> String {
        match self {
            Self::Number(_, sort) => numbers::sort_name(*sort),
            Self::Condition(_) => "a condition".to_owned(),
            Self::Choice(_) => "a choice".to_owned(),
            Self::Text(_) => "a text".to_owned(),
            Self::Word(word) => format!("the word `{word}`"),
        }
    }
}

/// Resolves one formula: what it is about, and inside which fold the walk is.
struct Resolver<'r, 'v> {
    vocabulary: &'r Vocabulary<'v>,
    about: SubjectId,
    inside: Option<SubjectId>,
}

impl Resolver<'_, '_> {
    fn catalogue(&self) -> &Catalogue {
        self.vocabulary.catalogue
    }

    fn condition(&self, tree: &Tree) -> Resolved<Condition> {
        match self.value(tree)? {
            Typed::Condition(condition) => Ok(condition),
            other => {
                let message = format!("a condition belongs here; this is {}", other.what());
                Err(FormulaFault::new(Fault::KindsDiffer, tree.span.clone(), message, "compare it, such as `... >= 3 V`"))
            }
        }
    }

    fn value(&self, tree: &Tree) -> Resolved<Typed> {
        let test = match &tree.form {
            Form::Word(word) => return Ok(Typed::Word(word.clone())),
            Form::Name { subject, word } => return self.name(subject, word, &tree.span),
            Form::YesNo(yes) => Test::Constant(*yes),
            Form::Or(parts) => Test::Or(self.conditions(parts)?),
            Form::And(parts) => Test::And(self.conditions(parts)?),
            Form::Not(inner) => Test::Not(Box::new(self.condition(inner)?)),
            Form::Compare(comparison, left, right) => self.compare(*comparison, left, right, &tree.span)?,
            Form::In(left, options) => self.in_options(left, options)?,
            Form::Known(inner) => Test::Known(self.known_fact(inner)?),
            Form::Every((subject, at), body) => self.quantified((subject, at), body, &tree.span, Test::Every)?,
            Form::Any((subject, at), body) => self.quantified((subject, at), body, &tree.span, Test::Any)?,
            _ => {
                let (number, sort) = self.number_form(tree)?;
                return Ok(Typed::Number(number, sort));
            }
        };
        Ok(Typed::Condition(Condition { form: test, span: tree.span.clone() }))
    }

    fn conditions(&self, parts: &[Tree]) -> Resolved<Vec<Condition>> {
        parts.iter().map(|part| self.condition(part)).collect()
    }

    fn compare(&self, comparison: Comparison, left: &Tree, right: &Tree, span: &Range<usize>) -> Resolved<Test> {
        match (self.value(left)?, self.value(right)?) {
            (Typed::Number(a, a_sort), Typed::Number(b, b_sort)) => {
                let sort = numbers::compared_sort((a_sort, left), (b_sort, right), span)?;
                let left = Operand { number: a, span: left.span.clone() };
                let right = Operand { number: b, span: right.span.clone() };
                Ok(Test::Compare { comparison, left, right, sort })
            }
            (a, b) => self.compare_words(comparison, (a, left), (b, right), span),
        }
    }

    fn quantified(
        &self,
        (subject, at): (&str, &Range<usize>),
        body: &Tree,
        span: &Range<usize>,
        test: fn(Over, Box<Condition>) -> Test,
    ) -> Resolved<Test> {
        let Some(subject) = self.catalogue().subject_named(subject).filter(|id| self.catalogue().is_many(*id)) else {
            return Err(self.not_many(subject, at));
        };
        let (over, inner) = self.enter_fold(subject, span)?;
        Ok(test(over, Box::new(inner.condition(body)?)))
    }

    fn not_many(&self, name: &str, span: &Range<usize>) -> FormulaFault {
        let many: Vec<String> =
            self.catalogue().subjects().iter().filter(|s| s.plural.is_some()).map(|s| format!("`{}`", s.name)).collect();
        let help = format!("there are many of {}", many.join(", "));
        FormulaFault::new(Fault::UnknownName, span.clone(), format!("there are not many of `{name}` to go over"), help)
    }

    /// Steps inside a fold over a subject: only those within what the formula is about, where that contains them.
    fn enter_fold(&self, subject: SubjectId, span: &Range<usize>) -> Resolved<(Over, Resolver<'_, '_>)> {
        if self.inside.is_some() {
            let help = "give the inner one a name under `figures` and fold that";
            return Err(FormulaFault::new(Fault::NestedFold, span.clone(), "a fold stands inside a fold", help));
        }
        let within = self.catalogue().container(subject).filter(|container| *container == self.about);
        let number = self.vocabulary.folds.get();
        self.vocabulary.folds.set(number + 1);
        let inner = Resolver { vocabulary: self.vocabulary, about: self.about, inside: Some(subject) };
        Ok((Over { subject, within, number }, inner))
    }
}
