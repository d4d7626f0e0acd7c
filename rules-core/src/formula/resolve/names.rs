//! Names: what they stand for and whether they can be seen from here.

use std::ops::Range;

use super::{Resolved, Resolver, Typed};
use crate::document::{Fault, near_miss};
use crate::facts::{FactId, FactKind, Named, SubjectId};
use crate::formula::fault::FormulaFault;
use crate::formula::program::FigureSort;
use crate::formula::tree::{Form, Tree};
use crate::formula::typed::{Condition, FactRef, Number, Sort, Test};

impl Resolver<'_, '_> {
    pub(super) fn name(&self, subject: &str, word: &str, span: &Range<usize>) -> Resolved<Typed> {
        if subject == "limit" {
            return self.limit(word, span);
        }
        let full = format!("{subject}.{word}");
        if let Some((id, about, sort)) = self.vocabulary.figures.get(&full) {
            self.need_seen(*about, &full, span)?;
            return Ok(match sort {
                FigureSort::Number(sort) => Typed::Number(Number::Figure(*id, *about), *sort),
                FigureSort::Condition => Typed::Condition(Condition { form: Test::Figure(*id, *about), span: span.clone() }),
            });
        }
        match self.catalogue().find(&full) {
            Some(Named::Fact(id)) => self.fact(id, &full, span),
            Some(Named::Worked(id)) => {
                let Some(def) = self.catalogue().worked_def(id) else { return Err(self.unknown(&full, span)) };
                self.need_seen(def.subject, &full, span)?;
                let sort = Sort { dimension: def.kind.dimension(), kind: Some(def.kind) };
                Ok(Typed::Number(Number::Worked(id, def.subject), sort))
            }
            None => Err(self.unknown(&full, span)),
        }
    }

    fn limit(&self, word: &str, span: &Range<usize>) -> Resolved<Typed> {
        if let Some((id, kind)) = self.vocabulary.limits.get(word) {
            let sort = Sort { dimension: kind.dimension(), kind: Some(*kind) };
            return Ok(Typed::Number(Number::Limit(*id), sort));
        }
        let known = self.vocabulary.limits.keys().map(String::as_str);
        let help = match near_miss(word, known) {
            Some(near) => format!("did you mean `limit.{near}`?"),
            None => "define it under `limits`".to_owned(),
        };
        Err(FormulaFault::new(Fault::UnknownName, span.clone(), format!("there is no limit `{word}`"), help))
    }

    fn fact(&self, id: FactId, full: &str, span: &Range<usize>) -> Resolved<Typed> {
        let Some(def) = self.catalogue().fact(id) else { return Err(self.unknown(full, span)) };
        self.need_seen(def.subject, full, span)?;
        let fact = FactRef { id, subject: def.subject, slot: self.catalogue().slot(id) };
        Ok(match &def.kind {
            FactKind::Number(kind) => Typed::Number(Number::Fact(fact), Sort { dimension: kind.dimension(), kind: Some(*kind) }),
            FactKind::Choice(_) => Typed::Choice(fact),
            FactKind::YesNo => Typed::Condition(Condition { form: Test::Fact(fact), span: span.clone() }),
            FactKind::Text => Typed::Text(fact),
        })
    }

    /// The fact that `is known` asks about.
    pub(super) fn known_fact(&self, tree: &Tree) -> Resolved<FactRef> {
        let fault =
            || FormulaFault::new(Fault::KindsDiffer, tree.span.clone(), "`is known` asks about one fact", "write `cell.x is known`");
        let Form::Name { subject, word } = &tree.form else { return Err(fault()) };
        match self.name(subject, word, &tree.span)? {
            Typed::Number(Number::Fact(fact), _) | Typed::Choice(fact) | Typed::Text(fact) => Ok(fact),
            Typed::Condition(Condition { form: Test::Fact(fact), .. }) => Ok(fact),
            _ => Err(fault()),
        }
    }

    /// A subject is seen if it is single, if it is what the formula is about, or if it contains that. Inside a fold it is what the fold goes over that
    /// counts: a body that saw the one at hand outside would not have one result for all.
    fn need_seen(&self, subject: SubjectId, full: &str, span: &Range<usize>) -> Resolved<()> {
        let catalogue = self.catalogue();
        let holds = |inner: SubjectId| subject == inner || catalogue.container(inner) == Some(subject);
        if !catalogue.is_many(subject) || holds(self.inside.unwrap_or(self.about)) {
            return Ok(());
        }
        let (name, about) = (catalogue.subject_name(subject), catalogue.subject_name(self.inside.unwrap_or(self.about)));
        let (place, help) = match self.inside {
            Some(_) => (format!("inside a fold over `{about}`"), "compare it outside the fold".to_owned()),
            None => (format!("from a formula about `{about}`"), format!("fold it, such as `max of {full}`, or say `about: each {name}`")),
        };
        let message = format!("`{full}` is one of many and cannot be seen {place}");
        Err(FormulaFault::new(Fault::OutOfScope, span.clone(), message, help))
    }

    fn unknown(&self, full: &str, span: &Range<usize>) -> FormulaFault {
        let figures = self.vocabulary.figures.keys().map(String::as_str);
        let help = match near_miss(full, self.catalogue().names().chain(figures)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "define a fact under `facts` or a figure under `figures`".to_owned(),
        };
        FormulaFault::new(Fault::UnknownName, span.clone(), format!("there is no fact or figure `{full}`"), help)
    }
}
