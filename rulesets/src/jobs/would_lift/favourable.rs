//! Answers that lift a verdict together.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rules_core::check::{Brief, Report, Verdict};

use super::asked::{Asked, asked};
use super::tries::{Answer, Score, Tries};
use crate::jobs::reads::Reads;

/// So often it is asked what else holds the verdict.
const ROUNDS: usize = 3;
/// So often the answers are gone over to better them.
const REPAIRS: usize = 2;

/// Questions with answers that lift the verdict together, those without an answer left out.
pub(super) struct Favourable {
    pub questions: Vec<Answered>,
    /// The verdict with them.
    pub verdict: Verdict,
    /// Whether every question that held the verdict at first had something to answer with.
    pub is_whole: bool,
}

/// A question with its answers.
pub(super) struct Answered {
    pub asked: Asked,
    pub answers: Vec<Answer>,
}

/// A question, its cautions and the value that is taken for it.
struct Taken {
    asked: Asked,
    cautions: BTreeSet<Arc<str>>,
    value: Option<usize>,
}

/// Questions with an answer each so that the verdict is lifted; none where none were found.
pub(super) fn favourable(
    tries: &mut Tries<'_, '_>,
    report: &Report,
    (reads, not_known): (&Reads, &BTreeSet<String>),
) -> Option<Favourable> {
    let mut search = Search {
        tries,
        taken: Vec::new(),
    };
    let mut now: Option<Report> = None;
    for _ in 0..ROUNDS {
        let report = now.as_ref().unwrap_or(report);
        let new = asked(report, search.tries.rules(), (reads, not_known));
        if !search.add(new, reads) {
            return None;
        }
        search.choose_words();
        search.choose_numbers();
        if let Some(verdict) = search.repaired() {
            return Some(search.found(verdict));
        }
        now = Some(search.report()?);
    }
    None
}

struct Search<'s, 't, 'r> {
    tries: &'s mut Tries<'t, 'r>,
    taken: Vec<Taken>,
}

impl Search<'_, '_, '_> {
    /// Adds questions, and says whether there were new ones.
    fn add(&mut self, new: Vec<Asked>, reads: &Reads) -> bool {
        let before = self.taken.len();
        let known: BTreeSet<String> = self
            .taken
            .iter()
            .flat_map(|one| one.asked.places.clone())
            .collect();
        let is_new = |asked: &Asked| asked.places.iter().all(|place| !known.contains(place));
        self.taken
            .extend(new.into_iter().filter(is_new).map(|asked| Taken {
                cautions: reads.of_any(&asked.facts),
                asked,
                value: None,
            }));
        self.taken.len() > before
    }

    /// The answers, with the value of one question another.
    fn answers(&self, other: Option<(usize, usize)>) -> Vec<Answer> {
        let each = self.taken.iter().enumerate().flat_map(|(at, one)| {
            let value = match other {
                Some((of, value)) if of == at => Some(value),
                _ => one.value,
            };
            value.map_or_else(Vec::new, |value| one.asked.answers(value))
        });
        each.collect()
    }

    fn scored(&mut self, other: Option<(usize, usize)>) -> Option<Score> {
        let answers = self.answers(other);
        let brief = self.tries.with(&answers)?;
        Some(self.tries.score(brief.findings.iter()))
    }

    /// Of questions that a word answers, the word that leaves the least in the way of the cautions that
    /// read it: all first words at once, all second ones, and so on.
    fn choose_words(&mut self) {
        let open = |one: &Taken| one.asked.is_of_words() && one.value.is_none();
        let most = self.taken.iter().filter(|one| open(one));
        let most = most.map(|one| one.asked.values.len()).max().unwrap_or(0);
        let mut best: BTreeMap<usize, (Score, usize)> = BTreeMap::new();
        for at in 0..most {
            let Some(brief) = self.with_words(at) else {
                continue;
            };
            for (of, one) in self.taken.iter().enumerate() {
                if !open(one) || at >= one.asked.values.len() {
                    continue;
                }
                let score = self.score_of(one, &brief);
                let known = best.entry(of).or_insert((score, at));
                *known = (score, at).min(*known);
            }
        }
        for (of, one) in self.taken.iter_mut().enumerate() {
            if open(one) {
                one.value = Some(best.get(&of).map_or(0, |(_, at)| *at));
            }
        }
        // Together they may contradict each other: then one after the other.
        let all = self.answers(None);
        if self.tries.with(&all).is_none() {
            self.one_after_the_other();
        }
    }

    /// The plan with the word at a place of every question that has not taken one.
    fn with_words(&mut self, at: usize) -> Option<Brief> {
        let words = self.taken.iter().flat_map(|one| {
            let last = one.asked.values.len().saturating_sub(1);
            let value = match one.asked.is_of_words() {
                true => one.value.or(Some(at.min(last))),
                false => one.value,
            };
            value.map_or_else(Vec::new, |value| one.asked.answers(value))
        });
        let words: Vec<Answer> = words.collect();
        self.tries.with(&words)
    }

    fn score_of(&self, one: &Taken, brief: &Brief) -> Score {
        let findings = brief.findings.iter();
        let own = findings.filter(|finding| one.cautions.contains(&finding.caution));
        self.tries.score(own)
    }

    /// Takes all words away again, and for one question after the other the best.
    fn one_after_the_other(&mut self) {
        let words: Vec<usize> = (0..self.taken.len())
            .filter(|at| {
                self.taken
                    .get(*at)
                    .is_some_and(|one| one.asked.is_of_words())
            })
            .collect();
        for at in &words {
            self.take(*at, None);
        }
        for at in words {
            self.take_best(at);
        }
    }

    /// First numbers that lift something whatever the others are, what lifts the most first; then one
    /// after the other those that do so only together.
    fn choose_numbers(&mut self) {
        let open = self.taken.iter().enumerate();
        let open = open.filter(|(_, one)| one.value.is_none());
        let open: Vec<usize> = open.map(|(at, _)| at).collect();
        let Some(now) = self.scored(None) else { return };
        let mut each = Vec::new();
        for at in open {
            each.extend(self.best(at).map(|best| (best, at)));
        }
        each.sort();
        for ((score, value), at) in each {
            let lifts = score < now && self.scored(Some((at, value))).is_some();
            match lifts {
                true => self.take(at, Some(value)),
                false => self.take_best(at),
            }
        }
    }

    fn take(&mut self, at: usize, value: Option<usize>) {
        if let Some(one) = self.taken.get_mut(at) {
            one.value = value;
        }
    }

    /// Takes the value of a question that leaves the least in the way, if any goes with the rest.
    fn take_best(&mut self, at: usize) {
        if let Some((_, value)) = self.best(at) {
            self.take(at, Some(value));
        }
    }

    /// The value of a question that leaves the least in the way, if any goes with the rest.
    fn best(&mut self, at: usize) -> Option<(Score, usize)> {
        let count = self.taken.get(at).map_or(0, |one| one.asked.values.len());
        let mut best: Option<(Score, usize)> = None;
        for value in 0..count {
            let answers = self.answers(Some((at, value)));
            let Some(brief) = self.tries.with(&answers) else {
                continue;
            };
            let score = self.tries.score(brief.findings.iter());
            best = best.into_iter().chain([(score, value)]).min();
            if self.is_free(at, &brief) {
                break;
            }
        }
        best
    }

    /// Whether no caution that reads a question speaks against the plan or stands in its way.
    fn is_free(&self, at: usize, brief: &Brief) -> bool {
        let Some(one) = self.taken.get(at) else {
            return false;
        };
        let findings = brief.findings.iter();
        let mut own = findings.filter(|finding| one.cautions.contains(&finding.caution));
        own.all(|finding| finding.best == Verdict::Pass && !self.tries.holds(finding))
    }

    /// The verdict that the answers lift the plan to, after those were bettered that a finding which
    /// stands in the way reads.
    fn repaired(&mut self) -> Option<Verdict> {
        for _ in 0..REPAIRS {
            let answers = self.answers(None);
            let brief = self.tries.with(&answers)?;
            let holding = brief.findings.iter().filter(|one| self.tries.holds(one));
            let holding: BTreeSet<Arc<str>> = holding.map(|one| Arc::clone(&one.caution)).collect();
            if holding.is_empty() {
                return self.tries.lifted(&answers);
            }
            let involved: Vec<usize> = (0..self.taken.len())
                .filter(|at| {
                    let one = self.taken.get(*at);
                    one.is_some_and(|one| !one.cautions.is_disjoint(&holding))
                })
                .collect();
            let before = self.scored(None)?;
            for at in involved {
                self.take_better(at);
            }
            if self.scored(None)? >= before {
                break;
            }
        }
        let answers = self.answers(None);
        self.tries.lifted(&answers)
    }

    /// Takes another value of a question where that leaves less in the way.
    fn take_better(&mut self, at: usize) {
        let Some(now) = self.scored(None) else { return };
        let own = self.taken.get(at).and_then(|one| one.value);
        let count = self.taken.get(at).map_or(0, |one| one.asked.values.len());
        let mut best = (now, own);
        for value in (0..count).filter(|value| Some(*value) != own) {
            if let Some(score) = self.scored(Some((at, value)))
                && score < best.0
            {
                best = (score, Some(value));
            }
        }
        self.take(at, best.1);
    }

    fn report(&mut self) -> Option<Report> {
        let answers = self.answers(None);
        self.tries.report(&answers)
    }

    fn found(self, verdict: Verdict) -> Favourable {
        let is_whole = self.taken.iter().all(|one| one.value.is_some());
        let answered = self.taken.into_iter().filter_map(|one| {
            let answers = one.asked.answers(one.value?);
            let asked = one.asked;
            Some(Answered { asked, answers })
        });
        let mut questions: Vec<Answered> = answered.collect();
        questions.sort_by(|one, other| one.asked.in_order().cmp(&other.asked.in_order()));
        Favourable {
            questions,
            verdict,
            is_whole,
        }
    }
}

impl Asked {
    /// One of its values at each of its places.
    fn answers(&self, value: usize) -> Vec<Answer> {
        let Some(value) = self.values.get(value) else {
            return Vec::new();
        };
        let places = self.places.iter();
        let answer = |place: &String| Answer {
            place: place.clone(),
            value: value.clone(),
        };
        places.map(answer).collect()
    }
}
