//! A question as it is put to a person.

use rules_core::check::InOneWord;
use rules_core::facts::{FactId, SummaryDef};
use rules_core::report::text::{Page, Part, Role, Style};
use rules_core::report::{Answers, Question};
use rulesets::catalogue;
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
    /// What it is made of, where one answer tells several things with commas between.
    pub parts: Vec<OnePart>,
    /// What can be asked instead: one after the other.
    pub apart: Option<Apart>,
    /// The place of its stage in the report.
    pub stage: Option<usize>,
}

/// One of several things that are told in one answer.
pub(super) struct OnePart {
    key: String,
    meaning: String,
    hint: String,
}

/// What an answer is for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Goal {
    /// The same value at each of these places.
    Fields(Vec<String>),
    /// A value of its own at each of these places.
    Each(Vec<String>),
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
    /// A question in these words.
    pub(super) fn new(place: &str, meaning: &str, hint: &str, goal: Goal) -> Self {
        Self {
            place: place.to_owned(),
            meaning: meaning.to_owned(),
            hint: hint.to_owned(),
            words: Vec::new(),
            goal,
            parts: Vec::new(),
            apart: None,
            stage: None,
        }
    }

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
            hint: hint(question, apart),
            words,
            goal,
            parts: Vec::new(),
            apart,
            stage: question.stage,
        }
    }

    /// Questions of one map, which are read off together: `rest` of a cell.
    pub(super) fn together(questions: &[Question<'_>]) -> Option<Self> {
        let first = Self::of(questions.first()?);
        if questions.len() < 2 {
            return Some(first);
        }
        let apart = Apart::Entries;
        let all: Vec<Self> = questions.iter().map(Self::of).collect();
        let hint = hint_of_each(apart, "answers in this order, with commas between");
        let (place, _) = first.place.rsplit_once('.')?;
        Some(Self {
            place: place.to_owned(),
            meaning: String::new(),
            hint,
            words: all.iter().flat_map(|one| one.words.clone()).collect(),
            goal: Goal::Each(all.iter().map(|one| one.place.clone()).collect()),
            parts: all.iter().filter_map(Self::as_part).collect(),
            apart: Some(apart),
            stage: first.stage,
        })
    }

    fn as_part(&self) -> Option<OnePart> {
        let (_, key) = self.place.rsplit_once('.')?;
        Some(OnePart {
            key: key.to_owned(),
            meaning: self.meaning.clone(),
            hint: self.hint.clone(),
        })
    }

    /// The places that an answer fills, or that stay open without one.
    pub(super) fn places(&self) -> &[String] {
        match &self.goal {
            Goal::Fields(paths) | Goal::Each(paths) => paths,
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
        if !self.meaning.is_empty() {
            page.paragraph(2, &[Part::text(self.meaning.as_str())]);
        }
        for part in &self.parts {
            let meaning = Part::text(format!(": {}; ", part.meaning));
            let hint = Part::new(Role::Quiet, part.hint.as_str());
            let key = Part::new(Role::Label, part.key.as_str());
            page.paragraph(2, &[key, meaning, hint]);
        }
        page.paragraph(2, &[Part::new(Role::Quiet, self.hint.as_str())]);
        format!("\n{}", page.finish())
    }
}

/// What can be written, in a few words.
fn hint(question: &Question<'_>, apart: Option<Apart>) -> String {
    let hint = match &question.answers {
        Answers::OneOf(words) => words.join(", "),
        Answers::InOneWord(word) => with_what_they_say(word),
        Answers::Quantity { kind, unit: "" } => format!("a number: {kind}"),
        Answers::Quantity { kind, unit } => format!("{kind} with its unit, as {unit}"),
        Answers::Like(example) => format!("as `{example}`"),
        Answers::MoreEntries(count) => format!("{count} more: names, with a space between"),
        _ => "a text".to_owned(),
    };
    match apart {
        None => hint,
        Some(apart) => hint_of_each(apart, &hint),
    }
}

fn hint_of_each(apart: Apart, hint: &str) -> String {
    match apart {
        Apart::Entries => format!("{hint}; `each`: one after the other"),
        Apart::Facts => format!("{hint}; `each`: what it is made of, one by one"),
    }
}

/// The words that answer several facts, each with all that it says: who answers has looked at it.
fn with_what_they_say(word: &InOneWord) -> String {
    let words = words_of(word).into_iter();
    let words = words.map(|(word, says)| format!("{word}: {says}"));
    words.collect::<Vec<_>>().join("; ")
}

/// The same, one by one.
pub(in crate::commands) fn words_of(word: &InOneWord) -> Vec<(String, String)> {
    let catalogue = catalogue();
    let is_meant = |fact: FactId| {
        let name = catalogue.fact_name(fact);
        word.facts.iter().any(|known| *known == *name)
    };
    let all = catalogue.summaries().iter();
    all.flat_map(|summary| said(summary, is_meant)).collect()
}

/// The words of a summary that say nothing but what is meant, each with all that it says.
pub(in crate::commands) fn said(
    summary: &SummaryDef,
    is_meant: impl Fn(FactId) -> bool,
) -> Vec<(String, String)> {
    let catalogue = catalogue();
    let words = summary.words.iter();
    let words = words.filter(|said| said.says.iter().all(|(fact, _)| is_meant(*fact)));
    let words = words.map(|said| {
        let facts = said.says.iter().filter_map(|(fact, given)| {
            let key = catalogue.fact(*fact)?.key.as_deref()?;
            Some(format!("{key} {}", given.written))
        });
        (said.word.clone(), facts.collect::<Vec<_>>().join(", "))
    });
    words.collect()
}

/// An answer as a value. A whole number is one; the digits of others say how well they are known.
pub(in crate::commands) fn value(answer: &str) -> Value {
    match answer.parse::<u32>() {
        Ok(number) if number.to_string() == answer => number.into(),
        _ => answer.into(),
    }
}
