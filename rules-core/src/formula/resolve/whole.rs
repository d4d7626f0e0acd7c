//! Whole formulas: conditions, figures, and placeholders of texts.

use super::resolver::{Resolver, Typed};
use super::vocabulary::Vocabulary;
use crate::document::Fault;
use crate::facts::SubjectId;
use crate::formula::fault::FormulaFault;
use crate::formula::program::FigureCode;
use crate::formula::tree::Tree;
use crate::formula::typed::{Condition, FactRef, Number, Test};

/// What came of a formula. Without any fault of its own, it rests on a definition that has one.
pub(super) type Resolved<T> = Result<T, Vec<FormulaFault>>;

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
pub enum PlaceholderCode {
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
) -> Resolved<PlaceholderCode> {
    let mut resolver = Resolver::new(about, vocabulary);
    let shown = resolver.placeholder(tree);
    shown.ok_or(resolver.faults)
}

impl Resolver<'_, '_> {
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

    fn placeholder(&mut self, tree: &Tree) -> Option<PlaceholderCode> {
        Some(match self.value(tree)? {
            Typed::Number(Number::Fact(fact), _) | Typed::Choice(fact) | Typed::Text(fact) => {
                PlaceholderCode::Fact(fact)
            }
            Typed::Condition(Condition {
                form: Test::Fact(fact),
                ..
            }) => PlaceholderCode::Fact(fact),
            Typed::Number(number, sort) => PlaceholderCode::Code(FigureCode::Number(number, sort)),
            Typed::Condition(condition) => PlaceholderCode::Code(FigureCode::Condition(condition)),
            Typed::Word(word) => {
                let message = format!("`{word}` is not the name of a fact, figure or limit");
                return self.fault(
                    Fault::UnknownName,
                    &tree.span,
                    message,
                    "names have two parts, such as `limit.x`",
                );
            }
        })
    }
}
