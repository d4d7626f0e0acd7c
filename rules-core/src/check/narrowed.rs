//! What would narrow a figure, as data.

use super::reporter::Reporter;
use super::subject::Subject;
use super::values::{ReportedNumber, ReportedValue};
use crate::facts::{Catalogue, FactId, FactKind, TypicalAnswer, Value, WorkedId};
use crate::formula::{Evaluated, Sort};

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

impl Reporter<'_, '_> {
    /// What would narrow a library figure of one of its subject.
    pub(super) fn narrowed_by(&self, id: WorkedId, position: usize) -> Vec<NarrowedBy> {
        let def = self.rules().catalogue().worked_def(id);
        let Some(def) = def.filter(|_| self.is_narrowing()) else {
            return Vec::new();
        };
        let sort = Sort::of(def.kind);
        let narrowings = self.evaluator().narrowings(id, position);
        narrowings
            .into_iter()
            .map(|narrowing| NarrowedBy {
                answers: narrowing
                    .answers
                    .iter()
                    .filter_map(|answer| self.answered(answer))
                    .collect(),
                value: ReportedNumber {
                    number: Evaluated {
                        value: narrowing.worked.value,
                        missing: !narrowing.worked.missing.is_empty(),
                    },
                    sort,
                    limit: None,
                    is_figure: true,
                },
            })
            .collect()
    }

    fn answered(&self, answer: &TypicalAnswer) -> Option<AnsweredFact> {
        let catalogue = self.rules().catalogue();
        let def = catalogue.fact(answer.fact)?;
        Some(AnsweredFact {
            name: catalogue.fact_name(answer.fact).to_owned(),
            subject: self.subject(def.subject, answer.position),
            value: typical(catalogue, answer.fact, &answer.value)?,
        })
    }
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
