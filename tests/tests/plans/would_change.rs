//! What would change a refusal, tried: with the values that are told, each plan comes to what is told.

use rules_core::check::{Change, Options, Turn, Verdict};
use rulesets::jobs::Trial;

use super::{Judged, RULES, Set, judged, read};

fn all() -> impl Iterator<Item = &'static Judged> {
    Set::ALL.into_iter().flat_map(judged)
}

/// The plan with the changes, each to the first value that it may have.
fn changed(one: &Judged, changes: &[Change]) -> Trial<'static> {
    let trial = Trial::of(&read(&one.plan, one.level), &RULES, Options::default());
    let set = |draft: &mut rulesets::Draft| {
        let mut each = changes.iter();
        each.try_for_each(|change| draft.set(&change.place, change.to[0].as_str()))
    };
    trial.and_then(|trial| trial.with(set)).expect("a plan")
}

fn assert_tried(one: &Judged, turn: &Turn) {
    let brief = changed(one, &turn.changes).brief().expect("a check");
    let came = brief.gravest();
    let name = (&one.plan.name, one.level);
    assert_eq!(
        (came.verdict, came.best),
        (turn.verdict, turn.best),
        "{name:?}"
    );
    let now = one.report.gravest();
    assert!(
        (came.best, came.verdict) < (now.best, now.verdict),
        "{name:?}"
    );
}

#[test]
fn what_is_told_comes_to_what_is_told() {
    let (mut alone, mut together) = (0, 0);
    for one in all() {
        let Some(found) = &one.report.would_change else {
            continue;
        };
        found.alone.iter().for_each(|turn| assert_tried(one, turn));
        alone += found.alone.len();
        let Some(few) = &found.together else { continue };
        assert!(found.alone.is_empty());
        assert_tried(one, &few.turn);
        // None of them can be left out.
        for out in &few.turn.changes {
            let others = few.turn.changes.iter().filter(|change| *change != out);
            let others: Vec<Change> = others.cloned().collect();
            let came = changed(one, &others).brief().expect("a check").gravest();
            let now = one.report.gravest();
            assert!((came.best, came.verdict) >= (now.best, now.verdict));
        }
        together += 1;
    }
    println!("{alone} changes enough by themselves, {together} sets of several");
    assert!(alone > 10, "{alone}");
}

/// A plan that is refused whatever is answered is told what would help, or that nothing here does.
#[test]
fn every_sure_refusal_has_an_answer() {
    let mut seen = 0;
    for one in all().filter(|one| one.report.gravest().best == Verdict::Refuse) {
        let found = one.report.would_change.as_ref().expect("an answer");
        let helps = !found.alone.is_empty() || found.together.is_some();
        let stands = !found.stands.is_empty() || found.only_others.is_some();
        assert!(helps || stands || found.checks > 1, "{}", one.plan.name);
        seen += 1;
    }
    assert!(seen > 30, "{seen}");
}
