//! Questions on a page.

use std::borrow::Cow;

use super::ways::Ways;
use crate::check::{Report, Verdict};
use crate::report::questions::{Answers, Question, questions};
use crate::report::text::page::{Page, Part};
use crate::report::text::style::Role;
use crate::report::text::summary::counted;
use crate::report::text::would_lift;

/// The columns of the place and of what can be written there.
const INDENT: usize = 2;
const ANSWER: usize = 28;

/// The questions of a report, and what the first of them could do.
pub(super) struct Asking<'r> {
    pub all: Vec<Question<'r>>,
    /// What the first of them could do.
    pub first: Option<String>,
}

impl<'r> Asking<'r> {
    pub(super) fn of(report: &'r Report) -> Self {
        let all = questions(report);
        let first = would_lift::in_a_sentence(report, &all);
        Self { all, first }
    }

    /// `. The first 5 decide it: ...`, after a heading.
    fn deciding(&self) -> String {
        let first = self.first.as_ref();
        first.map_or_else(String::new, |said| format!(". {said}"))
    }
}

/// So many of the questions, and how many there are besides.
pub(super) fn write(asking: &Asking<'_>, count: usize, ways: Ways<'_>, page: &mut Page<'_>) {
    let questions = asking.all.as_slice();
    let more = questions.len().saturating_sub(count);
    if questions.is_empty() {
        return;
    }
    if count == 0 {
        let said = format!("Not known yet: {}", counted(more, "question"));
        return page.paragraph(0, &[Part::new(Role::Heading, said), way(ways)]);
    }
    let heading = Part::new(Role::Heading, "Not known yet");
    let deciding = Part::text(asking.deciding());
    page.paragraph(0, &[heading, deciding]);
    for question in questions.iter().take(count) {
        entry(question, page);
    }
    if more > 0 {
        let said = Part::text(format!("and {more} more"));
        page.paragraph(INDENT, &[said, way(ways)]);
    }
}

fn way(ways: Ways<'_>) -> Part<'_> {
    match ways.questions {
        "" => Part::text(""),
        way => Part::text(format!(": {way}")),
    }
}

/// A question in words.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Asked<'r> {
    /// Where it is answered: `cables[K4 K7].rated.current`.
    pub place: String,
    /// What can be written there, in a few words.
    pub answers: String,
    /// What is asked.
    pub meaning: &'r str,
}

impl<'r> Asked<'r> {
    pub(super) fn of(question: &Question<'r>) -> Self {
        let could = match question.leaves_open {
            Verdict::Refuse => "",
            Verdict::Warn | Verdict::Pass => " (could warn)",
        };
        Self {
            place: question.place(),
            answers: format!("{}{could}", in_words(&question.answers)),
            meaning: question.meaning,
        }
    }
}

fn entry(question: &Question<'_>, page: &mut Page<'_>) {
    let asked = Asked::of(question);
    let place = [Part::new(Role::Label, asked.place)];
    page.entry(INDENT, &place, ANSWER, &[Part::text(asked.answers)]);
}

/// What can be written, in a few words.
fn in_words<'q>(answers: &'q Answers<'_>) -> Cow<'q, str> {
    match answers {
        Answers::OneOf(words) => words.join(", ").into(),
        Answers::InOneWord(word) => format!("{}, or each by itself", word.words.join(", ")).into(),
        Answers::Quantity { kind, unit: "" } => (*kind).into(),
        Answers::Quantity { kind, unit } => format!("{kind} in {unit}").into(),
        Answers::Like(example) => format!("as `{example}`").into(),
        Answers::Text => "a text".into(),
        Answers::MoreEntries(count) => {
            format!("list {count} more, each with what is known of it").into()
        }
    }
}

/// All of them, each with what it means.
pub(super) fn write_all(report: &Report, page: &mut Page<'_>) {
    let asking = Asking::of(report);
    let heading = match asking.all.len() {
        0 => "Nothing is missing that a caution asks for".to_owned(),
        count => format!("Not known yet: {}", counted(count, "question")),
    };
    let heading = Part::new(Role::Heading, heading);
    page.paragraph(0, &[heading, Part::text(asking.deciding())]);
    for question in &asking.all {
        entry(question, page);
        page.paragraph(ANSWER, &[Part::new(Role::Quiet, question.meaning)]);
    }
}
