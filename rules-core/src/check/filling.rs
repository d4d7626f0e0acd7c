//! Reasons and remedies with their values put in, as data.

use std::sync::Arc;

use super::values::{FilledText, ReportedValue};
use crate::facts::{FactKind, Given, OptionSet, SubjectId, Value};
use crate::formula::{Bound, Evaluator, FactRef, Number, Sort, Truth};
use crate::quantity::{Interval, Nature};
use crate::ruleset::{Placeholder, Rules, Template};

/// Puts the values of one sheet into texts.
pub(super) struct TextFiller<'w, 'e> {
    rules: &'w Rules,
    evaluator: &'w Evaluator<'e>,
}

impl<'w, 'e> TextFiller<'w, 'e> {
    /// For the values of an evaluator.
    pub(super) fn new(rules: &'w Rules, evaluator: &'w Evaluator<'e>) -> Self {
        Self { rules, evaluator }
    }

    /// A reason or remedy with its values.
    pub(super) fn filled(&self, template: &Template, bound: &Bound) -> FilledText {
        let shown = |value: &Placeholder| match value {
            Placeholder::Fact(fact) => self.fact(*fact, bound),
            Placeholder::Number(number, sort) => self.number(number, *sort, bound),
            Placeholder::Condition(condition) => {
                ReportedValue::Words(truth(self.evaluator.condition(condition, bound)))
            }
        };
        FilledText {
            words: Arc::clone(&template.words),
            values: template.values.iter().map(shown).collect(),
        }
    }

    /// A fact's value: a number with its uncertainty, an option, yes or no, a text; or that it is
    /// not known.
    pub(super) fn fact(&self, fact: FactRef, bound: &Bound) -> ReportedValue {
        let position = bound.position(fact.subject);
        let given = self
            .evaluator
            .sheet()
            .known(fact.subject, position, fact.slot);
        let Some(def) = self.rules.catalogue().fact(fact.id) else {
            return ReportedValue::Words("");
        };
        match given {
            Some(given) => value(given, &def.kind),
            None if def.name == "id" && !self.name(fact.subject, position).is_empty() => {
                ReportedValue::Text(self.name(fact.subject, position).into())
            }
            None if def.nature == Nature::Measured => ReportedValue::Words("(not measured)"),
            None => ReportedValue::Words("(not stated)"),
        }
    }

    /// What reports call one of a subject, also where nobody gave it a name.
    fn name(&self, subject: SubjectId, position: usize) -> &str {
        self.evaluator
            .sheet()
            .instance(subject, position)
            .map_or("", |one| one.name.as_str())
    }

    fn number(&self, number: &Number, sort: Sort, bound: &Bound) -> ReportedValue {
        if let Number::Limit(id) = number
            && let Some(limit) = self.evaluator.program().limits.get(id.0)
        {
            return ReportedValue::Given(limit.value, limit.kind, limit.unit);
        }
        let found = self.evaluator.number(number, bound);
        match found.missing || found.value.range() == Interval::WHOLE {
            true => ReportedValue::Words("(unknown)"),
            false => ReportedValue::WorkedOut(found.value, sort.shown_kind()),
        }
    }
}

/// A value that was given. A number is shown in the unit it was written in.
pub(super) fn value(given: &Given, kind: &FactKind) -> ReportedValue {
    match (&given.value, kind) {
        (Value::Number(_), _) if &*given.written == "none" => ReportedValue::Words("none"),
        (Value::Number(measure), FactKind::Number(kind)) => {
            ReportedValue::Given(*measure, *kind, given.unit)
        }
        (Value::Choice(set), FactKind::Choice(options)) => {
            ReportedValue::Text(options_in_words(*set, options))
        }
        (Value::YesNo(yes), _) => ReportedValue::Words(truth(Truth::decided(*yes))),
        (Value::Text(text), _) => ReportedValue::Text(Arc::clone(text)),
        _ => ReportedValue::Text(given.written.clone().into()),
    }
}

fn options_in_words(set: OptionSet, options: &[String]) -> Arc<str> {
    if let Some(only) = set.only().and_then(|only| options.get(only)) {
        return only.as_str().into();
    }
    let possible = options
        .iter()
        .enumerate()
        .filter(|(at, _)| OptionSet::one(*at).within(set))
        .map(|(_, option)| option.as_str());
    possible.collect::<Vec<_>>().join(" or ").into()
}

const fn truth(truth: Truth) -> &'static str {
    match truth {
        Truth::Yes => "yes",
        Truth::No => "no",
        _ => "unknown",
    }
}
