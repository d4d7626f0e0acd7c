//! What would narrow a figure, as data.

use super::subject::Subject;
use super::values::{ReportedNumber, ReportedValue};
use crate::facts::{
    Catalogue, FactId, FactKind, Narrowing, SubjectId, TypicalAnswer, Value, WorkedId,
};
use crate::formula::{Evaluated, Evaluator, Sort};
use crate::ruleset::Rules;

/// Facts answered together that would narrow a figure, and what it would come to.
#[derive(Debug, Clone, PartialEq)]
pub struct NarrowedBy {
    /// The facts, each as it typically comes out. None of them can be left out.
    pub answers: Vec<AnsweredFact>,
    /// What the figure would come to then.
    pub value: ReportedNumber,
}

/// A fact as it typically comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct AnsweredFact {
    /// Its dotted name.
    pub name: String,
    /// The subject: its kind and its name, or the name of a single subject.
    pub subject: Subject,
    /// The value.
    pub value: ReportedValue,
}

/// What would narrow a library figure of one of its subject; `named` gives subjects their names.
pub(super) fn narrowed_by(
    (rules, evaluator): (&Rules, &Evaluator<'_>),
    named: impl Fn(SubjectId, usize) -> Subject,
    id: WorkedId,
    position: usize,
) -> Vec<NarrowedBy> {
    let catalogue = rules.catalogue();
    let Some(def) = catalogue.worked_def(id) else {
        return Vec::new();
    };
    let answered = |answer: &TypicalAnswer| {
        let of = catalogue.fact(answer.fact)?;
        Some(AnsweredFact {
            name: catalogue.fact_name(answer.fact).to_owned(),
            subject: named(of.subject, answer.position),
            value: typical(catalogue, answer.fact, &answer.value)?,
        })
    };
    let told = |narrowing: Narrowing| NarrowedBy {
        answers: narrowing.answers.iter().filter_map(answered).collect(),
        value: ReportedNumber::of_figure(
            Evaluated {
                value: narrowing.worked.value,
                missing: !narrowing.worked.missing.is_empty(),
            },
            Sort::of(def.kind),
        ),
    };
    let narrowings = evaluator.narrowings(id, position);
    narrowings.into_iter().map(told).collect()
}

fn typical(catalogue: &Catalogue, fact: FactId, value: &Value) -> Option<ReportedValue> {
    match (value, &catalogue.fact(fact)?.kind) {
        (Value::Number(value), FactKind::Number(kind)) => {
            Some(ReportedValue::WorkedOut(*value, *kind))
        }
        (Value::Choice(set), FactKind::Choice(options)) => {
            let option = options.get(set.only()?)?;
            Some(ReportedValue::Text(option.as_str().into()))
        }
        (Value::Text(text), _) => Some(ReportedValue::Text(text.clone())),
        _ => None,
    }
}
