//! What is not known yet, as questions in the keys of a proposal: alike subjects joined, and facts
//! that one word can answer asked once.

use std::collections::{BTreeMap, BTreeSet};

use crate::check::{FactPlace, Finding, InOneWord, MeasureNext, Report, Subject, Verdict};

/// Something to state or to measure.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Question<'r> {
    /// The key at the top of the proposal: `cables`.
    pub section: &'r str,
    /// Whose entries of the section's list it is about: their names. None where no list stands there.
    pub entries: Option<Vec<&'r str>>,
    /// The key below, with dots between: `rated.current`; that of a word, where one word answers. None
    /// where the section itself is the value.
    pub key: Option<&'r str>,
    /// What can be written.
    pub answers: Answers<'r>,
    /// What is asked.
    pub meaning: &'r str,
    /// The first stage of the work that waits for the answer, by its place in the report.
    pub stage: Option<usize>,
    /// The gravest verdict that it leaves open.
    pub leaves_open: Verdict,
    /// Whether the verdict of the report cannot get better before it is answered, as far as it is
    /// about what is missing.
    pub holds_the_verdict: bool,
}

/// What can be written in answer to a question.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Answers<'r> {
    /// One of these words.
    OneOf(&'r [String]),
    /// One of these words for several facts at once, or each fact by itself.
    InOneWord(&'r InOneWord),
    /// A quantity of this kind, for which there is such a unit.
    Quantity {
        /// The kind: `current`.
        kind: &'r str,
        /// A unit: `A`. Empty for a plain number.
        unit: &'r str,
    },
    /// Something written as this.
    Like(&'r str),
    /// A text.
    Text,
    /// So many more entries of the list.
    MoreEntries(usize),
}

impl Question<'_> {
    /// Where it is answered, for all of whom it is asked: `cables[K4 K7].rated.current`.
    #[must_use]
    pub fn place(&self) -> String {
        let names = self.entries.as_ref().map(|names| names.join(" "));
        self.path(names.as_deref())
    }

    /// Where it is answered, for each of whom it is asked.
    #[must_use]
    pub fn paths(&self) -> Vec<String> {
        match &self.entries {
            None => vec![self.path(None)],
            Some(names) => names.iter().map(|name| self.path(Some(name))).collect(),
        }
    }

    fn path(&self, entry: Option<&str>) -> String {
        let entry = entry.map_or_else(String::new, |name| format!("[{name}]"));
        let key = self.key.map_or_else(String::new, |key| format!(".{key}"));
        format!("{}{entry}{key}", self.section)
    }

    fn is_like(&self, other: &Self) -> bool {
        (self.section, self.key, self.leaves_open) == (other.section, other.key, other.leaves_open)
            && self.entries.is_some() == other.entries.is_some()
    }

    fn take(&mut self, other: Self) {
        let (own, others) = (self.entries.iter_mut(), other.entries.into_iter());
        for (own, others) in own.zip(others) {
            own.extend(others);
            own.dedup();
        }
        self.holds_the_verdict |= other.holds_the_verdict;
        self.stage = self.stage.into_iter().chain(other.stage).min();
    }
}

/// The questions of a report, those that hold its verdict first.
#[must_use]
pub fn questions(report: &Report) -> Vec<Question<'_>> {
    let missing = report.measure_next.iter().filter(|next| next.missing);
    let asked: BTreeSet<(&str, &Subject)> = missing
        .clone()
        .map(|next| (next.fact.as_str(), &next.subject))
        .collect();
    let mut all = Vec::new();
    let mut unlisted: BTreeMap<&str, usize> = BTreeMap::new();
    for next in missing {
        let Some(place) = report.places.get(&next.fact) else {
            continue;
        };
        if !next.subject.is_listed() && place.is_list {
            unlisted.insert(&place.section, next.subject.count());
            continue;
        }
        let all_asked = |word: &&InOneWord| {
            let mut facts = word.facts.iter();
            facts.all(|fact| asked.contains(&(fact.as_str(), &next.subject)))
        };
        let in_one_word = place.in_one_word.as_ref().filter(all_asked);
        join(question(next, place, in_one_word, report), &mut all);
    }
    all.sort_by_key(|one| !one.holds_the_verdict);
    let lists = unlisted.into_iter().map(more_entries);
    lists.chain(all).collect()
}

/// The questions that one word could answer, each by itself: those of whom the question is.
#[must_use]
pub fn each_by_itself<'r>(report: &'r Report, question: &Question<'r>) -> Vec<Question<'r>> {
    let mut all = Vec::new();
    for next in report.measure_next.iter().filter(|next| next.missing) {
        let Some(place) = report.places.get(&next.fact) else {
            continue;
        };
        let word = place.in_one_word.as_ref();
        let of_word = word.is_some_and(|word| Some(&*word.key) == question.key)
            && place.section == question.section;
        let entries = question.entries.as_deref();
        let of_whom = next
            .subject
            .name()
            .is_none_or(|name| entries.is_none_or(|entries| entries.contains(&name)));
        if of_word && of_whom {
            join(self::question(next, place, None, report), &mut all);
        }
    }
    all
}

/// Adds a question, or its subject to a like one.
fn join<'r>(question: Question<'r>, all: &mut Vec<Question<'r>>) {
    match all.iter_mut().find(|known| known.is_like(&question)) {
        Some(known) => known.take(question),
        None => all.push(question),
    }
}

/// The first stage with a finding that waits for the fact.
fn stage(fact: &str, report: &Report) -> Option<usize> {
    let waits = |finding: &&Finding| finding.missing.iter().any(|missing| missing == fact);
    let of_stage = |finding: &Finding| match &finding.stage {
        None => Some(0),
        Some(id) => report.stages.iter().position(|stage| stage.stage == *id),
    };
    let waiting = report.findings.iter().filter(waits);
    waiting.filter_map(of_stage).min()
}

fn question<'r>(
    next: &'r MeasureNext,
    place: &'r FactPlace,
    in_one_word: Option<&'r InOneWord>,
    report: &Report,
) -> Question<'r> {
    let verdict = report.gravest().verdict;
    let (key, answers, meaning) = match in_one_word {
        Some(word) => (Some(&*word.key), Answers::InOneWord(word), &*word.meaning),
        None => (place.key.as_deref(), answers(place), &*next.meaning),
    };
    let names = || next.subject.name().into_iter().collect();
    Question {
        section: &place.section,
        entries: place.is_list.then(names),
        key,
        answers,
        meaning,
        stage: stage(&next.fact, report),
        leaves_open: next.leaves_open,
        holds_the_verdict: next.leaves_open >= verdict && verdict > Verdict::Pass,
    }
}

/// That entries of a list are called for and are not there.
fn more_entries((section, count): (&str, usize)) -> Question<'_> {
    Question {
        section,
        entries: None,
        key: None,
        answers: Answers::MoreEntries(count),
        meaning: "What the proposal calls for and does not list",
        stage: Some(0),
        leaves_open: Verdict::Refuse,
        holds_the_verdict: true,
    }
}

fn answers(place: &FactPlace) -> Answers<'_> {
    if let Some(example) = &place.example {
        return Answers::Like(example);
    }
    match (&place.unit, place.options.as_slice()) {
        (Some(unit), _) => Answers::Quantity {
            kind: &place.kind,
            unit,
        },
        (None, []) if place.kind == "count" => Answers::Quantity {
            kind: &place.kind,
            unit: "",
        },
        (None, []) => Answers::Text,
        (None, options) => Answers::OneOf(options),
    }
}
