//! Laws 5 and 6 by stage: a stage comes to what its own cautions come to, with the findings of those
//! of every stage; asked for or not, it comes to the same; and a check of some stages gives no verdict
//! on the whole.

use proptest::test_runner::TestCaseError;
use rules_core::check::{Finding, Outcome, Report};
use rules_tests::law::law;

use crate::generate::choices::{Choices, three};
use crate::generate::document::{Doc, Style};
use crate::generate::ruleset::{Caution, STAGES};
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{checked, checked_for, rules};

/// The report of a ruleset of some of the cautions alone.
fn of_some(
    scene: &Scene,
    counts: impl Fn(&Caution) -> bool,
    proposal: &str,
) -> Result<Report, TestCaseError> {
    let cautions = scene.ruleset.cautions.iter().filter(|one| counts(one));
    let mut alone = scene.ruleset.doc();
    alone.set(
        &["cautions"],
        Doc::List(cautions.map(Caution::doc).collect()),
    );
    checked(&rules(&alone.write(Style::Yaml))?, proposal, None)
}

/// The gravest of two outcomes of which neither is that nothing was checked.
fn both(one: Outcome, other: Outcome) -> Outcome {
    Outcome {
        verdict: one.verdict.max(other.verdict),
        best: one.best.max(other.best),
        worst: one.worst.max(other.worst),
        nothing_checked: false,
    }
}

/// What a stage must come to, by the reports of a ruleset of its own cautions and of one of those of
/// every stage.
fn together(own: &Report, of_every: &Report) -> Outcome {
    let (outcome, every) = (own.gravest(), of_every.gravest());
    match (outcome.nothing_checked, of_every.findings.is_empty()) {
        (_, true) => outcome,
        (true, false) => every,
        (false, false) => both(outcome, every),
    }
}

#[test]
fn a_stage_comes_to_what_its_cautions_come_to_alone() {
    law(
        "a stage comes to what its cautions come to alone",
        200,
        three(),
        |[rules_words, proposal, _], seen| {
            let scene = Scene::grow(&rules_words, &proposal, Plan::ANY)?;
            let proposal = scene.draft.doc().write(Style::Yaml);
            let of_every = of_some(&scene, |caution| caution.stage.is_none(), &proposal)?;
            let report = scene.report(&scene.draft, None)?;
            for (stage, came) in STAGES.iter().zip(&report.stages) {
                let own = of_some(&scene, |caution| caution.stage == Some(*stage), &proposal)?;
                seen.count(own.findings.len() + own.counts.applied);
                let wanted = together(&own, &of_every);
                if (&*came.stage, came.outcome()) != (*stage, wanted) {
                    let said = format!("{stage} is to come to {wanted:?}, and comes to {came:?}");
                    return Err(scene.broken(said, &scene.draft, ""));
                }
            }
            Ok(())
        },
    );
}

/// What a check of some stages must say, by that of all.
fn agrees(whole: &Report, some: &Report, asked: &[&str]) -> Result<(), String> {
    let in_order: Vec<&str> = STAGES.into_iter().filter(|id| asked.contains(id)).collect();
    if some.outcome.is_some() || !some.asked().eq(in_order) {
        return Err("it does not say what was asked for".to_owned());
    }
    let is_asked = |stage: Option<&str>| stage.is_none_or(|stage| asked.contains(&stage));
    let stages = whole.stages.iter().filter(|one| is_asked(Some(&one.stage)));
    if !stages.eq(&some.stages) {
        return Err(format!("stages: {:?}, {:?}", whole.stages, some.stages));
    }
    let wanted = |finding: &&Finding| is_asked(finding.stage.as_deref());
    if !whole.findings.iter().filter(wanted).eq(&some.findings) {
        return Err("its findings are others".to_owned());
    }
    let checked = some.stages.iter().filter(|stage| !stage.nothing_checked);
    let graver = |one: &Outcome| {
        let all = whole.gravest();
        one.verdict > all.verdict || one.worst > all.worst || one.best > all.best
    };
    match checked.map(|stage| stage.outcome()).find(graver) {
        Some(stage) => Err(format!("{stage:?} is graver than {:?}", whole.outcome)),
        None => Ok(()),
    }
}

#[test]
fn a_stage_comes_to_the_same_whatever_else_is_asked_for() {
    law(
        "a stage comes to the same whatever else is asked for",
        200,
        three(),
        |[rules_words, proposal, asked], seen| {
            let scene = Scene::grow(&rules_words, &proposal, Plan::ANY)?;
            let proposal = scene.draft.doc().write(Style::Yaml);
            let mut choices = Choices::of(&asked);
            // In any order, and some twice.
            let asked: Vec<&str> = (0..1 + choices.below(4))
                .map(|_| *choices.pick(&STAGES))
                .collect();
            let whole = scene.report(&scene.draft, None)?;
            let some = checked_for(&scene.rules, &proposal, None, &asked)?;
            seen.count(some.findings.len());
            agrees(&whole, &some, &asked)
                .map_err(|why| scene.broken(format!("{asked:?}: {why}"), &scene.draft, ""))
        },
    );
}
