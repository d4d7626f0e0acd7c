//! Facts that rulesets declare.

use super::subject::unknown_subject;
use crate::document::{Fault, Problems, Span};
use crate::facts::{Catalogue, FactDef, FactKind, OverTime, SubjectId};
use crate::quantity::{Interval, Kind};
use crate::ruleset::layer::Layer;
use crate::ruleset::names::Names;

pub(super) fn declare_facts(
    layer: &Layer,
    base: &Catalogue,
    catalogue: &mut Catalogue,
    names: &mut Names,
    problems: &mut Problems<'_>,
) {
    for (name, span) in &layer.unread.facts.names {
        declared(name, *span, base, problems);
    }
    for fact in &layer.facts {
        let Some((subject, name)) = declared(&fact.name, fact.span, base, problems) else {
            names.note_faulty(&fact.name, base);
            continue;
        };
        let domain = match (&fact.body.domain, &fact.body.kind) {
            (Some((_, measure)), _) => measure.range(),
            (None, FactKind::Number(Kind::Count)) => {
                Interval::new(0.0, f64::INFINITY).unwrap_or(Interval::WHOLE)
            }
            (None, _) => Interval::WHOLE,
        };
        catalogue.add(FactDef {
            subject,
            name: name.into(),
            kind: fact.body.kind.clone(),
            domain,
            nature: fact.body.nature,
            meaning: fact.body.meaning.clone().into(),
            none_is_zero: false,
            changeable: false,
            over_time: OverTime::Newest,
            key: None,
            from: None,
            example: None,
        });
    }
}

/// The subject and the name of a declared fact, if both can be.
fn declared(
    full: &str,
    span: Span,
    base: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<(SubjectId, String)> {
    let (subject_name, name) = full.split_once('.')?;
    let Some(subject) = base.subject_named(subject_name) else {
        unknown_subject(subject_name, span, base, problems);
        return None;
    };
    if base
        .subject(subject)
        .is_some_and(|subject| !subject.has_section)
    {
        let message = format!("a proposal has no place for facts about `{subject_name}`");
        let help = "declare it about a subject that a proposal has a section for";
        problems.add(Fault::OutOfScope, span, message, help);
        return None;
    }
    if base.find(full).is_some() {
        let message = format!("there is a fact or figure `{full}` already");
        problems.add(Fault::DefinedTwice, span, message, "give it another name");
        return None;
    }
    Some((subject, name.to_owned()))
}
