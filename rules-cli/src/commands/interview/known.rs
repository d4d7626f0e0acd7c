//! What is known in an interview, and what is still to be asked.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::Report;
use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::report::{Answers, Question, each_by_itself, questions};
use rulesets::bench::Bench;
use rulesets::catalogue;
use rulesets::proposal::Draft;
use serde_json::{Value, json};

use super::asked::{Apart, Asked, Goal, value};
use super::meters::meters;
use super::of_bench::names_in;
use super::opening::{can_be_checked, opening};

/// What can be answered to every question.
pub(super) const NOT_KNOWN: &str = "?";

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
            count = self.times(&of_report).saturating_sub(1);
            asked.extend(self.first_of(&of_report));
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

    /// The places of which nobody knows what belongs there.
    pub(super) const fn not_known(&self) -> &BTreeSet<String> {
        &self.not_known
    }

    /// How often is asked before the verdict can be another.
    pub(super) fn waiting(&self, report: &Report) -> usize {
        let mut all = self.to_ask(report);
        let any_decides = all.iter().any(|one| one.decides);
        all.retain(|one| match any_decides {
            true => one.decides,
            false => one.holds_the_verdict,
        });
        self.times(&all)
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

    /// The questions of a report that are still to be asked: those first that were found to lift the
    /// verdict together, then those that hold it, and the stages in their order.
    fn to_ask<'r>(&self, report: &'r Report) -> Vec<Question<'r>> {
        let best = report.gravest().best;
        let mut all: Vec<Question<'r>> = questions(report)
            .into_iter()
            .flat_map(|question| self.by_fact(question, report))
            .filter_map(|question| within(question, |place| !self.not_known.contains(place)))
            .filter(|question| self.asks_all || question.leaves_open > best)
            .collect();
        all.sort_by_key(|one| {
            let stage = one.stage.unwrap_or(usize::MAX);
            (!one.decides, !one.holds_the_verdict, stage)
        });
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

    /// The first question, with what else is read off together with it.
    fn first_of(&self, all: &[Question<'_>]) -> Option<Asked> {
        let first = self.of_one(all.first()?.clone());
        let paths = first.paths();
        let Some(map) = paths.first().and_then(|path| self.map_of(path, &first)) else {
            return Some(Asked::of(&first));
        };
        let of_map = all.iter().filter_map(|one| {
            let is_there = |path: &str| self.map_of(path, one).is_some_and(|of| of == map);
            within(one.clone(), is_there)
        });
        let mut together: Vec<Question<'_>> = of_map.collect();
        together.sort_by_key(|one| place_in_table(one.key.unwrap_or_default()));
        Asked::together(&together)
    }

    /// A question, of one entry where each is asked by itself.
    fn of_one<'r>(&self, mut question: Question<'r>) -> Question<'r> {
        let mut places = question.paths().into_iter();
        let by_entry = places.any(|place| self.entry_by_entry.contains(&place));
        if let Some(entries) = question.entries.as_mut()
            && (by_entry || is_measured(&question.answers))
        {
            entries.truncate(1);
        }
        question
    }

    /// The map that a place is in, if what is in it is read off together: `cells[K4].rest` of
    /// `cells[K4].rest.voltage`. What is alike for several entries is asked of all at once instead.
    fn map_of<'p>(&self, path: &'p str, question: &Question<'_>) -> Option<&'p str> {
        let several = question.entries.as_ref().is_some_and(|all| all.len() > 1);
        let is_alone = match &question.answers {
            Answers::InOneWord(_) | Answers::MoreEntries(_) => true,
            answers => several && !is_measured(answers),
        };
        let in_map = question.key.is_some_and(|key| key.contains('.'));
        let is_together = in_map && !is_alone && !self.entry_by_entry.contains(path);
        path.rsplit_once('.')
            .filter(|_| is_together)
            .map(|(map, _)| map)
    }

    /// How often is asked.
    fn times(&self, questions: &[Question<'_>]) -> usize {
        let mut places = BTreeSet::new();
        for question in questions {
            match question.entries {
                Some(_) if !is_measured(&question.answers) => drop(places.insert(question.place())),
                _ => places.extend(question.paths().into_iter().map(|path| {
                    let map = self.map_of(&path, question).map(str::to_owned);
                    map.unwrap_or(path)
                })),
            }
        }
        places.len()
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
            Goal::Each(paths) => self.answer_each(paths, text),
            Goal::Entries(list) => self.add_entries(list, text),
        }
    }

    /// Writes the answers of one line, each at its place. The last may be left for later.
    fn answer_each(&mut self, paths: &[String], text: &str) -> Result<(), ProblemList> {
        let answers: Vec<&str> = text.split(',').map(str::trim).collect();
        if answers.len() > paths.len() {
            let message = format!(
                "{} answers belong here, and these are {}",
                paths.len(),
                answers.len()
            );
            let help = "write them in their order, with commas between";
            return Err(Problem::of_file(Fault::WrongShape, message, help).into());
        }
        for (path, answer) in paths.iter().zip(answers) {
            match answer {
                NOT_KNOWN => drop(self.not_known.insert(path.clone())),
                answer => self.draft.set(path, value(answer))?,
            }
        }
        Ok(())
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

/// Where a key stands in the table of facts.
fn place_in_table(key: &str) -> usize {
    let catalogue = catalogue();
    let mut keys = catalogue.facts().map(|(_, def)| def.key.as_deref());
    keys.position(|known| known == Some(key))
        .unwrap_or(usize::MAX)
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
