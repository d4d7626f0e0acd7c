//! Of answers that lift a verdict together, as few as are enough.

use std::collections::BTreeSet;

use rules_core::check::{Report, Verdict};

use super::asked::Effort;
use super::favourable::{Answered, Favourable};
use super::tries::{Answer, Tries};
use super::waiting::Waiting;

/// Up to so many answers all smaller sets are tried, where nothing else shows that they are too few.
const SMALL: usize = 3;

/// Answers of which none can be left out.
pub(super) struct Few {
    pub answers: Vec<Answer>,
    /// The verdict with them.
    pub verdict: Verdict,
    /// Whether it is shown that fewer are never enough.
    pub fewest: bool,
}

/// Leaves out one after the other what is not needed, the dearest first. None where the checks do not
/// suffice to show of each that it is needed.
pub(super) fn few(tries: &mut Tries<'_, '_>, report: &Report, found: Favourable) -> Option<Few> {
    let all = Answers::of(&found.questions);
    let waiting = Waiting::of(report, tries.aim(), &all.each, tries);
    let mut left = Left {
        tries,
        all: &all,
        kept: (0..all.each.len()).collect(),
        verdict: found.verdict,
    };
    let forced = waiting.forced();
    let mut dearest: Vec<&Vec<usize>> = all.by_question.iter().rev().collect();
    dearest.sort_by_key(|one| {
        let first = one
            .first()
            .and_then(|at| found.questions.get(all.question_of(*at)));
        std::cmp::Reverse(first.map(|one| one.asked.effort))
    });
    for question in dearest {
        let open = question.iter().copied();
        let open: Vec<usize> = open.filter(|at| !forced.contains(at)).collect();
        if open.len() == 1 || !left.without(&open)? {
            for at in open {
                left.without(&[at])?;
            }
        }
    }
    let (kept, verdict) = (left.kept, left.verdict);
    let fewest = found.is_whole
        && (waiting.at_least() == kept.len()
            || fewer_are_too_few(kept.len(), (&all, &found.questions), &waiting, tries));
    let answers = all.some(&kept).cloned().collect();
    Some(Few {
        answers,
        verdict,
        fewest,
    })
}

/// All answers, in the order of their questions.
struct Answers {
    /// Each, and whether it is a text, which may say several facts.
    each: Vec<(Answer, bool)>,
    by_question: Vec<Vec<usize>>,
}

impl Answers {
    fn of(questions: &[Answered]) -> Self {
        let (mut each, mut by_question) = (Vec::new(), Vec::new());
        for question in questions {
            let first = each.len();
            let is_text = question.asked.effort == Effort::Text;
            each.extend(
                question
                    .answers
                    .iter()
                    .map(|answer| (answer.clone(), is_text)),
            );
            by_question.push((first..each.len()).collect());
        }
        Self { each, by_question }
    }

    fn question_of(&self, at: usize) -> usize {
        let of = self.by_question.iter();
        of.take_while(|all| all.last().is_some_and(|last| *last < at))
            .count()
    }

    fn some<'a>(&'a self, kept: &'a BTreeSet<usize>) -> impl Iterator<Item = &'a Answer> {
        kept.iter().filter_map(|at| Some(&self.each.get(*at)?.0))
    }
}

/// What is left while answers are left out.
struct Left<'l, 't, 'r> {
    tries: &'l mut Tries<'t, 'r>,
    all: &'l Answers,
    kept: BTreeSet<usize>,
    verdict: Verdict,
}

impl Left<'_, '_, '_> {
    /// Leaves some out if the rest is enough, and says whether it is. None where no more checks may be
    /// made.
    fn without(&mut self, some: &[usize]) -> Option<bool> {
        if some.is_empty() {
            return Some(true);
        }
        if !self.tries.has_left(1) {
            return None;
        }
        let rest: BTreeSet<usize> = self
            .kept
            .iter()
            .copied()
            .filter(|at| !some.contains(at))
            .collect();
        let lifted = self.tries.lifted(self.all.some(&rest));
        if let Some(verdict) = lifted {
            (self.kept, self.verdict) = (rest, verdict);
        }
        Some(lifted.is_some())
    }
}

/// Whether it is shown that fewer than a few answers are not enough, with any value that can be tried.
fn fewer_are_too_few(
    count: usize,
    (all, questions): (&Answers, &[Answered]),
    waiting: &Waiting,
    tries: &mut Tries<'_, '_>,
) -> bool {
    if count > SMALL {
        return false;
    }
    let fewer = smaller_sets(all.each.len(), count);
    let fewer = fewer.into_iter().filter(|set| waiting.are_met_by(set));
    let tried: Vec<Vec<Answer>> = fewer
        .flat_map(|set| with_all_values(&set, all, questions))
        .collect();
    tries.has_left(tried.len()) && tried.iter().all(|answers| tries.lifted(answers).is_none())
}

/// All sets of fewer than so many.
fn smaller_sets(of: usize, count: usize) -> Vec<BTreeSet<usize>> {
    let mut all = vec![BTreeSet::new()];
    for _ in 1..count {
        let larger = all.iter().flat_map(|set: &BTreeSet<usize>| {
            let from = set.last().map_or(0, |last| last + 1);
            (from..of).map(|at| set.iter().copied().chain([at]).collect())
        });
        let larger: Vec<BTreeSet<usize>> = larger.collect();
        all.extend(
            larger
                .into_iter()
                .filter(|set: &BTreeSet<usize>| !set.is_empty()),
        );
        all.sort();
        all.dedup();
    }
    all.retain(|set| !set.is_empty());
    all
}

/// A set of answers with every value that each can have.
fn with_all_values(
    set: &BTreeSet<usize>,
    all: &Answers,
    questions: &[Answered],
) -> Vec<Vec<Answer>> {
    let mut ways: Vec<Vec<Answer>> = vec![Vec::new()];
    for at in set {
        let place = all.each.get(*at).map(|(answer, _)| &answer.place);
        let values = questions
            .get(all.question_of(*at))
            .map(|one| &one.asked.values);
        let (Some(place), Some(values)) = (place, values) else {
            continue;
        };
        let more = ways.iter().flat_map(|way| {
            values.iter().map(move |value| {
                let (place, value) = (place.clone(), value.clone());
                way.iter()
                    .cloned()
                    .chain([Answer { place, value }])
                    .collect()
            })
        });
        ways = more.collect();
    }
    ways
}
