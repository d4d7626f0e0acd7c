//! Trees to typed formulas: names become slots, kinds are checked, scopes are settled.
//!
//! Every fault of a formula is found, not only the first. What rests on a faulty part is no fault
//! of its own: of a part that cannot be resolved nothing is asked any more.

mod choices;
mod names;
mod numbers;

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use super::fault::FormulaFault;
use super::program::{FigureCode, FigureSort};
use super::tree::{Comparison, Form, Tree};
use super::typed::{Condition, FactRef, FigureId, LimitId, Number, Operand, Over, Sort, Test};
use crate::document::{Fault, Suggestions};
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
    /// Dotted names of facts, figures and limits that are defined, but not well: what rests on them
    /// is not reported again.
    pub faulty: &'v BTreeSet<String>,
    /// Whether more may be defined than could be read.
    pub unread: Unread,
    /// How many folds have been numbered.
    pub folds: &'v Cell<usize>,
    /// What may have been meant by names that are unknown.
    pub suggestions: &'v Suggestions,
}

/// Which sorts of definitions there may be more of than could be read. Of these a name that is
/// unknown is no fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Unread {
    /// Limits.
    pub limits: bool,
    /// Facts or figures.
    pub others: bool,
}

impl Vocabulary<'_> {
    /// Whether a dotted name that is not known may be defined all the same, by what is at fault or
    /// could not be read.
    #[must_use]
    pub fn may_be_defined(&self, full: &str) -> bool {
        let unread = if full.starts_with("limit.") {
            self.unread.limits
        } else {
            self.unread.others
        };
        unread || self.faulty.contains(full)
    }
}

/// What came of a formula. Without any fault of its own, it rests on a definition that has one.
type Resolved<T> = Result<T, Vec<FormulaFault>>;

/// Resolves a formula that must be a condition about a subject; about none, if that is at fault
/// itself: then everything can be seen.
///
/// # Errors
///
/// Every fault: unknown and unseen names, kinds that do not go together, a number where a condition
/// belongs. An empty list, if all that is wrong is that it rests on a definition that is at fault.
pub fn resolve_condition(
    tree: &Tree,
    about: Option<SubjectId>,
    vocabulary: &Vocabulary<'_>,
) -> Resolved<Condition> {
    let mut resolver = Resolver::new(about, vocabulary);
    let condition = resolver.condition(tree);
    condition.ok_or(resolver.faults)
}

/// Resolves a figure's formula, which may be a number or a condition.
///
/// # Errors
///
/// Every fault, as for conditions.
pub fn resolve_figure(
    tree: &Tree,
    about: Option<SubjectId>,
    vocabulary: &Vocabulary<'_>,
) -> Resolved<FigureCode> {
    let mut resolver = Resolver::new(about, vocabulary);
    let code = resolver.figure(tree);
    code.ok_or(resolver.faults)
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
/// The name is unknown or not seen from there; an empty list, if what it names is at fault.
pub fn resolve_placeholder(
    tree: &Tree,
    about: Option<SubjectId>,
    vocabulary: &Vocabulary<'_>,
) -> Resolved<Shown> {
    let mut resolver = Resolver::new(about, vocabulary);
    let shown = resolver.placeholder(tree);
    shown.ok_or(resolver.faults)
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

/// From where names are seen.
#[derive(Clone, Copy)]
struct Scope {
    /// What the formula is about, or what the fold goes over that the walk is in; none if that is
    /// at fault.
    from: Option<SubjectId>,
    /// Whether the walk is in a fold.
    in_fold: bool,
}

/// Resolves one formula. A method that gives nothing has added why, unless it came upon a
/// definition that is at fault.
struct Resolver<'r, 'v> {
    vocabulary: &'r Vocabulary<'v>,
    about: Option<SubjectId>,
    scope: Scope,
    faults: Vec<FormulaFault>,
}

impl<'r, 'v> Resolver<'r, 'v> {
    fn new(about: Option<SubjectId>, vocabulary: &'r Vocabulary<'v>) -> Self {
        Self {
            vocabulary,
            about,
            scope: Scope {
                from: about,
                in_fold: false,
            },
            faults: Vec::new(),
        }
    }

    fn catalogue(&self) -> &'v Catalogue {
        self.vocabulary.catalogue
    }

    /// Adds a fault, in place of what cannot be resolved.
    fn fault<T>(
        &mut self,
        fault: Fault,
        span: &Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Option<T> {
        self.faults
            .push(FormulaFault::new(fault, span.clone(), message, help));
        None
    }

    /// What was found, or nothing and its fault added.
    fn keep<T>(&mut self, found: Result<T, FormulaFault>) -> Option<T> {
        found.map_err(|fault| self.faults.push(fault)).ok()
    }

    /// All of the parts, if none is at fault. Each is looked at, whatever came of those before it.
    fn all<'t, T>(
        &mut self,
        parts: impl IntoIterator<Item = &'t Tree>,
        resolve: fn(&mut Self, &Tree) -> Option<T>,
    ) -> Option<Vec<T>> {
        let resolved: Vec<Option<T>> = parts.into_iter().map(|part| resolve(self, part)).collect();
        resolved.into_iter().collect()
    }

    fn figure(&mut self, tree: &Tree) -> Option<FigureCode> {
        match self.value(tree)? {
            Typed::Number(number, sort) => Some(FigureCode::Number(number, sort)),
            Typed::Condition(condition) => Some(FigureCode::Condition(condition)),
            other => {
                let message = format!(
                    "a figure is a number or a condition; this is {}",
                    other.what()
                );
                self.fault(
                    Fault::KindsDiffer,
                    &tree.span,
                    message,
                    "name the fact itself where you need it",
                )
            }
        }
    }

    fn placeholder(&mut self, tree: &Tree) -> Option<Shown> {
        Some(match self.value(tree)? {
            Typed::Number(Number::Fact(fact), _) | Typed::Choice(fact) | Typed::Text(fact) => {
                Shown::Fact(fact)
            }
            Typed::Condition(Condition {
                form: Test::Fact(fact),
                ..
            }) => Shown::Fact(fact),
            Typed::Number(number, sort) => Shown::Code(FigureCode::Number(number, sort)),
            Typed::Condition(condition) => Shown::Code(FigureCode::Condition(condition)),
            Typed::Word(word) => {
                let message = format!("`{word}` is no name of a fact, figure or limit");
                return self.fault(
                    Fault::UnknownName,
                    &tree.span,
                    message,
                    "names have two parts, such as `limit.x`",
                );
            }
        })
    }

    fn condition(&mut self, tree: &Tree) -> Option<Condition> {
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

    fn value(&mut self, tree: &Tree) -> Option<Typed> {
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
                let sort = self.keep(numbers::compared_sort(
                    (a_sort, left),
                    (b_sort, right),
                    span,
                ))?;
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
            format!("there are not many of `{name}` to go over"),
            help,
        )
    }

    /// Resolves what stands inside a fold over a subject: only those within what the formula is
    /// about, where that contains them. The inside is looked at even if the fold itself is at
    /// fault; if it is its subject, everything can be seen from there.
    fn in_fold<T>(
        &mut self,
        subject: Option<SubjectId>,
        span: &Range<usize>,
        resolve: impl FnOnce(&mut Self) -> Option<T>,
    ) -> (Option<Over>, Option<T>) {
        let outside = std::mem::replace(
            &mut self.scope,
            Scope {
                from: subject,
                in_fold: true,
            },
        );
        let over = match subject {
            _ if outside.in_fold => {
                let help = "give the inner one a name under `figures` and fold that";
                self.fault(Fault::NestedFold, span, "a fold stands inside a fold", help)
            }
            None => None,
            Some(subject) => Some(self.over(subject)),
        };
        let inside = resolve(self);
        self.scope = outside;
        (over, inside)
    }

    fn over(&self, subject: SubjectId) -> Over {
        let within = self
            .catalogue()
            .container(subject)
            .filter(|container| Some(*container) == self.about);
        let number = self.vocabulary.folds.get();
        self.vocabulary.folds.set(number + 1);
        Over {
            subject,
            within,
            number,
        }
    }
}

#[cfg(test)]
mod tests;
