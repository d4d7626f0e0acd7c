//! A question as it is put to a person.

use rules_core::report::text::{Page, Part, Role, Style};
use rules_core::report::{Answers, Question};
use serde_json::Value;

/// One question.
pub(super) struct Asked {
    /// Where the answer is written.
    pub place: String,
    /// What is asked.
    pub meaning: String,
    /// What can be written.
    pub hint: String,
    /// The words that it can be answered with.
    pub words: Vec<String>,
    /// What an answer is for.
    pub goal: Goal,
    /// What can be asked instead: one after the other.
    pub apart: Option<Apart>,
    /// The place of its stage in the report.
    pub stage: Option<usize>,
}

/// What an answer is for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Goal {
    /// The same value at each of these places.
    Fields(Vec<String>),
    /// A value without which nothing can be checked.
    Needed(String),
    /// The names of further entries of a list.
    Entries(String),
}

/// How one question falls into several.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Apart {
    /// One entry after the other.
    Entries,
    /// One fact after the other, of those that one word would answer.
    Facts,
}

impl Asked {
    /// A question of a report.
    pub(super) fn of(question: &Question<'_>) -> Self {
        let several = question.entries.as_ref().is_some_and(|all| all.len() > 1);
        let apart = match &question.answers {
            _ if several => Some(Apart::Entries),
            Answers::InOneWord(_) => Some(Apart::Facts),
            _ => None,
        };
        let words = match &question.answers {
            Answers::OneOf(words) => words.to_vec(),
            Answers::InOneWord(word) => word.words.clone(),
            _ => Vec::new(),
        };
        let goal = match &question.answers {
            Answers::MoreEntries(_) => Goal::Entries(question.place()),
            _ => Goal::Fields(question.paths()),
        };
        Self {
            place: question.place(),
            meaning: question.meaning.to_owned(),
            hint: hint(&question.answers, apart),
            words,
            goal,
            apart,
            stage: question.stage,
        }
    }

    /// The places that an answer fills, or that stay open without one.
    pub(super) fn places(&self) -> &[String] {
        match &self.goal {
            Goal::Fields(paths) => paths,
            Goal::Needed(path) | Goal::Entries(path) => std::slice::from_ref(path),
        }
    }

    /// Whether nothing can be checked without an answer.
    pub(super) const fn is_needed(&self) -> bool {
        matches!(self.goal, Goal::Needed(_))
    }

    /// The question as text, with how far the interview is.
    pub(super) fn text(&self, far: &str, width: usize, style: &dyn Style) -> String {
        let mut page = Page::new(width, style);
        let place = [Part::new(Role::Label, self.place.as_str())];
        let hang = width.saturating_sub(far.chars().count());
        page.entry(0, &place, hang, &[Part::new(Role::Quiet, far)]);
        page.paragraph(2, &[Part::text(self.meaning.as_str())]);
        page.paragraph(2, &[Part::new(Role::Quiet, self.hint.as_str())]);
        format!("\n{}", page.finish())
    }
}

/// What can be written, in a few words.
fn hint(answers: &Answers<'_>, apart: Option<Apart>) -> String {
    let hint = match answers {
        Answers::OneOf(words) => words.join(", "),
        Answers::InOneWord(word) => word.words.join(", "),
        Answers::Quantity { kind, unit: "" } => format!("a number: {kind}"),
        Answers::Quantity { kind, unit } => format!("{kind} with its unit, as {unit}"),
        Answers::Like(example) => format!("as `{example}`"),
        Answers::MoreEntries(count) => format!("{count} more: names, with a space between"),
        _ => "a text".to_owned(),
    };
    match apart {
        None => hint,
        Some(Apart::Entries) => format!("{hint}; `each`: one after the other"),
        Some(Apart::Facts) => format!("{hint}; `each`: what it is made of, one by one"),
    }
}

/// An answer as a value. A whole number is one; the digits of others say how well they are known.
pub(super) fn value(answer: &str) -> Value {
    match answer.parse::<u32>() {
        Ok(number) if number.to_string() == answer => number.into(),
        _ => answer.into(),
    }
}
