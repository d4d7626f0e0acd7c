//! What would narrow a figure, as it is written.

use serde::Serialize;

use super::numbers::WrittenNumber;
use super::tables::WrittenSubject;
use super::texts::{Text, Texts};
use crate::check::NarrowedBy;

/// Facts answered together that would narrow a figure, and what it would come to.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "NarrowedBy", deny_unknown_fields)
)]
pub(super) struct WrittenNarrowing<'w> {
    /// The facts, none of which can be left out.
    answers: Vec<WrittenAnswer<'w>>,
    /// What the figure would come to then.
    to: WrittenNumber<'w>,
}

/// A fact as it typically comes out.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "TypicalAnswer", deny_unknown_fields)
)]
struct WrittenAnswer<'w> {
    /// The dotted name of the fact.
    fact: &'w str,
    /// Its subject.
    subject: WrittenSubject<'w>,
    /// The value.
    value: Text<'w>,
}

impl<'w> WrittenNarrowing<'w> {
    pub(super) fn of(narrowed: &'w NarrowedBy, texts: &mut Texts) -> Option<Self> {
        let answers = narrowed.answers.iter().map(|answer| WrittenAnswer {
            fact: &answer.name,
            subject: (&answer.subject).into(),
            value: texts.of_value(&answer.value),
        });
        Some(Self {
            answers: answers.collect(),
            to: WrittenNumber::of(std::iter::once(&narrowed.value), texts)?,
        })
    }
}

/// What tells two apart: what is asked and what comes of it, as shown.
pub(super) fn told(narrowed: &NarrowedBy) -> Vec<String> {
    let answers = narrowed.answers.iter();
    let shown = answers.map(|one| format!("{} {} {}", one.name, one.subject, one.value));
    shown.chain([narrowed.value.to_string()]).collect()
}
