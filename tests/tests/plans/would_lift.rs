//! Which answers lift a verdict, tried: written into the plan they lift it, and without any one of them
//! they do not.

use std::collections::BTreeSet;

use rules_core::check::{Options, TriedAnswer, Verdict};
use rules_core::report::{Answers, questions};
use rulesets::jobs::{Trial, would_lift};
use rulesets::{Draft, Report};

use super::{Judged, Level, RULES, Set, judged, read};

fn all() -> impl Iterator<Item = &'static Judged> {
    Set::ALL.into_iter().flat_map(judged)
}

fn trial(one: &Judged) -> Trial<'static> {
    Trial::of(&read(&one.plan, one.level), &RULES, Options::default()).expect("a plan")
}

/// The verdict of a plan with answers; none where they contradict each other.
fn verdict<'a>(
    trial: &Trial<'_>,
    answers: impl IntoIterator<Item = &'a TriedAnswer>,
) -> Option<Verdict> {
    let answered = trial.with(|draft: &mut Draft| {
        let mut all = answers.into_iter();
        all.try_for_each(|answer| draft.set(&answer.place, answer.tried.as_str()))
    });
    let brief = answered.and_then(|answered| answered.brief());
    brief.ok().map(|brief| brief.gravest().verdict)
}

#[test]
fn what_is_told_lifts_the_verdict_and_nothing_of_it_can_be_left_out() {
    let (mut told, mut before, mut after, mut fewest) = (0, 0, 0, 0);
    for one in all() {
        let Some(found) = &one.report.would_lift else {
            continue;
        };
        let (name, now) = ((&one.plan.name, one.level), one.report.gravest().verdict);
        let trial = trial(one);
        assert_eq!(
            verdict(&trial, &found.answers),
            Some(found.verdict),
            "{name:?}"
        );
        assert!(found.verdict < now, "{name:?}");
        for out in &found.answers {
            let others = found.answers.iter().filter(|answer| *answer != out);
            assert_eq!(
                verdict(&trial, others),
                Some(now),
                "{name:?}: {}",
                out.place
            );
        }
        let asked = questions(&one.report);
        let deciding = asked.iter().take_while(|question| question.decides);
        let places: Vec<String> = deciding
            .clone()
            .flat_map(|question| question.paths())
            .collect();
        assert_eq!(
            places.len(),
            found.answers.len(),
            "{name:?}: they come first"
        );
        after += deciding.count();
        before += asked
            .iter()
            .filter(|question| question.holds_the_verdict)
            .count();
        fewest += usize::from(found.fewest);
        told += 1;
    }
    let checks = all().filter_map(|one| Some(one.report.would_lift.as_ref()?.checks));
    println!("{} checks at the most", checks.max().unwrap_or(0));
    println!("{told} plans: {before} questions hold a verdict, {after} decide it; {fewest} proved");
    assert!(told > 40 && 4 * after < 3 * before, "{told}");
}

/// Where nothing but answers holds the verdict of a plan that an expert passes, answers are told that
/// lift it, in all but one. (Of others it may be that no answers fit together: a light for 1.5 V.)
#[test]
fn what_an_expert_passes_has_answers_that_lift_it() {
    let (mut seen, mut without) = (0, Vec::new());
    for one in all().filter(|one| one.plan.verdict == Verdict::Pass) {
        let now = one.report.gravest();
        let holding = one.report.findings.iter();
        let mut holding = holding.filter(|finding| finding.verdict == now.verdict);
        let waits = holding.all(|one| one.best < now.verdict && !one.missing.is_empty());
        if now.best < now.verdict && waits {
            seen += 1;
            if one.report.would_lift.is_none() {
                without.push((&one.plan.name, one.level));
            }
        }
    }
    println!("{seen} plans, without: {without:?}");
    assert!(without.len() <= 1 && seen > 20, "{without:?} of {seen}");
}

/// What can be written at each place that holds a verdict: what is told, every word, and what the plan
/// says with the instruments of a laboratory.
fn values(one: &Judged, found: &[TriedAnswer]) -> Vec<Vec<TriedAnswer>> {
    let full = read(&one.plan, Level::Laboratory).draft().expect("a plan");
    let mut all = Vec::new();
    let asked = questions(&one.report);
    for question in asked.iter().filter(|question| question.holds_the_verdict) {
        let words = match &question.answers {
            Answers::OneOf(words) => words.to_vec(),
            Answers::InOneWord(word) => word.words.clone(),
            _ => Vec::new(),
        };
        for place in question.paths() {
            let told = found.iter().filter(|answer| answer.place == place);
            let told = told.map(|answer| answer.tried.clone());
            let known = at(full.value(), &place);
            let tried: BTreeSet<String> = words.iter().cloned().chain(told).chain(known).collect();
            let answer = |tried| TriedAnswer {
                place: place.clone(),
                tried,
            };
            all.push(tried.into_iter().map(answer).collect());
        }
    }
    all
}

fn at(value: &serde_json::Value, place: &str) -> Option<String> {
    let mut at = value;
    for key in place.split('.') {
        at = match key.split_once('[') {
            None => at.get(key)?,
            Some((list, id)) => {
                let mut entries = at.get(list)?.as_array()?.iter();
                let is_named = |entry: &&serde_json::Value| entry["id"] == id.trim_end_matches(']');
                entries.find(is_named)?
            }
        };
    }
    at.as_str().map(str::to_owned)
}

/// Where fewer are said never to be enough, no smaller set is: all of them where they are few, else
/// some that were picked.
#[test]
fn where_it_is_said_fewer_are_not_enough() {
    const PICKED: usize = 40;
    let mut tried = 0;
    for one in all() {
        let Some(found) = one.report.would_lift.as_ref().filter(|found| found.fewest) else {
            continue;
        };
        let (trial, now) = (trial(one), one.report.gravest().verdict);
        let values = values(one, &found.answers);
        let fewer = found.answers.len() - 1;
        for round in 0..PICKED {
            // Steps that share no factor with a prime go through all places in another order each.
            let pick = |at: usize| (at * (2 * round + 1) + round * 7) % 101;
            let mut places: Vec<usize> = (0..values.len()).collect();
            places.sort_by_key(|at| (pick(*at), *at));
            let some = places.iter().take(fewer).filter_map(|at| {
                let values = &values[*at];
                values.get((round / 2) % values.len().max(1))
            });
            let came = verdict(&trial, some);
            assert!(came.is_none_or(|came| came >= now), "{}", one.plan.name);
            tried += 1;
        }
    }
    println!("{tried} smaller sets");
    assert!(tried >= PICKED, "{tried}");
}

/// The same bytes give the same answers, and what is told is not asked again once it is answered.
#[test]
fn the_same_plan_gives_the_same_answers_and_they_are_not_asked_again() {
    for one in all().step_by(11) {
        let trial = trial(one);
        assert_eq!(would_lift(&trial, &one.report), one.report.would_lift);
        let Some(found) = &one.report.would_lift else {
            continue;
        };
        let answered = trial.with(|draft| {
            let mut all = found.answers.iter();
            all.try_for_each(|answer| draft.set(&answer.place, answer.tried.as_str()))
        });
        let report: Report = answered.and_then(|trial| trial.report()).expect("a check");
        let asked: Vec<String> = questions(&report)
            .iter()
            .flat_map(|one| one.paths())
            .collect();
        assert!(
            found
                .answers
                .iter()
                .all(|answer| !asked.contains(&answer.place))
        );
    }
}
