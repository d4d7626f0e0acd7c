//! What resolves one formula: from where names are seen, and the faults found so far.

use std::ops::Range;

use super::sorts::sort_name;
use super::vocabulary::Vocabulary;
use crate::document::Fault;
use crate::facts::{Catalogue, SubjectId};
use crate::formula::fault::FormulaFault;
use crate::formula::tree::Tree;
use crate::formula::typed::{Condition, FactRef, Number, Over, Sort};

/// What a part of a formula turned out to be.
pub(super) enum Typed {
    Number(Number, Sort),
    Condition(Condition),
    Choice(FactRef),
    Text(FactRef),
    Word(String),
}

impl Typed {
    /// What it is, for messages.
    pub(super) fn what(&self) -> String {
        match self {
            Self::Number(_, sort) => sort_name(*sort),
            Self::Condition(_) => "a condition".to_owned(),
            Self::Choice(_) => "a choice".to_owned(),
            Self::Text(_) => "a text".to_owned(),
            Self::Word(word) => format!("the word `{word}`"),
        }
    }
}

/// From where names are seen.
#[derive(Clone, Copy)]
pub(super) struct Scope {
    /// What the formula is about, or what the fold goes over that it is in; none if that is at
    /// fault.
    pub(super) from: Option<SubjectId>,
    /// Whether it is in a fold.
    pub(super) in_fold: bool,
}

/// Resolves one formula. A method that gives nothing has added why, unless it came upon a
/// definition that is at fault.
pub(super) struct Resolver<'r, 'v> {
    pub(super) vocabulary: &'r Vocabulary<'v>,
    pub(super) about: Option<SubjectId>,
    pub(super) scope: Scope,
    pub(super) faults: Vec<FormulaFault>,
}

impl<'r, 'v> Resolver<'r, 'v> {
    pub(super) fn new(about: Option<SubjectId>, vocabulary: &'r Vocabulary<'v>) -> Self {
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

    pub(super) fn catalogue(&self) -> &'v Catalogue {
        self.vocabulary.catalogue
    }

    /// Adds a fault, in place of what cannot be resolved.
    pub(super) fn fault<T>(
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
    pub(super) fn keep<T>(&mut self, found: Result<T, FormulaFault>) -> Option<T> {
        found.map_err(|fault| self.faults.push(fault)).ok()
    }

    /// All of the parts, if none is at fault. Each is looked at, whatever came of those before it.
    pub(super) fn all<'t, T>(
        &mut self,
        parts: impl IntoIterator<Item = &'t Tree>,
        resolve: fn(&mut Self, &Tree) -> Option<T>,
    ) -> Option<Vec<T>> {
        let resolved: Vec<Option<T>> = parts.into_iter().map(|part| resolve(self, part)).collect();
        resolved.into_iter().collect()
    }

    /// Resolves what is inside a fold over a subject: only those within what the formula is about,
    /// where that contains them. The inside is looked at even if the fold itself is at fault; if it
    /// is its subject, everything can be seen from there.
    pub(super) fn in_fold<T>(
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
                self.fault(
                    Fault::NestedFold,
                    span,
                    "this is a fold inside a fold",
                    help,
                )
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
