//! Names: what they stand for and whether they can be seen from here.

use std::ops::Range;

use super::resolver::{Resolver, Typed};
use crate::document::Fault;
use crate::facts::{FactId, FactKind, FactOrFigure, SubjectId};
use crate::formula::program::FigureSort;
use crate::formula::tree::{Form, Tree};
use crate::formula::typed::{Condition, FactRef, Number, Sort, Test};

impl Resolver<'_, '_> {
    pub(super) fn name(&mut self, subject: &str, word: &str, span: &Range<usize>) -> Option<Typed> {
        if subject == "limit" {
            return self.limit(word, span);
        }
        let full = [subject, ".", word].concat();
        if self.vocabulary.faulty.contains(&full) {
            return None;
        }
        if let Some((id, about, sort)) = self.vocabulary.figures.get(&full) {
            self.need_seen(*about, &full, span)?;
            return Some(match sort {
                FigureSort::Number(sort) => Typed::Number(Number::Figure(*id, *about), *sort),
                FigureSort::Condition => Typed::Condition(Condition {
                    form: Test::Figure(*id, *about),
                    span: span.clone(),
                }),
            });
        }
        match self.catalogue().find(&full) {
            Some(FactOrFigure::Fact(id)) => self.fact(id, &full, span),
            Some(FactOrFigure::Worked(id)) => {
                let Some(def) = self.catalogue().worked_def(id) else {
                    return self.unknown(&full, span);
                };
                self.need_seen(def.subject, &full, span)?;
                let sort = Sort {
                    dimension: def.kind.dimension(),
                    kind: Some(def.kind),
                };
                Some(Typed::Number(Number::Worked(id, def.subject), sort))
            }
            None => self.unknown(&full, span),
        }
    }

    fn limit(&mut self, word: &str, span: &Range<usize>) -> Option<Typed> {
        if let Some((id, kind)) = self.vocabulary.limits.get(word) {
            let sort = Sort {
                dimension: kind.dimension(),
                kind: Some(*kind),
            };
            return Some(Typed::Number(Number::Limit(*id), sort));
        }
        if self.vocabulary.may_be_defined(&format!("limit.{word}")) {
            return None;
        }
        let known = self.vocabulary.limits.keys().map(String::as_str);
        let now = self.vocabulary.former_limits.get(word);
        let help = match (now, self.vocabulary.suggestions.near(word, known)) {
            (Some(now), _) => format!("it is now called `limit.{now}`"),
            (None, Some(near)) => format!("did you mean `limit.{near}`?"),
            (None, None) => "define it under `limits`".to_owned(),
        };
        self.fault(
            Fault::UnknownName,
            span,
            format!("there is no limit `{word}`"),
            help,
        )
    }

    fn fact(&mut self, id: FactId, full: &str, span: &Range<usize>) -> Option<Typed> {
        let Some(def) = self.catalogue().fact(id) else {
            return self.unknown(full, span);
        };
        self.need_seen(def.subject, full, span)?;
        let fact = FactRef {
            id,
            subject: def.subject,
            slot: self.catalogue().slot(id),
        };
        Some(match &def.kind {
            FactKind::Number(kind) => Typed::Number(
                Number::Fact(fact),
                Sort {
                    dimension: kind.dimension(),
                    kind: Some(*kind),
                },
            ),
            FactKind::Choice(_) => Typed::Choice(fact),
            FactKind::YesNo => Typed::Condition(Condition {
                form: Test::Fact(fact),
                span: span.clone(),
            }),
            FactKind::Id | FactKind::Text => Typed::Text(fact),
        })
    }

    /// The fact that `is known` asks about.
    pub(super) fn known_fact(&mut self, tree: &Tree) -> Option<FactRef> {
        let named = matches!(tree.form, Form::Name { .. });
        match self.value(tree) {
            Some(
                Typed::Number(Number::Fact(fact), _) | Typed::Choice(fact) | Typed::Text(fact),
            ) => Some(fact),
            Some(Typed::Condition(Condition {
                form: Test::Fact(fact),
                ..
            })) if named => Some(fact),
            None if named => None,
            _ => self.fault(
                Fault::KindsDiffer,
                &tree.span,
                "`is known` asks about one fact",
                "write `subject.fact is known`",
            ),
        }
    }

    /// A subject is seen if it is single, if it is what the formula is about, or if it contains
    /// that. Inside a fold, what the fold goes over counts instead: a body that saw the one outside
    /// would not have one result for all.
    fn need_seen(&mut self, subject: SubjectId, full: &str, span: &Range<usize>) -> Option<()> {
        let catalogue = self.catalogue();
        let Some(from) = self.scope.from else {
            return Some(());
        };
        if !catalogue.is_many(subject)
            || subject == from
            || catalogue.container(from) == Some(subject)
        {
            return Some(());
        }
        let (name, from) = (
            catalogue.subject_name(subject),
            catalogue.subject_name(from),
        );
        let (place, help) = if self.scope.in_fold {
            (
                format!("inside a fold over `{from}`"),
                "compare it outside the fold".to_owned(),
            )
        } else {
            (
                format!("from a formula about `{from}`"),
                format!("fold it, such as `max of {full}`, or say `about: each {name}`"),
            )
        };
        self.fault(
            Fault::OutOfScope,
            span,
            format!("`{full}` is one of many and cannot be seen {place}"),
            help,
        )
    }

    fn unknown(&mut self, full: &str, span: &Range<usize>) -> Option<Typed> {
        if self.vocabulary.may_be_defined(full) {
            return None;
        }
        let figures = self.vocabulary.figures.keys().map(String::as_str);
        let names = self.catalogue().names().chain(figures);
        let near = self.vocabulary.suggestions.near(full, names);
        let help = match (self.catalogue().successor(full), near) {
            (Some(successor), _) => format!("it is now called `{}`", successor.now),
            (None, Some(near)) => format!("did you mean `{near}`?"),
            (None, None) => "define a fact under `facts` or a figure under `figures`".to_owned(),
        };
        self.fault(
            Fault::UnknownName,
            span,
            format!("there is no fact or figure `{full}`"),
            help,
        )
    }
}
