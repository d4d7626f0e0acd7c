//! What is known in an interview, and what is still to be asked.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::Report;
use rules_core::document::ProblemList;
use rules_core::report::{Answers, Question, each_by_itself, questions};
use rulesets::bench::Bench;
use rulesets::proposal::Draft;
use serde_json::{Value, json};

use super::asked::{Apart, Asked, Goal, value};
use super::meters::meters;
use super::of_bench::names_in;
use super::opening::{can_be_checked, opening};

/// What was answered, and what was not.
#[derive(Debug, Clone)]
pub(super) struct Known {
    pub draft: Draft,
    /// What the proposal takes from.
    bench: Option<Arc<Bench>>,
    /// The places of which nobody knows what belongs there.
    not_known: BTreeSet<String>,
    /// The places that are asked one entry after the other.
    entry_by_entry: BTreeSet<String>,
    /// The places of words of which each fact is asked by itself.
    fact_by_fact: BTreeSet<String>,
    /// Whether what cannot change the verdict is asked too.
    asks_all: bool,
}

impl Known {
    pub(super) const fn of(draft: Draft, bench: Option<Arc<Bench>>) -> Self {
        Self {
            draft,
            bench,
            not_known: BTreeSet::new(),
            entry_by_entry: BTreeSet::new(),
            fact_by_fact: BTreeSet::new(),
            asks_all: false,
        }
    }

    /// What to ask next, and how many questions there are with it.
    pub(super) fn next(&self, report: Option<&Report>) -> Option<(Asked, usize)> {
        let value = self.draft.value();
        let mut asked = self.opening();
        let mut count = 0;
        if let Some(report) = report {
            let of_report = self.to_ask(report);
            count = of_report.iter().map(times).sum::<usize>().saturating_sub(1);
            asked.extend(of_report.first().map(|first| self.of_first(first.clone())));
            asked.extend(meters(report, value));
        }
        asked.retain(|asked| !self.is_left_open(asked));
        let total = count + asked.len();
        Some((asked.into_iter().next()?, total))
    }

    /// What is asked before anything that a report asks for.
    fn opening(&self) -> Vec<Asked> {
        let mut all = opening(self.draft.value(), self.bench.as_deref());
        all.retain(|asked| !self.is_left_open(asked));
        all.into_iter().map(|asked| self.one_of(asked)).collect()
    }

    /// Whether the first questions are behind.
    pub(super) fn is_opened(&self) -> bool {
        self.opening().is_empty()
    }

    /// Whether enough is said for a check.
    pub(super) fn can_be_checked(&self) -> bool {
        can_be_checked(self.draft.value(), self.bench.as_deref())
    }

    fn is_left_open(&self, asked: &Asked) -> bool {
        let mut places = asked.places().iter();
        places.any(|place| self.not_known.contains(place))
    }

    /// A first question, of one of its places where each is asked by itself.
    fn one_of(&self, mut asked: Asked) -> Asked {
        if let Goal::Fields(paths) = &mut asked.goal
            && paths.iter().any(|path| self.entry_by_entry.contains(path))
        {
            asked.apart = None;
            paths.truncate(1);
        }
        asked
    }

    /// Whether questions are left that cannot change the verdict.
    pub(super) fn could_ask_more(&self, report: &Report) -> bool {
        let all = Self {
            asks_all: true,
            ..self.clone()
        };
        !self.asks_all && !all.to_ask(report).is_empty()
    }

    /// The questions of a report that are still to be asked: those that hold the verdict first, and
    /// the stages in their order.
    fn to_ask<'r>(&self, report: &'r Report) -> Vec<Question<'r>> {
        let best = report.gravest().best;
        let mut all: Vec<Question<'r>> = questions(report)
            .into_iter()
            .flat_map(|question| self.by_fact(question, report))
            .filter_map(|question| within(question, |place| !self.not_known.contains(place)))
            .filter(|question| self.asks_all || question.leaves_open > best)
            .collect();
        all.sort_by_key(|one| (!one.holds_the_verdict, one.stage.unwrap_or(usize::MAX)));
        all
    }

    /// A question of one word; for whom it is asked fact by fact, those.
    fn by_fact<'r>(&self, question: Question<'r>, report: &'r Report) -> Vec<Question<'r>> {
        let is_apart = |place: &str| self.fact_by_fact.contains(place);
        let apart = within(question.clone(), is_apart);
        let apart = apart.iter().flat_map(|one| each_by_itself(report, one));
        let together = within(question, |place| !is_apart(place));
        together.into_iter().chain(apart).collect()
    }

    /// A question, of one entry where each is asked by itself.
    fn of_first(&self, mut question: Question<'_>) -> Asked {
        let mut places = question.paths().into_iter();
        let by_entry = places.any(|place| self.entry_by_entry.contains(&place));
        if let Some(entries) = question.entries.as_mut()
            && (by_entry || is_measured(&question.answers))
        {
            entries.truncate(1);
        }
        Asked::of(&question)
    }

    /// Leaves a question open.
    pub(super) fn leave_open(&mut self, asked: &Asked) {
        self.not_known.extend(asked.places().iter().cloned());
    }

    /// Asks one after the other what was asked at once.
    pub(super) fn take_apart(&mut self, asked: &Asked, apart: Apart) {
        let places = asked.places().iter().cloned();
        match apart {
            Apart::Entries => self.entry_by_entry.extend(places),
            Apart::Facts => self.fact_by_fact.extend(places),
        }
    }

    /// Asks what cannot change the verdict, too.
    pub(super) const fn ask_all(&mut self) {
        self.asks_all = true;
    }

    /// Writes an answer at its places.
    pub(super) fn answer(&mut self, asked: &Asked, text: &str) -> Result<(), ProblemList> {
        match &asked.goal {
            Goal::Needed(path) => self.draft.set(path, text),
            Goal::Fields(paths) => paths
                .iter()
                .try_for_each(|path| self.draft.set(path, value(text))),
            Goal::Entries(list) => self.add_entries(list, text),
        }
    }

    /// Adds entries to a list. Cells of a bench are taken by their names.
    fn add_entries(&mut self, list: &str, names: &str) -> Result<(), ProblemList> {
        let entry = |name: &str| match self.bench {
            Some(_) => name.into(),
            None => json!({ "id": name }),
        };
        let known = self.draft.value().get(list).and_then(Value::as_array);
        let mut entries = known.cloned().unwrap_or_default();
        let names = names_in(names, self.bench.as_deref());
        entries.extend(names.into_iter().map(entry));
        self.draft.set(list, entries)
    }
}

/// What is read off an instrument is asked of each entry by itself.
const fn is_measured(answers: &Answers<'_>) -> bool {
    matches!(
        answers,
        Answers::Quantity { .. } | Answers::Like(_) | Answers::Text
    )
}

/// How often a question is asked.
fn times(question: &Question<'_>) -> usize {
    match &question.entries {
        Some(entries) if is_measured(&question.answers) => entries.len(),
        _ => 1,
    }
}

/// The question of those whose places are meant, if there are any.
fn within<'q>(mut question: Question<'q>, is_meant: impl Fn(&str) -> bool) -> Option<Question<'q>> {
    let places = question.paths();
    let Some(entries) = question.entries.take() else {
        return places
            .iter()
            .any(|place| is_meant(place))
            .then_some(question);
    };
    let of_places = entries.into_iter().zip(places);
    let kept: Vec<&str> = of_places
        .filter_map(|(entry, place)| is_meant(&place).then_some(entry))
        .collect();
    if kept.is_empty() {
        return None;
    }
    question.entries = Some(kept);
    Some(question)
}
