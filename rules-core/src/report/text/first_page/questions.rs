//! What is not known yet, as questions in the keys of the proposal: alike subjects joined, and facts
//! that one word can answer asked once.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use super::Ways;
use crate::check::{FactPlace, MeasureNext, Report, Subject, Verdict};
use crate::report::text::page::{Page, Part};
use crate::report::text::style::Role;
use crate::report::text::summary::counted;

/// The columns of the place and of what can be written there.
const INDENT: usize = 2;
const ANSWER: usize = 28;

/// Something to state or to measure.
#[derive(Debug)]
pub(super) struct Question<'r> {
    section: &'r str,
    is_list: bool,
    /// The names of those it is asked of; none of one that the proposal does not list.
    subjects: Vec<&'r str>,
    /// The key, or the key of the word that answers several.
    key: Option<&'r str>,
    answers: Cow<'r, str>,
    meaning: Cow<'r, str>,
    /// The gravest verdict that it leaves open.
    leaves_open: Verdict,
    /// Whether the verdict of the report cannot get better before it is answered.
    pub holds_the_verdict: bool,
}

impl Question<'_> {
    /// `cables[K4 K7].sheath`.
    fn place(&self) -> String {
        let entry = match self.is_list {
            true => format!("[{}]", self.subjects.join(" ")),
            false => String::new(),
        };
        match self.key {
            Some(key) => format!("{}{entry}.{key}", self.section),
            None => format!("{}{entry}", self.section),
        }
    }

    fn is_like(&self, other: &Self) -> bool {
        (self.section, self.key, self.leaves_open) == (other.section, other.key, other.leaves_open)
            && self.is_list == other.is_list
    }
}

/// The questions of a report, those that hold its verdict first.
pub(super) fn questions(report: &Report) -> Vec<Question<'_>> {
    let missing = report.measure_next.iter().filter(|next| next.missing);
    let missing: Vec<&MeasureNext> = missing.collect();
    let asked: BTreeSet<(&str, &Subject)> = missing
        .iter()
        .map(|next| (next.fact.as_str(), &next.subject))
        .collect();
    let mut all: Vec<Question<'_>> = Vec::new();
    let mut unlisted: BTreeMap<&str, usize> = BTreeMap::new();
    for next in missing {
        let Some(place) = report.places.get(&next.fact) else {
            continue;
        };
        if !next.subject.is_listed() && place.is_list {
            unlisted.insert(&place.section, next.subject.count());
            continue;
        }
        let question = question(next, place, &asked, report.gravest().verdict);
        match all.iter_mut().find(|known| known.is_like(&question)) {
            Some(known) => joined(known, question),
            None => all.push(question),
        }
    }
    all.sort_by_key(|one| !one.holds_the_verdict);
    let lists = unlisted
        .into_iter()
        .map(|(section, count)| to_list(section, count));
    lists.chain(all).collect()
}

fn joined<'r>(known: &mut Question<'r>, more: Question<'r>) {
    for subject in more.subjects {
        if !known.subjects.contains(&subject) {
            known.subjects.push(subject);
        }
    }
    known.holds_the_verdict |= more.holds_the_verdict;
}

fn question<'r>(
    next: &'r MeasureNext,
    place: &'r FactPlace,
    asked: &BTreeSet<(&str, &Subject)>,
    verdict: Verdict,
) -> Question<'r> {
    let word = place.in_one_word.as_ref().filter(|word| {
        let facts = word.facts.iter();
        facts.clone().count() > 1
            && facts
                .clone()
                .all(|fact| asked.contains(&(fact.as_str(), &next.subject)))
    });
    let (key, answers, meaning) = match word {
        Some(word) => (
            Some(word.key.as_str()),
            Cow::Owned(format!("{}, or each by itself", word.words.join(", "))),
            Cow::Borrowed(word.meaning.as_str()),
        ),
        None => (
            place.key.as_deref(),
            answers(place),
            Cow::Borrowed(next.meaning.as_str()),
        ),
    };
    Question {
        section: &place.section,
        is_list: place.is_list,
        subjects: next.subject.name().into_iter().collect(),
        key,
        answers,
        meaning,
        leaves_open: next.leaves_open,
        holds_the_verdict: next.leaves_open >= verdict && verdict > Verdict::Pass,
    }
}

/// That entries of a list are called for and are not there.
fn to_list(section: &str, count: usize) -> Question<'_> {
    Question {
        section,
        is_list: false,
        subjects: Vec::new(),
        key: None,
        answers: format!("list {count} more, each with what is known of it").into(),
        meaning: "What the proposal calls for and does not list".into(),
        leaves_open: Verdict::Refuse,
        holds_the_verdict: true,
    }
}

/// What can be written: the options, or the kind with a unit.
fn answers(place: &FactPlace) -> Cow<'_, str> {
    if let Some(example) = &place.example {
        return format!("as `{example}`").into();
    }
    match (&place.unit, place.options.as_slice()) {
        (Some(unit), _) => format!("{} in {unit}", place.kind).into(),
        (None, []) => place.kind.as_ref().into(),
        (None, options) => options.join(", ").into(),
    }
}

/// So many of the questions, and how many there are besides.
pub(super) fn write(questions: &[Question<'_>], count: usize, ways: Ways<'_>, page: &mut Page<'_>) {
    let more = questions.len().saturating_sub(count);
    if questions.is_empty() {
        return;
    }
    if count == 0 {
        let said = format!("Not known yet: {}", counted(more, "question"));
        return page.paragraph(0, &[Part::new(Role::Heading, said), way(ways)]);
    }
    page.paragraph(0, &[Part::new(Role::Heading, "Not known yet")]);
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

fn entry(question: &Question<'_>, page: &mut Page<'_>) {
    let place = [Part::new(Role::Label, question.place())];
    let could = match question.leaves_open {
        Verdict::Refuse => "",
        Verdict::Warn | Verdict::Pass => " (could warn)",
    };
    let answers = Part::text(format!("{}{could}", question.answers));
    page.entry(INDENT, &place, ANSWER, &[answers]);
}

/// All of them, each with what it means.
pub(super) fn write_all(report: &Report, page: &mut Page<'_>) {
    let all = questions(report);
    let heading = match all.len() {
        0 => "Nothing is missing that a caution asks for".to_owned(),
        count => format!("Not known yet: {}", counted(count, "question")),
    };
    page.paragraph(0, &[Part::new(Role::Heading, heading)]);
    for question in &all {
        entry(question, page);
        let meaning = Part::new(Role::Quiet, question.meaning.as_ref());
        page.paragraph(ANSWER, &[meaning]);
    }
}
